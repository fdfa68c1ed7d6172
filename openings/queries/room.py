"""The next crew day that has room."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from django.db.models import Sum

from jobs.models import Crew
from jobs.queries import company_days_between, crew_days_between
from openings.models import Assignment, Opening
from openings.queries.computed import lift_need
from openings.queries.left import hours_left
from openings.queries.span import shown_day

DAYS_LOOKED_AT = 90


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """A crew's day that has the hours for what is asked, and as many people as each unit takes."""

    crew: Crew
    on: date
    free_person_h: Decimal
    capacity_person_h: Decimal
    asked_person_h: Decimal


def next_room(openings: Collection[Opening], *, first: date, crew: Crew | None = None) -> Room | None:
    """Return the first day from `first` on that takes all the openings, of one crew or of any; None within 90 days.

    Of several crews the one that is left with the least free hours. Four queries, and two for each way in which crews
    are used to the work.

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
    company = company_days_between(first, last)
    known = {(day.crew_id, day.on): day for day in crew_days_between(first, last)}
    live = Assignment.objects.live().filter(crew_day__in=[day.pk for day in known.values()]).order_by()
    taken = dict(live.values_list("crew_day").annotate(Sum("person_h")))
    for on in (first + timedelta(days=number) for number in range(DAYS_LOOKED_AT)):
        rooms = []
        for one in crews:
            day = known.get((one.pk, on))
            capacity_person_h, off_reason = shown_day(one, on, day, company.get(on))
            free_person_h = capacity_person_h - (taken.get(day.pk, Decimal(0)) if day else 0)
            if not off_reason and free_person_h >= asked[one.experience]:
                rooms.append(
                    Room(
                        crew=one,
                        on=on,
                        free_person_h=free_person_h,
                        capacity_person_h=capacity_person_h,
                        asked_person_h=asked[one.experience],
                    )
                )
        if rooms:
            return min(rooms, key=lambda room: (room.free_person_h, room.crew.name))
    return None
