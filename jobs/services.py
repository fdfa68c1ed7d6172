"""What changes jobs, crews and their days: load, decide, save."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import asdict
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import TypedDict, TypeVar, Unpack

from django.db import models
from django.utils import timezone

from jobs import transaction
from jobs.about import about
from jobs.calc import say
from jobs.calc.horizon import PLAN
from jobs.changed import forget_when_changed
from jobs.dates import require_within
from jobs.errors import DayOff, NotAllowed, NotFound
from jobs.models import Crew, CrewDay, FirstAnswer, Person, ShopWeatherLimits
from jobs.queries import DaysOff, is_worked, weather_limits

Row = TypeVar("Row", bound=models.Model)

ANSWERS_KEPT_FOR = timedelta(days=7)
"""How long a request may be sent again with its key (our choice: a phone that was without a signal for a week)."""


@transaction.atomic
def add(row: Row) -> Row:
    """Add one row.

    Raises:
        ValidationError: a value or a constraint of its model is not kept.
    """
    row.full_clean()
    row.save(force_insert=True)
    return row


@transaction.atomic
def change(row: Row, **values: object) -> Row:
    """Change the named columns of one row and leave the others alone, those too that would not be taken today.

    Raises:
        ValidationError: a value or a constraint is not kept.
    """
    for name, value in values.items():
        setattr(row, name, value)
    row.clean_fields(exclude={field.name for field in row._meta.fields if field.name not in values})
    row.clean()
    row.validate_unique()
    row.validate_constraints()
    row.save(update_fields=list(values))
    forget_when_changed(row)
    return row


class LimitsChange(TypedDict, total=False):
    """The limits of weather that change; each with its source."""

    most_wind_mph: Decimal
    wind_source: str
    most_rain_in: Decimal
    rain_source: str


@transaction.atomic
def set_weather_limits(**values: Unpack[LimitsChange]) -> ShopWeatherLimits:
    """Set the shop's own limits of weather; what is not named stays as it was.

    Raises:
        ValidationError: a limit is negative, or nobody is named as its source.
    """
    row = ShopWeatherLimits.objects.select_for_update().first()
    if row is None:
        return add(ShopWeatherLimits(pk=ShopWeatherLimits.THE_ONE, **asdict(weather_limits()) | values))
    return change(row, **values)


def reset_weather_limits() -> None:
    """Go back to the limits that the service starts with. Safe to repeat."""
    ShopWeatherLimits.objects.all().delete()


def find_crew_day(*, crew_id: int, on: date) -> CrewDay:
    """Return the day of a crew; the first use of a working day makes it.

    Raises:
        DayOutOfReach: no work is planned so far back or ahead.
        NotFound: there is no such crew.
        DayOff: it is none of the crew's weekdays, and nobody made it an extra day.
    """
    require_within(PLAN, on, today=timezone.now().date())
    crew = Crew.objects.filter(pk=crew_id).first()
    if crew is None:
        raise NotFound(f"there is no crew {crew_id}")
    if not CrewDay.objects.filter(crew=crew, on=on).exists():
        if not is_worked(crew, on, DaysOff(off=frozenset(), extra=frozenset())):
            worked = say.weekdays(int(digit) for digit in crew.weekdays)
            raise DayOff(f"{crew} does not work on {say.day(on)}; it works {worked}", about=[about(crew)])
        CrewDay.objects.get_or_create(crew=crew, on=on, defaults={"capacity_person_h": crew.capacity_person_h})
    return CrewDay.objects.select_related("crew").get(crew=crew, on=on)


def lock_crew_days(ids: Collection[int]) -> dict[int, CrewDay]:
    """Return crew days by id, locked in the order of their ids until the transaction ends; those that are off too."""
    locked = CrewDay.objects.select_for_update(of=("self",), no_key=True).select_related("crew")
    return {day.pk: day for day in locked.filter(pk__in=ids).order_by("pk")}


def lock_crew_day(*, crew_id: int, on: date) -> CrewDay:
    """Return the day of a crew, locked until the transaction ends; the first use of a working day makes it.

    Raises:
        NotFound: there is no such crew.
        DayOff: the crew does not work that day.
    """
    found = find_crew_day(crew_id=crew_id, on=on)
    return require_worked(lock_crew_days([found.pk])[found.pk])


def require_worked(day: CrewDay) -> CrewDay:
    """Return a crew day that is not off.

    Raises:
        DayOff: it is.
    """
    if day.is_off:
        raise DayOff(f"{day.crew} is off on {say.day(day.on)}: {day.off_reason}", about=[about(day)])
    return day


def require_crew(person: Person, crew_id: int) -> None:
    """Let office and owner pass, and a crew lead for the crew that is theirs.

    Raises:
        NotAllowed: a crew lead of another crew asked.
    """
    if person.role == Person.Role.CREW_LEAD and person.crew_id != crew_id:
        raise NotAllowed("this belongs to another crew; a crew lead records for their own crew only")


def forget_old_answers(*, now: datetime) -> int:
    """Forget the answers that are kept for too long, and return how many. Safe to repeat."""
    count, _ = FirstAnswer.objects.filter(answered_at__lt=now - ANSWERS_KEPT_FOR).delete()
    return count
