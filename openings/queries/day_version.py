"""Versions of crew days: how two schedulers see each other, and why neither overwrites the other."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TypeAlias

from jobs.about import about
from jobs.calc.say import day as say_day
from jobs.errors import ChangedMeanwhile
from jobs.models import Crew, CrewDay
from jobs.queries import company_days_between, crew_days_between
from openings.calc.day_version import Placed, day_version
from openings.models import Assignment, BoardAct
from openings.models.assignment import AssignmentQuerySet
from openings.queries.span import shown_day

CrewOn: TypeAlias = tuple[int, date]
"""The id of a crew, and a date."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenDay:
    """A crew's day as somebody saw it before they decided."""

    crew_id: int
    on: date
    version: str


def versions_by_day(*, first: date, days: int) -> dict[CrewOn, str]:
    """Return the version of each crew's day from `first` on. Four queries, however many openings."""
    last = first + timedelta(days=days - 1)
    company = company_days_between(first, last)
    known = {(day.crew_id, day.on): day for day in crew_days_between(first, last)}
    placed = _placed(Assignment.objects.filter(crew_day__on__range=(first, last)))
    versions = {}
    for crew in Crew.objects.all():
        for on in (first + timedelta(days=number) for number in range(days)):
            capacity_person_h, off_reason = shown_day(crew, on, known.get((crew.pk, on)), company.get(on))
            versions[crew.pk, on] = day_version(capacity_person_h, off_reason, placed[crew.pk, on])
    return versions


def require_seen(seen: Iterable[SeenDay], days: Collection[CrewDay]) -> None:
    """Return if what was seen of these days is still so; what was seen of other days does not matter.

    Two queries at most. The days are locked, so that what is true here stays true.

    Raises:
        ChangedMeanwhile: a day says something else by now.
    """
    versions = {(one.crew_id, one.on): one.version for one in seen}
    concerned = [day for day in days if (day.crew_id, day.on) in versions]
    if not concerned:
        return
    placed = _placed(Assignment.objects.filter(crew_day__in=concerned))
    changed = [
        day
        for day in concerned
        if versions[day.crew_id, day.on]
        != day_version(day.capacity_person_h, day.off_reason, placed[day.crew_id, day.on])
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


def _placed(assignments: AssignmentQuerySet) -> dict[CrewOn, list[Placed]]:
    rows = assignments.live().with_state().order_by().values_list(*_OF_PLACED)
    found: dict[CrewOn, list[Placed]] = defaultdict(list)
    for crew_id, on, pk, state, updated_at in rows:
        found[crew_id, on].append((pk, state, updated_at))
    return found


_OF_PLACED = ("crew_day__crew_id", "crew_day__on", "pk", "state", "opening__updated_at")
