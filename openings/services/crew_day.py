"""Setting what a crew can do on a day, or that it is off."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from typing import Unpack

from django.utils import timezone

from jobs import transaction
from jobs.about import about
from jobs.calc.horizon import PLAN
from jobs.calc.say import and_list, counted
from jobs.calc.say import day as say_day
from jobs.dates import require_within
from jobs.errors import BadInput, NotFound
from jobs.models import Crew, CrewDay
from jobs.queries import days_off_of, is_worked
from jobs.services import add, change, lock_crew_days
from openings.calc.figures import brief
from openings.errors import OffAlready, WouldStrand
from openings.models.values import CrewDayValues
from openings.queries import Stranded, stranded
from openings.services.day_news import tell_day_set

LONGEST_OFF = timedelta(days=366)
"""So long may one entry of days off be (our choice: longer than any leave)."""


@transaction.atomic
def change_crew_day(*, crew_day_id: int, is_sure: bool = True, **values: Unpack[CrewDayValues]) -> list[Stranded]:
    """Change a crew's day; return the openings assigned to it that are stranded now.

    Off without a capacity has none, and a day that is off no more has the ordinary one, where none is given.

    Args:
        is_sure: openings may be stranded; they stay in sight until somebody moves or withdraws them.
        values: columns of the day.

    Raises:
        NotFound: there is no such day.
        ValidationError: a value or a constraint is not kept.
        WouldStrand: openings would be stranded, and `is_sure` is False.
    """
    day = lock_crew_days([crew_day_id]).get(crew_day_id)
    if day is None:
        raise NotFound(f"there is no crew day {crew_day_id}")
    if "off_reason" in values and "capacity_person_h" not in values:
        if values["off_reason"]:
            values["capacity_person_h"] = Decimal(0)
        elif day.is_off:
            values["capacity_person_h"] = day.crew.capacity_person_h
    before = (day.off_reason, day.capacity_person_h)
    change(day, **values)
    if (day.off_reason, day.capacity_person_h) != before:
        tell_day_set(day)
    found = stranded(crew_day_id=day.pk)
    if found and not is_sure:
        moved = [about(one.assignment.opening) for one in found]
        raise WouldStrand(_would_strand(day, found), about=[about(day), *moved])
    return found


@transaction.atomic
def set_crew_day(
    *, crew: Crew, on: date, off_reason: str, capacity_person_h: Decimal | None, is_sure: bool
) -> tuple[CrewDay, list[Stranded]]:
    """Set a crew's day off, for a reason, or to so many person-hours; people × shift where nothing is said.

    Raises:
        BadInput: it is off and has hours.
        ValidationError, WouldStrand: as `change_crew_day`.
    """
    if off_reason and capacity_person_h:
        raise BadInput("a day off has no labor hours; leave out the hours, or the reason for being off")
    hours = Decimal(0) if off_reason else crew.capacity_person_h if capacity_person_h is None else capacity_person_h
    values: CrewDayValues = {"off_reason": off_reason, "capacity_person_h": hours}
    day = CrewDay.objects.filter(crew=crew, on=on).first()
    if day is None:
        day = add(CrewDay(crew=crew, on=on, **values))
        tell_day_set(day)
        return day, []
    found = change_crew_day(crew_day_id=day.pk, is_sure=is_sure, **values)
    day.refresh_from_db()
    return day, found


@transaction.atomic
def set_days_off(*, crew: Crew, first: date, last: date, off_reason: str, is_sure: bool = True) -> list[Stranded]:
    """Set a crew off from one day to another; only days that it would work are kept. Return what is stranded.

    Raises:
        BadInput: the last day is before the first, or the days are too many.
        DayOutOfReach: a day lies beyond the horizon.
        OffAlready: the crew is off on some of the days for another reason; it says which.
        WouldStrand: openings would be stranded, and `is_sure` is False.
    """
    days = _worked_between(crew, first, last)
    known = {day.on: day for day in CrewDay.objects.filter(crew=crew, on__range=(first, last))}
    if overlap := [known[on] for on in sorted(known) if known[on].is_off]:
        said = and_list([f"{say_day(day.on)} ({day.off_reason})" for day in overlap])
        raise OffAlready(
            f"{crew} is off already on {said}: give days that do not overlap, or let it work those first",
            about=[about(day) for day in overlap],
        )
    found: list[Stranded] = []
    for on in days:
        _, of_day = set_crew_day(crew=crew, on=on, off_reason=off_reason, capacity_person_h=None, is_sure=True)
        found += of_day
    if found and not is_sure:
        moved = [about(one.assignment.opening) for one in found]
        marks = ", ".join(f"{one.assignment.opening.mark} of {one.assignment.opening.job.code}" for one in found)
        raise WouldStrand(
            f"setting {crew} off from {say_day(first)} to {say_day(last)} leaves {counted(len(found), 'opening')} "
            f"without a crew: {marks}",
            about=moved,
        )
    return found


@transaction.atomic
def days_off_would_strand(*, crew: Crew, first: date, last: date, off_reason: str) -> str:
    """Return in words which openings `set_days_off` would strand, an empty text if none. Nothing is changed.

    Raises:
        BadInput, DayOutOfReach, OffAlready: as `set_days_off`.
    """
    try:
        set_days_off(crew=crew, first=first, last=last, off_reason=off_reason, is_sure=False)
    except WouldStrand as error:
        return error.detail
    finally:
        transaction.take_back()
    return ""


def _worked_between(crew: Crew, first: date, last: date) -> list[date]:
    """Return the days from one to another that a crew would work."""
    for on, field in ((first, "first"), (last, "last")):
        require_within(PLAN, on, today=timezone.now().date(), field=field)
    if last < first:
        said = f"the last day, {say_day(last)}, is before the first, {say_day(first)}"
        raise BadInput.of("last", last.isoformat(), said)
    if last - first > LONGEST_OFF:
        raise BadInput.of("last", last.isoformat(), f"give at most {LONGEST_OFF.days} days at once")
    days_off = days_off_of([crew.pk], since=first)[crew.pk]
    days = [first + timedelta(days=number) for number in range((last - first).days + 1)]
    worked = [on for on in days if is_worked(crew, on, days_off) or on in days_off.off]
    if not worked:
        raise BadInput.of("first", first.isoformat(), f"{crew} does not work on any of these days anyway")
    return worked


@transaction.atomic
def would_strand(*, crew: Crew, on: date, off_reason: str, capacity_person_h: Decimal | None) -> str:
    """Return in words which openings `set_crew_day` would strand, an empty text if none. Nothing is changed.

    Raises:
        BadInput, ValidationError: as `set_crew_day`.
    """
    try:
        set_crew_day(crew=crew, on=on, off_reason=off_reason, capacity_person_h=capacity_person_h, is_sure=False)
    except WouldStrand as error:
        return error.detail
    finally:
        transaction.take_back()
    return ""


def _would_strand(day: CrewDay, found: list[Stranded]) -> str:
    count = len(found)
    marks = ", ".join(f"{one.assignment.opening.mark} of {one.assignment.opening.job.code}" for one in found)
    what = "off" if day.is_off else f"to {brief(day.capacity_person_h)} labor hours"
    return (
        f"setting {day.crew} {what} on {say_day(day.on)} leaves {counted(count, 'opening')} without a crew "
        f"that day: {marks}"
    )
