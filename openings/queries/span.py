"""Crews by day, with what is given to them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from jobs.models import CompanyDay, Crew, CrewDay
from jobs.queries import company_days_between, crew_days_between, is_worked, ordinary_day
from jobs.queries.drive import NOWHERE, Route
from openings.calc.day_version import day_version
from openings.models import Assignment
from openings.queries.computed import people_to_set
from openings.queries.travel import routes_among

NOT_WORKED = "not a working day"


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """One opening of a crew's day, with the people that its unit takes.

    Args:
        is_short: the unit takes more people than the crew has.
    """

    assignment: Assignment
    people: int
    needs_aid: bool
    is_short: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewOnDay:
    """One crew on one date: what it can do, what is given to it, or why it is off.

    Args:
        driven_person_h: labor hours on the road between the sites of the day.
    """

    crew: Crew
    on: date
    capacity_person_h: Decimal
    off_reason: str
    placed: tuple[Placed, ...]
    driven_person_h: Decimal

    @property
    def assignments(self) -> list[Assignment]:
        """What is given to it, in the order of the pull sheet."""
        return [one.assignment for one in self.placed]

    @property
    def version(self) -> str:
        """What changes as soon as the day says anything else: `versions_by_day` gives the same."""
        placed = ((one.pk, one.state, one.opening.updated_at) for one in self.assignments)
        return day_version(self.capacity_person_h, self.off_reason, placed, driven_person_h=self.driven_person_h)

    @property
    def crew_day_id(self) -> int | None:
        """The crew day that holds what is given to it; None where nothing is."""
        return self.placed[0].assignment.crew_day_id if self.placed else None

    @property
    def assigned_person_h(self) -> Decimal:
        return sum((assignment.person_h for assignment in self.assignments), Decimal(0))

    @property
    def taken_person_h(self) -> Decimal:
        """What the openings take, and the drive between their sites."""
        return self.assigned_person_h + self.driven_person_h

    @property
    def is_overfull(self) -> bool:
        return self.taken_person_h > self.capacity_person_h

    @property
    def assigned_pct(self) -> Decimal:
        """Share of the capacity that is taken, at most all of it."""
        if self.taken_person_h >= self.capacity_person_h:
            return Decimal(100 if self.placed else 0)
        return 100 * self.taken_person_h / self.capacity_person_h


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardDay:
    """One date of the board, every crew in order of name. Where nobody works and nothing is given, it folds."""

    on: date
    cells: tuple[CrewOnDay, ...]

    @property
    def is_idle(self) -> bool:
        """Whether it is no working day of any crew, and nothing is given to any."""
        return all(cell.off_reason == NOT_WORKED and not cell.placed for cell in self.cells)


def crews_by_day(*, first: date, days: int) -> list[BoardDay]:
    """Return for each day from `first` on every crew in order of name. Eight queries at most, however many openings.

    A retired crew is shown where it has work in that time.
    """
    last = first + timedelta(days=days - 1)
    company = company_days_between(first, last)
    known = {(day.crew_id, day.on): day for day in crew_days_between(first, last)}
    given = defaultdict(list)
    live = Assignment.objects.live().filter(crew_day__on__range=(first, last))
    ordered = live.with_state().select_related("opening__job", "crew_day").prefetch_related("opening__detail")
    for assignment in ordered.order_by("opening__job__code", "opening__position", "pk"):
        given[assignment.crew_day.crew_id, assignment.crew_day.on].append(assignment)
    routes = routes_among([_sites(of_day) for of_day in given.values()])
    busy = {crew_id for crew_id, _ in given}
    crews = [crew for crew in Crew.objects.all() if not crew.is_retired or crew.pk in busy]
    dates = [first + timedelta(days=number) for number in range(days)]
    return [
        BoardDay(
            on=on,
            cells=tuple(
                _crew_on(
                    crew,
                    on,
                    shown_day(crew, on, known.get((crew.pk, on)), company.get(on)),
                    given[crew.pk, on],
                    routes,
                )
                for crew in crews
            ),
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


def _sites(assignments: Iterable[Assignment]) -> frozenset[int]:
    return frozenset(one.opening.job_id for one in assignments)


def _crew_on(
    crew: Crew,
    on: date,
    shown: tuple[Decimal, str],
    assignments: list[Assignment],
    routes: Mapping[frozenset[int], Route],
) -> CrewOnDay:
    capacity_person_h, off_reason = shown
    return CrewOnDay(
        crew=crew,
        on=on,
        capacity_person_h=capacity_person_h,
        off_reason=off_reason,
        placed=tuple(_placed(crew, assignments)),
        driven_person_h=routes.get(_sites(assignments), NOWHERE).person_h(crew.people_count),
    )


def _placed(crew: Crew, assignments: Iterable[Assignment]) -> Iterator[Placed]:
    for one in assignments:
        people, needs_aid = people_to_set(one.opening.as_facts(), mounting=one.opening.detail.as_facts().mounting)
        yield Placed(assignment=one, people=people, needs_aid=needs_aid, is_short=people > crew.people_count)
