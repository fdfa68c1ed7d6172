"""The next crew day that has room."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from django.db.models import Sum

from jobs.models import Crew, CrewDay
from jobs.queries import company_days_between, crew_days_between
from jobs.queries.drive import NOWHERE
from openings.models import Assignment, Opening
from openings.models.assignment import AssignmentQuerySet
from openings.queries.computed import lift_need
from openings.queries.left import hours_left
from openings.queries.readiness import readiness
from openings.queries.span import shown_day
from openings.queries.travel import routes_among

DAYS_LOOKED_AT = 90


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """A crew's day that has the hours for what is asked, and as many people as each unit takes.

    Args:
        asked_person_h: with the drive between the sites of the day, `driven_person_h`.
    """

    crew: Crew
    on: date
    free_person_h: Decimal
    capacity_person_h: Decimal
    asked_person_h: Decimal
    driven_person_h: Decimal


def next_room(openings: Collection[Opening], *, first: date, crew: Crew | None = None) -> Room | None:
    """Return the first day from `first` on that takes all the openings, of one crew or of any; None within 90 days.

    Of several crews the one that is left with the least free hours, the drive between sites counted. Days on which one
    of the openings is not expected to be ready are passed over. Thirteen queries at most, and two for each way in which
    crews are used to the work.

    Args:
        openings: jobs and details joined.
    """
    last = first + timedelta(days=DAYS_LOOKED_AT - 1)
    people = max((lift_need(opening).people for opening in openings), default=0)
    crews = [one for one in ([crew] if crew else Crew.objects.in_service()) if one.people_count >= people]
    asked = {
        experience: sum((left.person_h for left in hours_left(openings, experience=experience).values()), Decimal(0))
        for experience in {one.experience for one in crews}
    }
    waits = readiness(openings, together=True).values()
    company = company_days_between(first, last)
    known = {(day.crew_id, day.on): day for day in crew_days_between(first, last)}
    live = Assignment.objects.live().filter(crew_day__in=[day.pk for day in known.values()]).order_by()
    taken = dict(live.values_list("crew_day").annotate(Sum("person_h")))
    sites = _sites(known.values(), live, {opening.job_id for opening in openings})
    routes = routes_among(sites.values())
    for on in (first + timedelta(days=number) for number in range(DAYS_LOOKED_AT)):
        if any(one.why_not_on(on) for one in waits):
            continue
        rooms = []
        for one in crews:
            day = known.get((one.pk, on))
            capacity_person_h, off_reason = shown_day(one, on, day, company.get(on))
            free_person_h = capacity_person_h - (taken.get(day.pk, Decimal(0)) if day else 0)
            driven_person_h = routes.get(sites[day.pk if day else NO_DAY], NOWHERE).person_h(one.people_count)
            asked_person_h = asked[one.experience] + driven_person_h
            if not off_reason and free_person_h >= asked_person_h:
                rooms.append(
                    Room(
                        crew=one,
                        on=on,
                        free_person_h=free_person_h,
                        capacity_person_h=capacity_person_h,
                        asked_person_h=asked_person_h,
                        driven_person_h=driven_person_h,
                    )
                )
        if rooms:
            return min(rooms, key=lambda room: (room.free_person_h, room.crew.name))
    return None


NO_DAY = 0
"""Stands for a day on which nothing is given yet, where days are named by their ids."""


def _sites(days: Iterable[CrewDay], live: AssignmentQuerySet, job_ids: Collection[int]) -> dict[int, frozenset[int]]:
    """Return by crew day the jobs that it would serve with these. One query."""
    served: dict[int, set[int]] = {NO_DAY: set(job_ids), **{day.pk: set(job_ids) for day in days}}
    for day_id, job_id in live.values_list("crew_day", "opening__job").distinct():
        served[day_id].add(job_id)
    return {day_id: frozenset(of_day) for day_id, of_day in served.items()}
