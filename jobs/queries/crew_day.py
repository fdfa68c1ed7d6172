"""Days of crews, and which of them are worked."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import QuerySet

from jobs.models import Crew, CrewDay


@dataclass(frozen=True, slots=True, kw_only=True)
class DaysOff:
    """The single days of one crew that differ from its weekdays."""

    off: frozenset[date]
    extra: frozenset[date]


def crew_days_between(first: date, last: date) -> QuerySet[CrewDay]:
    """Return the crew days from `first` to `last`, crews joined. One query."""
    return CrewDay.objects.filter(on__range=(first, last)).select_related("crew")


def days_off_of(crews: Iterable[int], *, since: date = date.min) -> dict[int, DaysOff]:
    """Return by crew the days off and the extra days worked, from `since` on. One query."""
    days: dict[int, tuple[set[date], set[date]]] = {crew: (set(), set()) for crew in crews}
    listed = CrewDay.objects.filter(crew_id__in=days, on__gte=since).values_list("crew_id", "on", "off_reason")
    for crew, on, off_reason in listed:
        days[crew][0 if off_reason else 1].add(on)
    return {crew: DaysOff(off=frozenset(off), extra=frozenset(extra)) for crew, (off, extra) in days.items()}


def is_worked(crew: Crew, on: date, days: DaysOff) -> bool:
    """Return whether `crew` works on `on`, given its days from `days_off_of`. No query."""
    return crew.works_on(on, off=days.off, extra=days.extra)
