"""What a crew sets today and on the next days."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import groupby

from django.db.models import Count

from jobs.models import Crew, CrewDay
from openings.calc.short_crew import has
from openings.calc.unit_lift import UnitLift, lift_of_unit
from openings.models import Assignment
from openings.queries.computed import lift_need
from openings.queries.opening import computable

DAYS_SHOWN = 7


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """One opening of a crew's day: how heavy its unit is and who lifts it.

    `short_crew` says what the unit takes where that is more people than the crew has.
    """

    assignment: Assignment
    lift: UnitLift
    short_crew: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayOfStops:
    """One day of a crew, its openings in the order of the pull sheet."""

    crew_day: CrewDay
    stops: tuple[Stop, ...]

    @property
    def planned_person_h(self) -> Decimal:
        return sum((stop.assignment.person_h for stop in self.stops), Decimal(0))


def days_of_crew(crew: Crew, *, since: date) -> list[DayOfStops]:
    """Return the next days of a crew that have openings, at most seven. Two queries, however many openings."""
    live = Assignment.objects.live().filter(crew_day__crew=crew, crew_day__on__gte=since)
    assignments = (
        live.with_state()
        .select_related("opening__job", "opening__detail", "crew_day", "short_crew_by")
        .annotate(steps_count=Count("opening__install_record__steps"))
        .order_by("crew_day__on", "opening__job__code", "opening__position", "pk")
    )
    days = [
        DayOfStops(crew_day=crew_day, stops=tuple(_stops(list(of_day), crew)))
        for crew_day, of_day in groupby(assignments, key=lambda assignment: assignment.crew_day)
    ]
    return days[:DAYS_SHOWN]


def _stops(assignments: list[Assignment], crew: Crew) -> Iterator[Stop]:
    openings = computable(assignment.opening for assignment in assignments)
    for assignment, item in zip(assignments, openings, strict=True):
        need = lift_need(item.opening)
        is_short = need.people > crew.people_count
        short_crew = f"{need.said_of(item.opening.mark)}; {has(crew.name, crew.people_count)}" if is_short else ""
        lift = lift_of_unit(item.facts, mounting=item.detail.mounting)
        yield Stop(assignment=assignment, lift=lift, short_crew=short_crew)
