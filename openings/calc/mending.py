"""Which moves mend a crew day that cannot be done as planned."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum
from hashlib import blake2b

MOST_CREW_DAYS = 3
"""Crew days that one offer uses at most (our choice: more is planning anew, not mending)."""


class Way(StrEnum):
    """How an offer mends."""

    SAME_CREW = "same crew, next days with room"
    SAME_DAY = "same day, other crews"
    SOONEST = "soonest day, any crew"
    UNASSIGN = "unassign, back to the openings that wait"


@dataclass(frozen=True, slots=True, kw_only=True)
class Broken:
    """An assigned opening that its crew day cannot do.

    Args:
        person_h: labor hours it still takes.
        people: whom its unit takes to lift, at least.
        not_before: first day on which it is ready; None where nobody knows one, so it is given to no day.
        not_on: days after that on which it cannot be set all the same, such as days of rain.
        may_unassign: it was not begun.
    """

    assignment_id: int
    job_id: int
    person_h: Decimal
    people: int
    not_before: date | None
    not_on: frozenset[date] = frozenset()
    may_unassign: bool

    def can_be_set_on(self, on: date) -> bool:
        return self.not_before is not None and self.not_before <= on and on not in self.not_on


@dataclass(frozen=True, slots=True, kw_only=True)
class DayWithRoom:
    """A crew day on which something can still be set: its free labor hours, and the jobs it serves."""

    crew_id: int
    on: date
    free_person_h: Decimal
    people: int
    job_ids: frozenset[int]


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewMove:
    """Assignments that go to one crew day together."""

    crew_id: int
    on: date
    assignment_ids: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """One way to mend a crew day: moves, what is unassigned, and what stays broken all the same."""

    way: Way
    moves: tuple[CrewMove, ...]
    unassigned: tuple[int, ...] = ()
    left: tuple[int, ...] = ()

    @property
    def name(self) -> str:
        """What it is known by to who takes it: 16 hexadecimal digits, others as soon as it would do anything else."""
        says = [str(self.way), *map(repr, (self.moves, self.unassigned, self.left))]
        return blake2b("\n".join(says).encode(), digest_size=8).hexdigest()

    @property
    def last_on(self) -> date | None:
        """The last day that it uses."""
        return max((move.on for move in self.moves), default=None)


TravelH = Callable[[DayWithRoom, frozenset[int]], Decimal]
"""Labor hours that a crew day drives more when it serves those jobs too."""


def no_travel(day: DayWithRoom, job_ids: frozenset[int]) -> Decimal:
    """Return 0: all sites stand beside each other."""
    return Decimal(0)


def offers(
    broken: Sequence[Broken], days: Iterable[DayWithRoom], *, crew_id: int, on: date, travel_h: TravelH = no_travel
) -> tuple[Offer, ...]:
    """Return ways to mend one crew day, the one that leaves least and ends soonest first, each once; unassigning last.

    Args:
        broken: what cannot be done by `crew_id` on `on`.
        days: crew days that can take something; work goes to no day before its own, for that one is being got ready.
        travel_h: what serving further jobs on a day takes beside the openings.
    """
    coming = sorted((day for day in days if day.on >= on), key=lambda day: (day.on, day.crew_id))
    tried = (
        _placed(Way.SAME_CREW, broken, [day for day in coming if day.crew_id == crew_id and day.on > on], travel_h),
        _placed(Way.SAME_DAY, broken, [day for day in coming if day.crew_id != crew_id and day.on == on], travel_h),
        _placed(Way.SOONEST, broken, [day for day in coming if (day.crew_id, day.on) != (crew_id, on)], travel_h),
    )
    found = {offer.moves: offer for offer in reversed(tried) if offer.moves}
    best = sorted(found.values(), key=lambda offer: (len(offer.left), offer.last_on, len(offer.moves)))
    return (*best, *_unassigning(broken))


def _placed(way: Way, broken: Sequence[Broken], days: Sequence[DayWithRoom], travel_h: TravelH) -> Offer:
    """Return the broken openings given to days, the largest first, each to the first day that can take it."""
    used: dict[tuple[int, date], list[Broken]] = {}
    left = []
    for one in sorted(broken, key=lambda one: (-one.person_h, one.assignment_id)):
        day = next(_takers(one, days, used, travel_h), None)
        if day is None:
            left.append(one.assignment_id)
        else:
            used.setdefault((day.crew_id, day.on), []).append(one)
    moves = tuple(
        CrewMove(crew_id=crew, on=on, assignment_ids=tuple(sorted(one.assignment_id for one in given)))
        for (crew, on), given in sorted(used.items(), key=lambda item: (item[0][1], item[0][0]))
    )
    return Offer(way=way, moves=moves, left=tuple(sorted(left)))


def _takers(
    one: Broken, days: Sequence[DayWithRoom], used: dict[tuple[int, date], list[Broken]], travel_h: TravelH
) -> Iterator[DayWithRoom]:
    for day in days:
        if not one.can_be_set_on(day.on) or day.people < one.people:
            continue
        if (day.crew_id, day.on) not in used and len(used) >= MOST_CREW_DAYS:
            continue
        given = [*used.get((day.crew_id, day.on), ()), one]
        taken_h = sum((each.person_h for each in given), Decimal(0))
        if taken_h + travel_h(day, frozenset(each.job_id for each in given)) <= day.free_person_h:
            yield day


def _unassigning(broken: Iterable[Broken]) -> Iterator[Offer]:
    broken = list(broken)
    free = tuple(sorted(one.assignment_id for one in broken if one.may_unassign))
    if free:
        begun = tuple(sorted(one.assignment_id for one in broken if not one.may_unassign))
        yield Offer(way=Way.UNASSIGN, moves=(), unassigned=free, left=begun)
