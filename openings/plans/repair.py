"""What breaks of the crew days that are planned, and the moves that mend it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass
from decimal import Decimal
from functools import partial

from jobs.errors import ChangedMeanwhile
from jobs.models import CrewDay, Job
from jobs.queries import drives_among, today_on_sites
from jobs.queries.drive import Drives
from openings.calc.mending import Broken, DayWithRoom, Offer, offers
from openings.models import Assignment, Opening
from openings.queries import (
    CrewOnDay,
    assigned_too_early,
    crews_by_day,
    hours_left,
    lifts_left,
    readiness,
    recorded_steps,
    stranded,
)

LOOKS_AHEAD_DAYS = 21
"""Days in which room is looked for (our choice: three weeks)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Break:
    """An assigned opening that its crew day cannot do, and why; the labor hours that it still takes, and the people."""

    assignment: Assignment
    why: str
    left_person_h: Decimal
    people: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Repair:
    """A crew day of which something breaks, and the ways to mend it, the best one first."""

    crew_day: CrewDay
    breaks: tuple[Break, ...]
    offers: tuple[Offer, ...]


def repairs(*, job_id: int | None = None) -> list[Repair]:
    """Return the crew days that cannot be done as planned, the earliest first, each with what mends it.

    That is what is stranded (its day is past, off or overfull) and what is assigned to a day on which it is not
    expected to be ready: a unit that comes later, another trade, the weather. An offer holds for itself: taking one
    changes the room that others count on.
    """
    why = {one.assignment: one.reason for one in stranded(job_id=job_id)}
    for early in assigned_too_early(job_id=job_id):
        why.setdefault(early.assignment, "; ".join(early.why))
    if not why:
        return []
    broken = _as_broken(why)
    by_day: dict[int, list[Break]] = defaultdict(list)
    for assignment, said in why.items():
        one = broken[assignment.pk]
        by_day[assignment.crew_day_id].append(
            Break(assignment=assignment, why=said, left_person_h=one.person_h, people=one.people)
        )
    room, drives = _room()
    found = []
    for of_day in by_day.values():
        crew_day = of_day[0].assignment.crew_day
        ways = offers(
            [broken[one.assignment.pk] for one in of_day],
            room,
            crew_id=crew_day.crew_id,
            on=crew_day.on,
            travel_h=partial(_driven_more_h, drives),
        )
        found.append(Repair(crew_day=crew_day, breaks=tuple(of_day), offers=ways))
    return sorted(found, key=lambda repair: (repair.crew_day.on, repair.crew_day.crew.name))


def find_offer(*, crew_day_id: int, name: str) -> Offer:
    """Return what was offered to mend a crew day, where it still is. As many queries as `repairs`.

    Raises:
        ChangedMeanwhile: it is offered no more: something was moved since, or the day is mended.
    """
    for repair in repairs():
        for offer in repair.offers:
            if (repair.crew_day.pk, offer.name) == (crew_day_id, name):
                return offer
    raise ChangedMeanwhile("that is offered no more, because a day was changed since; nothing was done")


def _room() -> tuple[list[DayWithRoom], Drives]:
    """Return the crew days of the coming weeks that have labor hours free, and the drives among the open jobs."""
    spans = crews_by_day(first=today_on_sites(), days=LOOKS_AHEAD_DAYS)
    drives = drives_among(Job.objects.open().values_list("pk", flat=True))
    days = [_as_room(cell) for day in spans for cell in day.cells if not cell.off_reason]
    return [day for day in days if day.free_person_h > 0], drives


def _as_room(cell: CrewOnDay) -> DayWithRoom:
    job_ids = frozenset(assignment.opening.job_id for assignment in cell.assignments)
    return DayWithRoom(
        crew_id=cell.crew.pk,
        on=cell.on,
        free_person_h=cell.capacity_person_h - cell.taken_person_h,
        people=cell.crew.people_count,
        job_ids=job_ids,
    )


def _driven_more_h(drives: Drives, day: DayWithRoom, job_ids: frozenset[int]) -> Decimal:
    """Return the labor hours on the road that serving further jobs adds to a day."""
    if job_ids <= day.job_ids:
        return Decimal(0)
    return drives.route(day.job_ids | job_ids).person_h(day.people) - drives.route(day.job_ids).person_h(day.people)


def _as_broken(assignments: Collection[Assignment]) -> dict[int, Broken]:
    """Return by assignment what the search for moves asks."""
    openings = Opening.objects.select_related("job", "detail").in_bulk([one.opening_id for one in assignments])
    ready = readiness(openings.values(), together=True, any_weather=True)
    recorded, lifts = recorded_steps(openings.values()), lifts_left(openings.values())
    left: dict[int, Decimal] = {}
    for experience in {one.crew_day.crew.experience for one in assignments}:
        of_these = [openings[one.opening_id] for one in assignments if one.crew_day.crew.experience == experience]
        left |= {pk: hours.person_h for pk, hours in hours_left(of_these, experience=experience).items()}
    return {
        one.pk: Broken(
            assignment_id=one.pk,
            job_id=openings[one.opening_id].job_id,
            person_h=left[one.opening_id],
            people=lifts[one.opening_id].people if one.opening_id in lifts else 1,
            not_before=ready[one.opening_id].plannable_from,
            not_on=frozenset(ready[one.opening_id].bad_days),
            may_unassign=not recorded.get(one.opening_id),
        )
        for one in assignments
    }
