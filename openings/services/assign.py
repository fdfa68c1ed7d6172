"""Giving openings to a crew for a day, and taking them back."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from django.db.models import Sum
from django.utils import timezone

from jobs import transaction
from jobs.calc.horizon import COMING
from jobs.dates import require_within
from jobs.errors import BadInput, Conflict, NotFound
from jobs.models import CrewDay, Person
from jobs.queries import today_at
from jobs.services import change, lock_crew_day
from openings.models import Assignment, Hold, InstallRecord, Opening
from openings.queries import person_hours
from openings.services.lock import lock_opening, lock_openings


@transaction.atomic
def assign(*, opening_ids: Sequence[int], crew_id: int, on: date, by: Person | None) -> list[Assignment]:
    """Give openings to a crew for a day: all of them or none.

    The openings are locked first, then the crew day, always in this order, so of two who assign the same
    opening at once one wins and the other is refused.

    Raises:
        NotFound: an opening or the crew does not exist.
        BadInput: no opening was named.
        DayIsPast: the day lies before today where the job is.
        DayOutOfReach: it lies beyond the horizon.
        DayOff: the crew does not work that day.
        Conflict: an opening is void, complete, on hold or assigned, or the hours do not fit.
    """
    if not opening_ids:
        raise BadInput("name at least one opening")
    openings = lock_openings(set(opening_ids))
    for job in {opening.job for opening in openings}:
        require_within(COMING, on, today=today_at(job))
    _require_ready(openings)
    day = lock_crew_day(crew_id=crew_id, on=on)
    hours = person_hours(openings, experience=day.crew.experience)
    _require_room(day, hours)
    return Assignment.objects.bulk_create(
        [
            Assignment(opening=opening, crew_day=day, person_h=hours[opening.pk], assigned_by=by)
            for opening in sorted(openings, key=lambda o: (o.job_id, o.position, o.pk))
        ]
    )


def withdrawal(assignment_id: int) -> Assignment:
    """Return an assignment that can be withdrawn, with its opening and crew day. Two queries.

    Raises:
        NotFound, Conflict: as `withdraw`.
    """
    joined = Assignment.objects.select_related("opening__job", "crew_day__crew")
    found = joined.filter(pk=assignment_id).first()
    if found is None:
        raise NotFound(f"there is no assignment {assignment_id}")
    _require_withdrawable(found, found.opening)
    return found


@transaction.atomic
def withdraw(*, assignment_id: int, by: Person) -> Assignment:
    """Take an opening back from its crew day; the assignment stays as history.

    Raises:
        NotFound: there is no such assignment.
        Conflict: it is withdrawn already, or the install was started.
    """
    found = Assignment.objects.filter(pk=assignment_id).first()
    if found is None:
        raise NotFound(f"there is no assignment {assignment_id}")
    opening = lock_opening(found.opening_id)
    CrewDay.objects.select_for_update(no_key=True).get(pk=found.crew_day_id)
    found.refresh_from_db()
    _require_withdrawable(found, opening)
    return change(found, withdrawn_by=by, withdrawn_at=timezone.now())


def _require_withdrawable(assignment: Assignment, opening: Opening) -> None:
    if assignment.withdrawn_at:
        raise Conflict(f"{opening} was withdrawn {assignment.withdrawn_at:%Y-%m-%d %H:%M} UTC")
    if InstallRecord.objects.filter(opening=opening).exists():
        raise Conflict(f"the install of {opening} was started; it stays with its crew")


def _require_ready(openings: Sequence[Opening]) -> None:
    done = set(
        InstallRecord.objects.filter(opening__in=openings, done_at__isnull=False).values_list("opening_id", flat=True)
    )
    held = dict(Hold.objects.filter(opening__in=openings, released_at__isnull=True).values_list("opening_id", "kind"))
    taken = {
        a.opening_id: a.crew_day
        for a in Assignment.objects.filter(opening__in=openings, withdrawn_at__isnull=True).select_related(
            "crew_day__crew"
        )
    }
    reasons = []
    for opening in openings:
        if opening.is_void:
            reasons.append(f"{opening} is void")
        elif opening.pk in done:
            reasons.append(f"{opening} is complete")
        elif opening.pk in held:
            reasons.append(f"{opening} is on hold: {held[opening.pk]}")
        elif opening.pk in taken:
            reasons.append(f"{opening} is already assigned to {taken[opening.pk]}")
    if reasons:
        raise Conflict("; ".join(reasons))


def _require_room(day: CrewDay, hours: dict[int, Decimal]) -> None:
    taken = Assignment.objects.filter(crew_day=day, withdrawn_at__isnull=True).aggregate(h=Sum("person_h"))["h"] or 0
    asked, free = sum(hours.values()), day.capacity_person_h - taken
    if asked > free:
        raise Conflict(
            f"{day} has {free:.2f} of {day.capacity_person_h:.2f} person-hours free; "
            f"{len(hours)} opening{'s' * (len(hours) != 1)} would take {asked:.2f}"
        )
