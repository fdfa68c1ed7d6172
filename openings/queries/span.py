"""Crews by day, with what is given to them."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from jobs.models import CompanyDay, Crew, CrewDay
from jobs.queries import company_days_between, crew_days_between, is_worked, ordinary_day
from openings.calc.day_version import day_version
from openings.models import Assignment

NOT_WORKED = "not a working day"


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewOnDay:
    """One crew on one date: what it can do, what is given to it, or why it is off."""

    crew: Crew
    on: date
    capacity_person_h: Decimal
    off_reason: str
    assignments: tuple[Assignment, ...]

    @property
    def version(self) -> str:
        """What changes as soon as the day says anything else: `versions_by_day` gives the same."""
        placed = ((one.pk, one.state, one.opening.updated_at) for one in self.assignments)
        return day_version(self.capacity_person_h, self.off_reason, placed)

    @property
    def crew_day_id(self) -> int | None:
        """The crew day that holds what is given to it; None where nothing is."""
        return self.assignments[0].crew_day_id if self.assignments else None

    @property
    def assigned_person_h(self) -> Decimal:
        return sum((assignment.person_h for assignment in self.assignments), Decimal(0))

    @property
    def assigned_pct(self) -> Decimal:
        """Share of the capacity that is taken, at most all of it."""
        if self.assigned_person_h >= self.capacity_person_h:
            return Decimal(100 if self.assignments else 0)
        return 100 * self.assigned_person_h / self.capacity_person_h


def crews_by_day(*, first: date, days: int) -> list[tuple[date, list[CrewOnDay]]]:
    """Return for each day from `first` on every crew in order of name. Four queries.

    A retired crew is shown where it has work in that time.
    """
    last = first + timedelta(days=days - 1)
    company = company_days_between(first, last)
    known = {(day.crew_id, day.on): day for day in crew_days_between(first, last)}
    given = defaultdict(list)
    live = Assignment.objects.live().filter(crew_day__on__range=(first, last))
    ordered = live.with_state().select_related("opening__job", "crew_day")
    for assignment in ordered.order_by("opening__job__code", "opening__position", "pk"):
        given[assignment.crew_day.crew_id, assignment.crew_day.on].append(assignment)
    busy = {crew_id for crew_id, _ in given}
    crews = [crew for crew in Crew.objects.all() if not crew.is_retired or crew.pk in busy]
    dates = [first + timedelta(days=number) for number in range(days)]
    return [
        (
            on,
            [
                _crew_on(crew, on, known.get((crew.pk, on)), company.get(on), tuple(given[crew.pk, on]))
                for crew in crews
            ],
        )
        for on in dates
    ]


def shown_day(crew: Crew, on: date, day: CrewDay | None, company_day: CompanyDay | None) -> tuple[Decimal, str]:
    """Return what a crew can do on a date in person-hours, and why it is off; its day where there is one. No query."""
    if day:
        return day.capacity_person_h, day.off_reason
    if is_worked(crew, on, ordinary_day(on, company_day)):
        return crew.capacity_in(company_day.shift_h if company_day else None), ""
    return Decimal(0), company_day.name if company_day and company_day.is_off else NOT_WORKED


def _crew_on(
    crew: Crew, on: date, day: CrewDay | None, company_day: CompanyDay | None, assignments: tuple[Assignment, ...]
) -> CrewOnDay:
    capacity_person_h, off_reason = shown_day(crew, on, day, company_day)
    return CrewOnDay(
        crew=crew, on=on, capacity_person_h=capacity_person_h, off_reason=off_reason, assignments=assignments
    )
