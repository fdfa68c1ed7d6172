"""A schedule file between sending and taking: read, settled, read again, and then taken or discarded."""

from __future__ import annotations

import hashlib
from collections.abc import Collection
from datetime import datetime, timedelta
from pathlib import PurePath
from typing import Any

from django.db.models import F, Q
from django.utils import timezone

from jobs import transaction
from jobs.about import about
from jobs.calc.say import counted
from jobs.errors import CallerError, Conflict, NotFound, NotNow
from jobs.models import Person
from jobs.queries import job_of
from jobs.services import add, change
from openings.errors import Unreadable
from openings.models import ScheduleDraft
from openings.plans.choice import Choice
from openings.plans.show_schedule import outcome_of
from openings.schedules import FOR_A_WORKER, Budget, check_file_size, layout_of, packed
from openings.services.schedule import LONGEST_NAME, ScheduleFile, preview_schedule, take_schedule

State = ScheduleDraft.State

LARGE_BYTES = 400_000
"""From here on reading takes longer than somebody waits for a page (measured: about 15,000 rows a second)."""

SLOW_KINDS = {".ifc"}

SEND_AGAIN_AFTER = timedelta(minutes=5)
"""How long a draft may wait before a worker is asked again: longer than reading the largest file takes."""

MOST_ATTEMPTS = 2
"""How often reading or taking a draft may end with the process that did it, before that counts as the file's fault."""

DISCARD_AFTER = timedelta(days=30)
"""How long a file that nobody takes is kept (our choice)."""


def send_schedule(
    *, job_id: int, filename: str, content: bytes, by: Person | None, detail: str = "", mapping: Any = None
) -> ScheduleDraft:
    """Keep a file that is to be read, and write nothing else.

    Raises:
        NotFound: there is no such job.
        BadSchedule: the file is empty or too large, or the mapping is none.
    """
    check_file_size(len(content), filename=filename)
    return add(
        ScheduleDraft(
            job=job_of(job_id),
            filename=filename[-LONGEST_NAME:],
            content=content,
            sha256=hashlib.sha256(content).hexdigest(),
            detail=detail,
            mapping=layout_of(mapping).as_json(),
            sent_by=by,
        )
    )


def is_for_worker(draft: ScheduleDraft) -> bool:
    """Return whether reading the file takes longer than a request should."""
    return len(draft.content) >= LARGE_BYTES or PurePath(draft.filename).suffix.lower() in SLOW_KINDS


def read_draft(*, draft_id: int, budget: Budget = FOR_A_WORKER) -> bool:
    """Read a draft and keep what it would do; return False where a worker should, who has more time.

    Safe to repeat; one that nobody waits for is left alone. Each attempt is counted before it begins: a file that ends
    the process that reads it is not read for ever.
    """
    draft = _begun(draft_id, State.WAITING, State.READING)
    if draft is None:
        return True
    report = _Report(draft_id)
    report("reading the file", 1)
    found: dict[str, Any] = {"problem": {}, "outcome": b""}
    try:
        if draft.attempts > MOST_ATTEMPTS:
            raise Unreadable(_gave_up("read"), is_late=False)
        plan = preview_schedule(**_asked(draft), budget=budget, say=report, with_faults=True)
    except CallerError as error:
        if _wants_a_worker(error, budget):
            ScheduleDraft.objects.filter(pk=draft_id, state=State.READING).update(
                state=State.WAITING, doing="waiting for the worker", done_pct=0, attempts=0
            )
            return False
        found |= {"state": State.REFUSED, "problem": _problem(error)}
    else:
        found |= {"state": State.READ, "outcome": packed(outcome_of(plan))}
    # A mapping that was settled meanwhile asks for another reading.
    ScheduleDraft.objects.filter(pk=draft_id, state=State.READING, mapping=draft.mapping, detail=draft.detail).update(
        **found, doing="", done_pct=100, attempts=0
    )
    return True


def _begun(draft_id: int, *states: State) -> ScheduleDraft | None:
    """Count an attempt and return the draft, or None where it is in none of these states."""
    drafts = ScheduleDraft.objects.filter(pk=draft_id, state__in=states)
    return drafts.first() if drafts.update(attempts=F("attempts") + 1) else None


def _wants_a_worker(error: CallerError, budget: Budget) -> bool:
    """Return whether a file that could not be read now is for a worker, who may take more time and wait for it."""
    is_worker = budget.time_s >= FOR_A_WORKER.time_s
    return not is_worker and (isinstance(error, NotNow) or (isinstance(error, Unreadable) and error.is_late))


def _gave_up(what: str) -> str:
    return (
        f"The file could not be {what}: it was tried {counted(MOST_ATTEMPTS, 'time')}, and each time it stopped "
        "halfway. "
        "Copy the schedule alone into a new workbook and upload that"
    )


@transaction.atomic
def settle_draft(*, draft_id: int, mapping: Any, detail: str) -> ScheduleDraft:
    """Settle what a draft asked, so that it is read again.

    Raises:
        NotFound: there is no such draft.
        Conflict: it is taken, or being taken.
        BadSchedule: the mapping is none.
    """
    draft = _open_draft(draft_id)
    settled = layout_of(mapping).as_json()
    return change(
        draft, mapping=settled, detail=detail, state=State.WAITING, doing="", done_pct=0, asked_at=None, attempts=0
    )


@transaction.atomic
def choose_of_draft(
    *, draft_id: int, kinds: Collection[str], leave: Collection[str], seen: str, by: Person | None = None
) -> ScheduleDraft:
    """Choose what of a difference is applied; `take_draft` then applies it.

    Args:
        by: who chooses, and so who takes the file and confirms what was confirmed with it.
        seen: fingerprint of the difference that was looked at.

    Raises:
        NotFound: there is no such draft.
        Conflict: it is not read, or taken already.
    """
    draft = _open_draft(draft_id)
    if draft.state != State.READ:
        raise Conflict(f"{draft} cannot be applied; it must be read without errors first", about=[about(draft)])
    choice = {"kinds": sorted(kinds), "leave": sorted(leave), "seen": seen, "by": by.pk if by else None}
    return change(
        draft,
        choice=choice,
        state=State.TAKING,
        problem={},
        doing="waiting for the worker",
        done_pct=0,
        asked_at=None,
        attempts=0,
    )


def take_draft(*, draft_id: int, by: Person | None = None, budget: Budget = FOR_A_WORKER) -> bool:
    """Take a draft as it was chosen; return False where a worker should, who has more time to read it.

    Safe to repeat: a taken one is left alone. What somebody can mend is kept with the draft, which is then open again,
    and so is one whose taking ended too often with the process that did it.
    """
    draft = _begun(draft_id, State.TAKING)
    try:
        if draft and draft.attempts > MOST_ATTEMPTS:
            raise Unreadable(_gave_up("applied"), is_late=False)
        _take(draft_id, by, budget)
    except CallerError as error:
        still_taking = ScheduleDraft.objects.filter(pk=draft_id, state=State.TAKING)
        if _wants_a_worker(error, budget):
            still_taking.update(attempts=0)
            return False
        still_taking.update(state=State.READ, problem=_problem(error), doing="", done_pct=100, attempts=0)
    return True


@transaction.atomic
def _take(draft_id: int, by: Person | None, budget: Budget) -> None:
    draft = ScheduleDraft.objects.select_for_update(of=("self",)).filter(pk=draft_id, state=State.TAKING).first()
    if draft is None:
        return
    chosen = draft.choice
    choice = Choice(kinds=frozenset(chosen["kinds"]), leave=frozenset(chosen["leave"]), seen=chosen["seen"])
    by = by or Person.objects.filter(pk=chosen.get("by")).first() or draft.sent_by
    taken = take_schedule(**_asked(draft), choice=choice, by=by, budget=budget)
    change(
        draft, state=State.TAKEN, schedule=taken.schedule, doing="", done_pct=100, content=b"", outcome=b"", attempts=0
    )


@transaction.atomic
def discard_draft(*, draft_id: int) -> None:
    """Forget a file that is not taken.

    Raises:
        NotFound: there is no such draft.
        Conflict: it is taken, or being taken.
    """
    _open_draft(draft_id).delete()


@transaction.atomic
def drafts_to_go_on(*, now: datetime) -> tuple[list[int], list[int]]:
    """Return the ids of drafts that a worker should read and of those that it should take, and discard old ones.

    A draft that nobody went on with, since a worker was down or a queue lost its entries, is due again after a while.
    """
    ScheduleDraft.objects.filter(sent_at__lt=now - DISCARD_AFTER).exclude(
        state__in=[State.TAKEN, State.TAKING]
    ).delete()
    due = ScheduleDraft.objects.select_for_update(skip_locked=True, of=("self",)).filter(
        Q(asked_at__isnull=True, sent_at__lt=now - SEND_AGAIN_AFTER) | Q(asked_at__lt=now - SEND_AGAIN_AFTER),
        state__in=[State.WAITING, State.READING, State.TAKING],
    )
    found = list(due.order_by("pk").values_list("pk", "state"))
    ScheduleDraft.objects.filter(pk__in=[pk for pk, _ in found]).update(asked_at=now)
    return [pk for pk, state in found if state != State.TAKING], [pk for pk, state in found if state == State.TAKING]


class _Report:
    """Says how far reading is, where a page can see it."""

    def __init__(self, draft_id: int) -> None:
        self._draft = ScheduleDraft.objects.filter(pk=draft_id, state__in=[State.WAITING, State.READING])

    def __call__(self, doing: str, done_pct: int) -> None:
        self._draft.update(state=State.READING, doing=doing, done_pct=done_pct, asked_at=timezone.now())


def _open_draft(draft_id: int) -> ScheduleDraft:
    draft = ScheduleDraft.objects.select_for_update(of=("self",)).filter(pk=draft_id).first()
    if draft is None:
        raise NotFound(f"there is no schedule draft {draft_id}")
    if draft.state in (State.TAKING, State.TAKEN):
        sentence = f"{draft.filename} is already {'being ' * (draft.state == State.TAKING)}applied"
        raise Conflict(sentence, about=[about(draft)])
    return draft


def _asked(draft: ScheduleDraft) -> ScheduleFile:
    return {
        "job_id": draft.job_id,
        "filename": draft.filename,
        "content": bytes(draft.content),
        "detail": draft.detail,
        "mapping": draft.mapping,
    }


def _problem(error: CallerError) -> dict[str, Any]:
    return {"detail": error.detail, "code": error.code, "errors": [fault.as_json() for fault in error.faults]}
