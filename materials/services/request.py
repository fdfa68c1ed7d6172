"""Asking for pull sheets: by hand, and by the clock."""

from __future__ import annotations

import logging
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from datetime import date, datetime, timedelta
from math import ceil
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from django.db.models import Q
from django.utils import timezone

from jobs import transaction
from jobs.about import about
from jobs.calc.calendar import cutoff_instant, earliest_today, previous_working_day
from jobs.calc.horizon import COMING
from jobs.dates import require_within
from jobs.models import CrewDay, Person
from jobs.queries import DaysOff, days_off_of, is_worked
from jobs.services import find_crew_day, lock_crew_days, require_worked
from materials.calc.basis import Basis
from materials.errors import NothingAssigned
from materials.models import PullSheet
from materials.plans.changes import basis_of, reasons_to_revise
from materials.plans.compose import compose
from materials.queries import (
    crew_days_assigned,
    idle_days_with_remnants,
    is_settled,
    issued_for,
    ready_for,
    rests_on,
)
from openings.models import Assignment

if TYPE_CHECKING:
    from materials.queries.pull_sheet import IssuedSheet

SEND_AGAIN_AFTER = timedelta(minutes=2)
"""How long a pending sheet may wait before a worker is asked again (our choice: longer than writing one takes)."""

LOOK_AGAIN_WITHIN = timedelta(hours=1)
"""So soon every issued sheet is put together again, though none of its rows has changed (our choice)."""

A_MINUTE = timedelta(minutes=1)

log = logging.getLogger(__name__)


@transaction.atomic
def request_pull_sheet(*, crew_id: int, on: date, by: Person | None) -> PullSheet:
    """Return the sheet of a crew's day: the pending or unchanged one, else a new revision to be written.

    Asking twice makes one sheet: the crew day is locked meanwhile. Where a sheet was issued for a day that is off by
    now, the new revision says what to bring back.

    Raises:
        NotFound: there is no such crew.
        DayOff: the crew does not work that day, and no sheet was ever written for it.
        DayIsPast: the day is past everywhere.
        DayOutOfReach: it lies beyond the horizon.
        NothingAssigned: no opening is assigned to that day and no sheet was ever written.
    """
    require_within(COMING, on, today=earliest_today(timezone.now()))
    found = find_crew_day(crew_id=crew_id, on=on)
    crew_day = lock_crew_days([found.pk])[found.pk]
    if not PullSheet.objects.written().filter(crew_day=crew_day).exists():
        require_worked(crew_day)
    return _request(crew_day, by=by)


def request_due_pull_sheets(*, now: datetime) -> list[int]:
    """Return the ids of the sheets that a worker should write now, requesting those that are due.

    A crew day is due once the cut-off of the working day before has passed where its jobs are; one whose
    sheet was issued is due again when what it says has changed. A pending sheet that nobody wrote is due
    again after a while, so a worker that was down, or a queue that lost its entries, only delays it. A crew
    day that cannot be put together is logged and keeps no other crew waiting.

    So many queries for any number of sheets that still say what is so; those of which a row has changed are put
    together and compared.
    """
    today = earliest_today(now)
    crew_days = {day.pk: day for day in crew_days_assigned(since=today)}
    issued = {sheet.crew_day_id: sheet for sheet in issued_for(crew_days)}
    new = [day for day in crew_days.values() if day.pk not in issued]
    for crew_day in (*idle_days_with_remnants(before=today), *due_days(new, now)):
        _try_to_request(crew_day)
    digests = rests_on(issued)
    for sheet in _to_look_at(issued.values(), digests, now):
        found = _try_to_request(crew_days[sheet.crew_day_id])
        if found == sheet:
            PullSheet.objects.filter(pk=sheet.pk).update(rests_on=digests[sheet.crew_day_id], looked_at=now)
    return _take_waiting(now)


def _try_to_request(crew_day: CrewDay) -> PullSheet | None:
    try:
        return request_revision(crew_day.pk)
    except Exception:
        log.exception("No pull sheet for %s", crew_day)
        return None


def _to_look_at(issued: Collection[IssuedSheet], digests: Mapping[int, str], now: datetime) -> list[IssuedSheet]:
    """Return the issued sheets of which a row has changed since they were looked at, and a few of the others.

    Every sheet is looked at again by and by, each within `LOOK_AGAIN_WITHIN`: what no row says, such as a rule that a
    release computes otherwise, is found then.
    """
    resting = [sheet for sheet in issued if not sheet.is_revised]
    changed = [sheet for sheet in resting if sheet.rests_on != digests[sheet.crew_day_id]]
    half = LOOK_AGAIN_WITHIN / 2
    stale = [
        sheet
        for sheet in resting
        if sheet not in changed and sheet.looked_at is not None and sheet.looked_at <= now - half
    ]
    share = ceil(len(resting) / (half / A_MINUTE))
    return changed + sorted(stale, key=lambda sheet: sheet.looked_at or now)[:share]


@transaction.atomic
def request_revision(crew_day_id: int) -> PullSheet:
    """Return the sheet of a crew day, as `request_pull_sheet`, whatever the date.

    Raises:
        NothingAssigned: nothing is assigned to that day and no sheet was ever written.
    """
    return _request(lock_crew_days([crew_day_id])[crew_day_id], by=None)


def _request(crew_day: CrewDay, *, by: Person | None) -> PullSheet:
    sheets = PullSheet.objects.filter(crew_day=crew_day).order_by("-revision").defer("workbook")
    last = sheets.first()
    if last and last.state == PullSheet.State.PENDING:
        return last
    written = sheets.written().first()
    if written and is_settled(written):
        return written
    composed = compose(crew_day)
    if written and not reasons_to_revise(written, composed.basis):
        _keep(written, composed.basis)
        return written
    if not composed.openings and written is None:
        raise NothingAssigned(
            f"nothing that can be set is assigned to {crew_day}; assign openings first", about=[about(crew_day)]
        )
    return PullSheet.objects.create(
        crew_day=crew_day,
        revision=last.revision + 1 if last else 1,
        requested_by=by,
        requested_at=timezone.now(),
    )


def _keep(written: PullSheet, basis: Basis) -> None:
    """Compare a sheet that stands as it is by the figures of today from now on, where it was by an older list."""
    if basis_of(written).version != basis.version:
        written.basis = basis.as_json()
        written.save(update_fields=["basis"])


def due_days(crew_days: Collection[CrewDay], now: datetime) -> list[CrewDay]:
    """Return the crew days, none of which has an issued sheet, with work and a cut-off that has passed."""
    days_off = days_off_of({day.crew_id for day in crew_days})
    assignments = defaultdict(list)
    for assignment in ready_for([day.pk for day in crew_days])[0]:
        assignments[assignment.crew_day_id].append(assignment)
    return [day for day in crew_days if _is_due(day, assignments[day.pk], days_off[day.crew_id], now)]


def _is_due(crew_day: CrewDay, assignments: Iterable[Assignment], days: DaysOff, now: datetime) -> bool:
    eve = previous_working_day(crew_day.on, works=lambda on: is_worked(crew_day.crew, on, days))
    jobs = {assignment.opening.job for assignment in assignments}
    return any(
        cutoff_instant(eve, cutoff=job.cutoff, time_zone=job.time_zone) <= now
        and crew_day.on >= now.astimezone(ZoneInfo(job.time_zone)).date()
        for job in jobs
    )


@transaction.atomic
def _take_waiting(now: datetime) -> list[int]:
    waiting = PullSheet.objects.select_for_update(skip_locked=True).filter(
        Q(sent_at__isnull=True) | Q(sent_at__lt=now - SEND_AGAIN_AFTER), state=PullSheet.State.PENDING
    )
    ids = list(waiting.order_by("pk").values_list("pk", flat=True))
    PullSheet.objects.filter(pk__in=ids).update(sent_at=now)
    return ids
