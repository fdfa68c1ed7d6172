"""Taking a window schedule into a job."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from django.db import connection, transaction
from django.db.models import QuerySet

from jobs.errors import Conflict, Fault, NotFound
from jobs.models import Job, Person
from jobs.services import add
from openings.calc.facts import DetailFacts, OpeningFacts, require_fit
from openings.calc.labor_rates import Access
from openings.calc.sides import sides_of
from openings.calc.starting_details import STARTING_DETAILS, folded, starting_detail
from openings.errors import BadDetail, BadLength, BadSchedule
from openings.models import InstallationDetail, Opening, WindowSchedule
from openings.schedules import ScheduleRead, ScheduleRow, read_schedule
from openings.services.detail import add_detail

MOST_OPENINGS = 50_000
"""How many openings one file may make (our choice: no building has more windows)."""

LONGEST_NAME = 200
"""Letters of a file's name that are kept, counted from its ending."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedOpening:
    """One opening that a schedule row makes; the detail by name, sizes in inches."""

    mark: str
    row: ScheduleRow
    facts: OpeningFacts
    detail: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SchedulePlan:
    """What taking the file would do: nothing but this is done when it is taken."""

    sha256: str
    openings: tuple[PlannedOpening, ...]
    new_details: tuple[str, ...]
    columns: dict[str, str]
    notes: tuple[str, ...]


def preview_schedule(*, job_id: int, filename: str, content: bytes, detail: str = "") -> SchedulePlan:
    """Return what `import_schedule` would do, and write nothing.

    Raises:
        NotFound, Conflict, BadSchedule: as `import_schedule`.
    """
    job = _job(Job.objects, job_id)
    return _plan(job, InstallationDetail.objects.all(), filename=filename, content=content, detail=detail)


@transaction.atomic
def import_schedule(
    *, job_id: int, filename: str, content: bytes, by: Person | None, detail: str = ""
) -> WindowSchedule:
    """Take a schedule file into a job: every row or none. The file itself is kept.

    Args:
        detail: name of the installation detail for rows that name none; the job's default where empty.

    Raises:
        NotFound: there is no such job.
        Conflict: the job has this very file already.
        BadSchedule: the file or some of its rows cannot be taken; `faults` lists every one.
    """
    job = _job(Job.objects.select_for_update(no_key=True), job_id)
    details = InstallationDetail.objects.select_for_update(no_key=True)
    plan = _plan(job, details, filename=filename, content=content, detail=detail)
    for name in plan.new_details:
        add_detail(job=job, name=name, starting_point=name)
    schedule = add(
        WindowSchedule,
        job=job,
        revision=WindowSchedule.objects.filter(job=job).count() + 1,
        filename=filename[-LONGEST_NAME:],
        content=content,
        sha256=plan.sha256,
        columns=plan.columns,
        notes=list(plan.notes),
        uploaded_by=by,
    )
    _copy_openings(schedule, plan.openings)
    return schedule


def _job(jobs, job_id: int) -> Job:
    job = jobs.filter(pk=job_id).first()
    if job is None:
        raise NotFound(f"there is no job {job_id}")
    return job


def _plan(
    job: Job, own_details: QuerySet[InstallationDetail], *, filename: str, content: bytes, detail: str
) -> SchedulePlan:
    digest = hashlib.sha256(content).hexdigest()
    same = WindowSchedule.objects.filter(job=job, sha256=digest).first()
    if same:
        raise Conflict(f"{job.code} has this very file already: {same}")
    read = read_schedule(filename=filename, content=content)
    count = sum(row.quantity for row in read.rows)
    if count > MOST_OPENINGS:
        raise BadSchedule(f"the file makes {count} openings; at most {MOST_OPENINGS} fit in one file")
    details = _Details(job, own_details.filter(job=job), default=detail)
    faults = list(read.faults)
    planned: list[PlannedOpening] = []
    for row in read.rows:
        try:
            planned.extend(_openings_of(row, details, read))
        except BadSchedule as error:
            faults.extend(error.faults)
    faults.extend(_marks_taken(job, planned))
    if faults:
        raise BadSchedule(_summary(faults), faults=sorted(faults, key=lambda fault: (fault.row or 0, fault.field)))
    return SchedulePlan(
        sha256=digest,
        openings=tuple(planned),
        new_details=tuple(details.taken),
        columns={meaning: f"{column.heading} (column {column.letter})" for meaning, column in read.columns.items()},
        notes=read.notes,
    )


def _summary(faults: Sequence[Fault]) -> str:
    rows = len({fault.row for fault in faults})
    return f"{rows} row{'s are' if rows != 1 else ' is'} wrong; nothing was written. Mend them and send the file again"


def _openings_of(row: ScheduleRow, details: _Details, read: ScheduleRead) -> Iterator[PlannedOpening]:
    name, facts = details.find(row, read)
    try:
        opening = _facts(row, facts)
        require_fit(opening, facts)
    except BadDetail as error:
        sentence = f"{error.detail}; give this row another detail, or change {name}"
        raise BadSchedule(sentence, faults=[Fault(field="detail", row=row.row, value=name, detail=sentence)]) from error
    except BadLength as error:
        size = f"{row.unit_width_in or row.ro_width_in} × {row.unit_height_in or row.ro_height_in} in"
        raise BadSchedule(
            error.detail, faults=[Fault(field="size", row=row.row, value=size, detail=error.detail)]
        ) from error
    places = max(2, len(str(row.quantity)))
    for number in range(1, row.quantity + 1):
        mark = f"{row.mark}-{number:0{places}}" if row.quantity > 1 else row.mark
        yield PlannedOpening(mark=mark, row=row, facts=opening, detail=name)


def _facts(row: ScheduleRow, detail: DetailFacts) -> OpeningFacts:
    sides = sides_of(
        ro_width_in=row.ro_width_in,
        ro_height_in=row.ro_height_in,
        unit_width_in=row.unit_width_in,
        unit_height_in=row.unit_height_in,
        detail=detail,
    )
    return OpeningFacts(**sides, operation=row.operation, weight_lb=row.weight_lb)


class _Details:
    """Finds the detail that a row means: the job's own by name, then a starting point, which is noted as taken."""

    def __init__(self, job: Job, details: Iterable[InstallationDetail], *, default: str) -> None:
        own = list(details)
        self._job = job
        self._known = {folded(d.name): (d.name, d.as_facts()) for d in own}
        self._default = default or next((d.name for d in own if d.is_default or len(own) == 1), "")
        self.taken: list[str] = []

    def find(self, row: ScheduleRow, read: ScheduleRead) -> tuple[str, DetailFacts]:
        wanted = row.detail or self._default
        found = self._known.get(folded(wanted))
        if found is None:
            found = starting_detail(wanted)
            if found is None:
                raise BadSchedule("unknown detail", faults=[self._fault(wanted, row, read)])
            self._known[folded(wanted)] = found
            self.taken.append(found[0])
        return found

    def _fault(self, wanted: str, row: ScheduleRow, read: ScheduleRead) -> Fault:
        known = sorted({name for name, _ in self._known.values()} | set(STARTING_DETAILS))
        problem = "no such installation detail" if wanted else "no installation detail is named or set as default"
        column = read.columns.get("detail")
        return Fault(
            field=column.heading if column else "detail",
            row=row.row,
            value=wanted,
            detail=f"{problem}; {self._job.code} can use: {'; '.join(known)}",
        )


def _marks_taken(job: Job, planned: Sequence[PlannedOpening]) -> list[Fault]:
    """Return a fault for each row with a mark that stands in the job already or twice in the file."""
    seen = dict.fromkeys(Opening.objects.filter(job=job).values_list("mark", flat=True), f"is in {job.code} already")
    faults: dict[int, Fault] = {}
    for opening in planned:
        row = opening.row
        if opening.mark in seen and row.row not in faults:
            problem = f"mark {opening.mark} {seen[opening.mark]}; every opening needs a mark of its own"
            faults[row.row] = Fault(field="mark", row=row.row, value=row.mark, detail=problem)
        seen[opening.mark] = f"is made by row {row.row} already"
    return list(faults.values())


_COLUMNS = (
    "job_id", "schedule_id", "schedule_row", "mark", "schedule_mark", "position", "operation", "floor",
    "detail_id", "remarks", "is_void", "ro_width_in", "ro_height_in", "unit_width_in", "unit_height_in", "weight_lb",
    "frame_material", "lites_in", "access", "storeys_up",
)  # fmt: skip


def _copy_openings(schedule: WindowSchedule, planned: Sequence[PlannedOpening]) -> None:
    """Write the openings by COPY: a schedule may have tens of thousands."""
    details = dict(InstallationDetail.objects.filter(job=schedule.job_id).values_list("name", "pk"))
    last = Opening.objects.filter(job=schedule.job_id).order_by("-position").values_list("position", flat=True).first()
    with (
        connection.wrap_database_errors,
        connection.cursor() as cursor,
        cursor.copy(f"COPY {Opening._meta.db_table} ({', '.join(_COLUMNS)}) FROM STDIN") as copy,
    ):
        for position, opening in enumerate(planned, start=(last or 0) + 1):
            row, facts = opening.row, opening.facts
            copy.write_row(
                (
                    schedule.job_id, schedule.pk, row.row, opening.mark, row.mark, position, row.operation, row.floor,
                    details[opening.detail], row.remarks, False, facts.ro_width_in, facts.ro_height_in,
                    facts.unit_width_in, facts.unit_height_in, facts.weight_lb, "", [], Access.CLEAR.value, 0,
                )
            )  # fmt: skip
