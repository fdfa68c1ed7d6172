"""Taking a window schedule into a job: its first file, and every revision after it."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, NotRequired, TypedDict, Unpack

from django.db.models import QuerySet

from jobs import transaction
from jobs.about import about
from jobs.calc.say import counted, plural
from jobs.errors import Conflict, Fault, NotFound
from jobs.models import Job, Person
from jobs.services import add
from openings.calc.binding import Answer, rescheduling, say_columns
from openings.calc.starting_details import STARTING_DETAILS
from openings.errors import BadChoice, RowsLeak, WrongRows
from openings.models import InstallationDetail, Opening, SenderLayout, WindowSchedule
from openings.plans.choice import EVERYTHING, Choice
from openings.plans.plan_schedule import (
    PlannedOpening,
    Say,
    SchedulePlan,
    plan_schedule,
    read_for_job,
    say_nothing,
)
from openings.queries.existing import ExistingOpening
from openings.schedules import FOR_A_WORKER, Budget, Change, DifferenceLine, Layout, layout_of, packed, packed_rows
from openings.services.detail import add_detail
from openings.services.follow import follow_rules_of_job
from openings.services.hold import hold_all
from openings.services.write_schedule import change_openings, copy_openings, move_openings, places

LONGEST_NAME = 200
"""Letters of a file's name that are kept, counted from its ending."""


class ScheduleFile(TypedDict):
    """A schedule file as it is sent: what `preview_schedule` and `take_schedule` both take of it."""

    job_id: int
    filename: str
    content: bytes
    detail: NotRequired[str]
    mapping: NotRequired[Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """A schedule that was taken, and what it did."""

    schedule: WindowSchedule
    counts: Mapping[str, int]


def preview_schedule(
    *,
    job_id: int,
    filename: str,
    content: bytes,
    detail: str = "",
    mapping: Any = None,
    with_faults: bool = False,
    budget: Budget = FOR_A_WORKER,
    say: Say = say_nothing,
) -> SchedulePlan:
    """Return what `take_schedule` would do, and write nothing. What must be asked stands in `plan.read.questions`.

    Args:
        with_faults: whether wrong rows are only named in the plan.
        budget: what reading the file may take.

    Raises:
        NotFound, Conflict, BadSchedule, ReadersBusy: as `take_schedule`, but for questions.
    """
    job = _job(Job.objects.all(), job_id)
    say("reading the file", 5)
    read = read_for_job(job_id, filename=filename, content=content, mapping=mapping, budget=budget)
    details = InstallationDetail.objects.all()
    confirmed = layout_of(mapping).weights
    plan = plan_schedule(job, details, read, sha256=_digest(content), detail=detail, confirmed=confirmed, say=say)
    _refuse_known(job, plan)
    if plan.faults and not plan.read.questions and not with_faults:
        raise _wrong(plan)
    return plan


@transaction.atomic
def take_schedule(
    *,
    job_id: int,
    filename: str,
    content: bytes,
    by: Person | None,
    detail: str = "",
    mapping: Any = None,
    choice: Choice = EVERYTHING,
    budget: Budget = FOR_A_WORKER,
) -> Taken:
    """Take a schedule file into a job as its next revision: all that was chosen and can be done, or nothing.

    Added openings are written, changed ones get what the file says, and those that it no longer has are marked
    void. One that is bound is left as it is or gets a hold, as `openings.calc.binding` has it, and the revision says
    so. The file itself, its rows and its difference are kept, and so is the layout where something was settled about
    it. Issued pull sheets follow by themselves: whoever keeps them looks every minute for what has changed.

    Args:
        detail: name of the installation detail for rows that name none; the job's default where empty.
        by: who takes it, and who confirms the weights that the mapping confirms; nobody confirms them for None.
        mapping: what is settled about tables and columns, as `layout_of` takes it.
        budget: what reading the file may take.

    Raises:
        NotFound, ReadersBusy: there is no such job; too many files are being read.
        Conflict: the newest revision is this very file and nothing of it is left to do, or the difference is
            not the one that was seen.
        DetailLeaks: all that is wrong is that rows would get details which let water in, and nobody has accepted that.
        BadSchedule: the file, its mapping or some of its rows cannot be taken, or something must be settled
            first; `faults` lists every one.
        BadChoice: the choice names a mark that is not in the difference.
    """
    _job(Job.objects.all(), job_id)
    # Read first: a model takes seconds, and nobody shall wait for the locks meanwhile.
    read = read_for_job(job_id, filename=filename, content=content, mapping=mapping, budget=budget)
    job = _job(Job.objects.select_for_update(no_key=True), job_id)
    details = InstallationDetail.objects.select_for_update(no_key=True)
    list(Opening.objects.select_for_update(of=("self",), no_key=True).filter(job=job).order_by("pk").values_list("pk"))
    settled = layout_of(mapping)
    confirmed = settled.weights if by else ()
    plan = plan_schedule(job, details, read, sha256=_digest(content), detail=detail, confirmed=confirmed)
    _refuse_known(job, plan)
    _refuse_unsettled(plan)
    if plan.faults:
        raise _wrong(plan)
    _refuse_choice(plan, choice)
    added = [one for one in plan.openings if not choice.left_out(Change.ADDED, one.mark, of=one.row.mark)]
    lines = [_decided(line, choice) for line in plan.lines]
    done = [line for line in lines if not line.hindrance]
    for name in _new_details(plan, added, done):
        add_detail(job=job, name=name, starting_point=name)
    schedule = _add_schedule(job, plan, lines, added=added, filename=filename, content=content, by=by)
    at, moved = places(plan, added)
    ids = dict(InstallationDetail.objects.filter(job=job).values_list("name", "pk"))
    confirmers = dict.fromkeys(plan.confirmed, by.pk if by else None)
    copy_openings(schedule, added, at, details=ids, confirmers=confirmers)
    change_openings(schedule, done, plan.existing, details=ids, confirmers=confirmers)
    move_openings(moved)
    if replace(settled, weights=(), totals=None) != Layout():
        _remember(job, plan, by)
    _hold(schedule, done, plan.existing)
    follow_rules_of_job(job.pk)
    return Taken(schedule=schedule, counts=schedule.counts)


def import_schedule(*, by: Person | None, choice: Choice = EVERYTHING, **file: Unpack[ScheduleFile]) -> WindowSchedule:
    """Return the schedule that `take_schedule` took."""
    return take_schedule(**file, choice=choice, by=by).schedule


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def _job(jobs: QuerySet[Job], job_id: int) -> Job:
    job = jobs.filter(pk=job_id).first()
    if job is None:
        raise NotFound(f"there is no job {job_id}")
    return job


def _refuse_known(job: Job, plan: SchedulePlan) -> None:
    newest = WindowSchedule.objects.filter(job=job).defer("content", "rows", "difference").first()
    if newest and newest.sha256 == plan.sha256 and plan.changes_nothing and not plan.faults:
        raise Conflict(f"{job.code} already has this very file: {newest}", about=[about(newest)])


def _wrong(plan: SchedulePlan) -> WrongRows | RowsLeak:
    rows = len({fault.row for fault in plan.faults} - {None})
    more = "More than " if any(fault.row is None for fault in plan.faults) else ""
    if {fault for fault in plan.faults if fault.row is not None} <= set(plan.leaking):
        why = next(iter(dict.fromkeys(fault.detail for fault in plan.leaking)))
        return RowsLeak(f"{why}; nothing was saved", plan=plan, faults=plan.faults)
    summary = f"{more}{counted(rows, 'row')} {plural('is', rows)} wrong; nothing was saved"
    return WrongRows(
        f"{summary}. Correct {plural('it', rows)} and upload the file again", plan=plan, faults=plan.faults
    )


def _refuse_unsettled(plan: SchedulePlan) -> None:
    faults = [
        Fault(field=one.field, value=one.heading, detail=f"{one.detail} Answers: {', '.join(one.choices)}.")
        for one in plan.read.questions
    ]
    if faults:
        needed = f"{counted(len(faults), 'question')} {'needs' if len(faults) == 1 else 'need'} an answer"
        sentence = f"{needed}; nothing was saved. Upload the file again with a mapping that answers"
        raise WrongRows(sentence, plan=plan, faults=faults)


def _refuse_choice(plan: SchedulePlan, choice: Choice) -> None:
    if choice.seen and choice.seen != plan.fingerprint:
        raise Conflict("the job or the file has changed since these changes were checked; check them again")
    known = {one.mark for one in plan.openings} | {line.mark for line in plan.lines} | set(plan.unchanged)
    known |= {row.mark for row in plan.read.rows} | {line.schedule_mark for line in plan.lines}
    if unknown := sorted(choice.leave - known):
        sentence = "no opening of the file or the job has that mark"
        faults = [Fault(field="leave", value=mark, detail=sentence) for mark in unknown]
        raise BadChoice(f"{', '.join(unknown[:5])}: {sentence}", faults=faults)


def _decided(line: DifferenceLine, choice: Choice) -> DifferenceLine:
    left = choice.left_out(line.change, line.mark, of=line.schedule_mark)
    return replace(line, hindrance=line.hindrance or left) if left else line


def _new_details(plan: SchedulePlan, added: Sequence[PlannedOpening], done: Sequence[DifferenceLine]) -> list[str]:
    """Return the starting details that the job takes a copy of, in the order in which the file names them."""
    used = {one.detail for one in added} | {str(line.new["detail"]) for line in done if "detail" in line.new}
    return [name for name in plan.new_details if name in used and name in STARTING_DETAILS]


def _add_schedule(
    job: Job,
    plan: SchedulePlan,
    lines: Sequence[DifferenceLine],
    *,
    added: Sequence[PlannedOpening],
    filename: str,
    content: bytes,
    by: Person | None,
) -> WindowSchedule:
    left_out = [one.mark for one in plan.openings] if len(added) < len(plan.openings) else []
    left = sorted(set(left_out) - {one.mark for one in added})
    counts = dict.fromkeys([*Change], 0) | {"added": len(added), "unchanged": len(plan.unchanged)}
    for line in lines:
        if not line.hindrance:
            counts[line.change] += 1
    counts["left"] = len(left) + sum(1 for line in lines if line.hindrance)
    last = WindowSchedule.objects.filter(job=job).order_by("-revision").values_list("revision", flat=True).first()
    return add(
        WindowSchedule(
            job=job,
            revision=(last or 0) + 1,
            filename=filename[-LONGEST_NAME:],
            content=content,
            sha256=plan.sha256,
            columns=plan.columns,
            layout=plan.read.layout.as_json(),
            notes=list(plan.notes),
            rows=packed_rows(plan.read.rows),
            difference=packed(
                {"added": [one.mark for one in added], "lines": lines, "left": left, "by_hand": plan.by_hand}
            ),
            counts={str(change): count for change, count in counts.items()},
            uploaded_by=by,
        )
    )


def _remember(job: Job, plan: SchedulePlan, by: Person | None) -> None:
    """Keep what was settled for the next file that is laid out alike."""
    if plan.read.fingerprint:
        SenderLayout.objects.update_or_create(
            job=job,
            fingerprint=plan.read.fingerprint,
            defaults={"layout": replace(plan.read.layout, totals=None).as_json(), "settled_by": by},
        )


def _hold(schedule: WindowSchedule, done: Collection[DifferenceLine], existing: Mapping[int, ExistingOpening]) -> None:
    """Hold the changed openings that somebody has to look at before a crew goes."""
    hold_all(
        {
            line.opening_id: f"revision {schedule.revision} of the schedule changed {say_columns(line.new)[:160]}; "
            "check what it asks for, then release this hold"
            for line in done
            if line.opening_id is not None and _is_held(line, existing[line.opening_id])
        }
    )


def _is_held(line: DifferenceLine, one: ExistingOpening) -> bool:
    return line.change is not Change.REMOVED and one.decide(rescheduling(line.new)).answer is Answer.HOLD
