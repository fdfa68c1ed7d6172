"""What crews drive between the sites of a day."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping

from jobs.queries import drives_among
from jobs.queries.drive import NOWHERE, Route
from openings.models import Assignment


def routes_on(crew_day_ids: Collection[int], *, more: Mapping[int, Collection[int]] | None = None) -> dict[int, Route]:
    """Return by crew day the way between its sites, of the days that serve more than one.

    One query where no day does, else four.

    Args:
        more: jobs by crew day that are to come to those that are assigned.
    """
    jobs: dict[int, set[int]] = defaultdict(set)
    live = Assignment.objects.live().filter(crew_day__in=crew_day_ids)
    for day_id, job_id in live.order_by().values_list("crew_day", "opening__job").distinct():
        jobs[day_id].add(job_id)
    for day_id, job_ids in (more or {}).items():
        jobs[day_id].update(job_ids)
    sites = {day_id: frozenset(of_day) for day_id, of_day in jobs.items()}
    routes = routes_among(sites.values())
    return {day_id: routes[of_day] for day_id, of_day in sites.items() if of_day in routes}


def routes_among(sites: Iterable[frozenset[int]]) -> dict[frozenset[int], Route]:
    """Return the ways between the sites of days, given the jobs of each: of those days that serve more than one.

    Three queries, none where no day does.
    """
    several = {of_day for of_day in sites if len(of_day) > 1}
    if not several:
        return {}
    known = drives_among(frozenset().union(*several))
    return {of_day: known.route(of_day) for of_day in several}


def route_on(crew_day_id: int, *, more: Collection[int] = ()) -> Route:
    """Return the way between the sites of one crew day, which serves `more` jobs too. As `routes_on`."""
    return routes_on([crew_day_id], more={crew_day_id: more}).get(crew_day_id, NOWHERE)
