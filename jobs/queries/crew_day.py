"""Days of crews, and which of them are worked."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import QuerySet

from jobs.models import CompanyDay, Crew, CrewDay


@dataclass(frozen=True, slots=True, kw_only=True)
class DaysOff:
    """The single days of one crew that differ from its weekdays, those of the whole company among them."""

    off: frozenset[date] = frozenset()
    extra: frozenset[date] = frozenset()


def crew_days_between(first: date, last: date) -> QuerySet[CrewDay]:
    """Return the crew days from `first` to `last`, crews joined. One query."""
    return CrewDay.objects.filter(on__range=(first, last)).select_related("crew")


def days_off_of(crews: Iterable[int], *, since: date = date.min) -> dict[int, DaysOff]:
    """Return by crew the days off and the extra days worked, from `since` on. Two queries.

    The company's days off are off, but for a crew whose own day says that it works.
    """
    days: dict[int, tuple[set[date], set[date]]] = {crew: (set(), set()) for crew in crews}
    if not days:
        return {}
    company = set(CompanyDay.objects.off().filter(on__gte=since).values_list("on", flat=True))
    listed = CrewDay.objects.filter(crew_id__in=days, on__gte=since).values_list("crew_id", "on", "off_reason")
    for crew, on, off_reason in listed:
        days[crew][0 if off_reason else 1].add(on)
    return {
        crew: DaysOff(off=frozenset(off | (company - extra)), extra=frozenset(extra))
        for crew, (off, extra) in days.items()
    }


def ordinary_day(on: date, company_day: CompanyDay | None) -> DaysOff:
    """Return how a crew without a day of its own works on a date: as the company does. No query."""
    return DaysOff(off=frozenset({on})) if company_day and company_day.is_off else DaysOff()


def is_worked(crew: Crew, on: date, days: DaysOff) -> bool:
    """Return whether `crew` works on `on`, given its days from `days_off_of`. No query."""
    return crew.works_on(on, off=days.off, extra=days.extra)
