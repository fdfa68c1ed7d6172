"""Versions of crew days: how two schedulers see each other, and why neither overwrites the other."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal
from typing import TypeAlias

from jobs.about import about
from jobs.calc.say import day as say_day
from jobs.errors import ChangedMeanwhile
from jobs.models import Crew, CrewDay
from jobs.queries import company_days_between, crew_days_between
from jobs.queries.drive import NOWHERE, Route
from openings.calc.day_version import Placed, day_version
from openings.models import Assignment, BoardAct
from openings.models.assignment import AssignmentQuerySet
from openings.queries.span import shown_day
from openings.queries.travel import routes_among

CrewOn: TypeAlias = tuple[int, date]
"""The id of a crew, and a date."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenDay:
    """A crew's day as somebody saw it before they decided."""

    crew_id: int
    on: date
    version: str


def versions_by_day(*, first: date, days: int) -> dict[CrewOn, str]:
    """Return the version of each crew's day from `first` on. Seven queries at most, however many openings."""
    last = first + timedelta(days=days - 1)
    company = company_days_between(first, last)
    known = {(day.crew_id, day.on): day for day in crew_days_between(first, last)}
    given = _given(Assignment.objects.filter(crew_day__on__range=(first, last)))
    versions = {}
    for crew in Crew.objects.all():
        for on in (first + timedelta(days=number) for number in range(days)):
            capacity_person_h, off_reason = shown_day(crew, on, known.get((crew.pk, on)), company.get(on))
            versions[crew.pk, on] = given[crew.pk, on].version(crew, capacity_person_h, off_reason)
    return versions


def require_seen(seen: Iterable[SeenDay], days: Collection[CrewDay]) -> None:
    """Return if what was seen of these days is still so; what was seen of other days does not matter.

    Five queries at most. The days are locked, so that what is true here stays true.

    Raises:
        ChangedMeanwhile: a day says something else by now.
    """
    versions = {(one.crew_id, one.on): one.version for one in seen}
    concerned = [day for day in days if (day.crew_id, day.on) in versions]
    if not concerned:
        return
    given = _given(Assignment.objects.filter(crew_day__in=concerned))
    changed = [
        day
        for day in concerned
        if versions[day.crew_id, day.on]
        != given[day.crew_id, day.on].version(day.crew, day.capacity_person_h, day.off_reason)
    ]
    if changed:
        named = " and ".join(f"{day.crew} on {say_day(day.on)}" for day in changed)
        raise ChangedMeanwhile(
            f"{named} changed after you looked{_by_whom(changed)}; nothing was done. Look at what is there now, then "
            "decide",
            about=[about(day) for day in changed],
        )


def _by_whom(days: Collection[CrewDay]) -> str:
    """Return in words who last assigned, moved or unassigned openings of some days. One query."""
    concerned = [day.pk for day in days]
    acts = BoardAct.objects.filter(given__crew_day__in=concerned) | BoardAct.objects.filter(
        taken__crew_day__in=concerned
    )
    last = acts.select_related("by").order_by("-pk").first()
    return f" (last change by {last.by})" if last and last.by else ""


@dataclass(slots=True)
class _Given:
    """What is given to a crew's day, and the crew's way between its sites."""

    placed: list[Placed] = field(default_factory=list)
    job_ids: set[int] = field(default_factory=set)
    route: Route = NOWHERE

    def version(self, crew: Crew, capacity_person_h: Decimal, off_reason: str) -> str:
        driven_person_h = self.route.person_h(crew.people_count)
        return day_version(capacity_person_h, off_reason, self.placed, driven_person_h=driven_person_h)


def _given(assignments: AssignmentQuerySet) -> dict[CrewOn, _Given]:
    rows = assignments.live().with_state().order_by().values_list(*_OF_GIVEN)
    found: dict[CrewOn, _Given] = defaultdict(_Given)
    for crew_id, on, job_id, pk, state, updated_at in rows:
        found[crew_id, on].placed.append((pk, state, updated_at))
        found[crew_id, on].job_ids.add(job_id)
    routes = routes_among([frozenset(of_day.job_ids) for of_day in found.values()])
    for of_day in found.values():
        of_day.route = routes.get(frozenset(of_day.job_ids), NOWHERE)
    return found


_OF_GIVEN = ("crew_day__crew_id", "crew_day__on", "opening__job_id", "pk", "state", "opening__updated_at")
