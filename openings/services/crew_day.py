"""Setting what a crew can do on a day, or that it is off."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Unpack

from jobs import transaction
from jobs.about import about
from jobs.calc.say import counted
from jobs.calc.say import day as say_day
from jobs.errors import BadInput, NotFound
from jobs.models import Crew, CrewDay
from jobs.services import add, change, lock_crew_days
from openings.calc.figures import brief
from openings.errors import WouldStrand
from openings.models.values import CrewDayValues
from openings.queries import Stranded, stranded


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
    change(day, **values)
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
        return add(CrewDay(crew=crew, on=on, **values)), []
    found = change_crew_day(crew_day_id=day.pk, is_sure=is_sure, **values)
    day.refresh_from_db()
    return day, found


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
