"""Finding and locking the days of crews."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from django.utils import timezone

from jobs.about import about
from jobs.calc import say
from jobs.calc.horizon import PLAN
from jobs.dates import require_within
from jobs.errors import CrewRetired, DayOff, NotFound
from jobs.models import CompanyDay, Crew, CrewDay
from jobs.queries import company_day_on, is_worked, ordinary_day


def find_crew_day(*, crew_id: int, on: date) -> CrewDay:
    """Return the day of a crew; the first use of a working day makes it.

    Raises:
        DayOutOfReach: no work is planned so far back or ahead.
        NotFound: there is no such crew.
        CrewRetired: it takes no more work.
        DayOff: the company is off, or it is none of the crew's weekdays, and nobody made it an extra day.
    """
    require_within(PLAN, on, today=timezone.now().date())
    crew = Crew.objects.filter(pk=crew_id).first()
    if crew is None:
        raise NotFound(f"there is no crew {crew_id}")
    if not CrewDay.objects.filter(crew=crew, on=on).exists():
        _require_in_service(crew)
        company_day = company_day_on(on)
        if not is_worked(crew, on, ordinary_day(on, company_day)):
            raise DayOff(_why_off(crew, on, company_day), about=[about(crew)])
        hours = crew.capacity_in(company_day.shift_h if company_day else None)
        CrewDay.objects.get_or_create(crew=crew, on=on, defaults={"capacity_person_h": hours})
    return CrewDay.objects.select_related("crew").get(crew=crew, on=on)


def lock_crew_days(ids: Collection[int]) -> dict[int, CrewDay]:
    """Return crew days by id, locked in the order of their ids until the transaction ends; those that are off too."""
    locked = CrewDay.objects.select_for_update(of=("self",), no_key=True).select_related("crew")
    return {day.pk: day for day in locked.filter(pk__in=ids).order_by("pk")}


def lock_crew_day(*, crew_id: int, on: date) -> CrewDay:
    """Return the day of a crew, locked until the transaction ends; the first use of a working day makes it.

    Raises:
        NotFound: there is no such crew.
        CrewRetired: it takes no more work.
        DayOff: the crew does not work that day.
    """
    found = find_crew_day(crew_id=crew_id, on=on)
    return require_worked(lock_crew_days([found.pk])[found.pk])


def require_worked(day: CrewDay) -> CrewDay:
    """Return a crew day that is not off.

    Raises:
        CrewRetired: the crew takes no more work.
        DayOff: it is.
    """
    _require_in_service(day.crew)
    if day.is_off:
        raise DayOff(f"{day.crew} is off on {say.day(day.on)}: {day.off_reason}", about=[about(day)])
    return day


def _require_in_service(crew: Crew) -> None:
    if crew.is_retired:
        raise CrewRetired(
            f"{crew} is retired; give the work to another crew, or put it back in service", about=[about(crew)]
        )


def _why_off(crew: Crew, on: date, company_day: CompanyDay | None) -> str:
    if company_day and company_day.is_off:
        return (
            f"the company is off on {say.day(on)}: {company_day.name}. Set labor hours for {crew} to work all the same"
        )
    worked = say.weekdays(int(digit) for digit in crew.weekdays)
    return f"{crew} does not work on {say.day(on)}; it works {worked}"
