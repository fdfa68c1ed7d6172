"""Finding and locking the days of crews."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from django.utils import timezone

from jobs.about import about
from jobs.calc import say
from jobs.calc.horizon import PLAN
from jobs.dates import require_within
from jobs.errors import DayOff, NotFound
from jobs.models import Crew, CrewDay
from jobs.queries import DaysOff, is_worked


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
