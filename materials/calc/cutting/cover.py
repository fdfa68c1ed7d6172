"""Covering the pieces of several rolls exactly: every way to fill one roll, then the choice of ways."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Mapping, Sequence
from random import Random

MOST_WAYS = 3000
MOST_WORK = 20_000


class TooMuchWork(Exception):
    """The search was given up before its end."""


def ways_to_fill(sizes: Sequence[int], room: int, waste: int, *, is_over: Callable[[], bool]) -> list[int]:
    """Return all sets of pieces, as bits of their places, that leave at most `waste` of a roll.

    Args:
        sizes: longest first.

    Raises:
        TooMuchWork: there are too many, or the time is over.
    """
    rest = _sums_of_rest(sizes, room)
    negative = [-size for size in sizes]
    window = (1 << (waste + 1)) - 1
    ways: list[int] = []
    stack = [(0, room, 0)]
    work = 0
    while stack:
        start, left, way = stack.pop()
        work += 1
        if work > MOST_WORK or len(ways) > MOST_WAYS or (work % 256 == 0 and is_over()):
            raise TooMuchWork
        if left <= waste:
            ways.append(way)
        for place in range(bisect_left(negative, -left, start), len(sizes)):
            need = left - waste
            if need > 0 and not rest[place] >> need & window:
                break
            need -= sizes[place]
            if need <= 0 or rest[place + 1] >> need & window:
                stack.append((place + 1, left - sizes[place], way | 1 << place))
    return ways


def _sums_of_rest(sizes: Sequence[int], room: int) -> list[int]:
    """Return for each place the sums, as bits, that the pieces from there on can make."""
    within = (1 << (room + 1)) - 1
    rest = [1]
    for size in reversed(sizes):
        rest.append((rest[-1] | rest[-1] << size) & within)
    rest.reverse()
    return rest


def divide(
    sizes: Sequence[int], rooms: Sequence[int], *, waste: int, steps: int, chance: Random, is_over: Callable[[], bool]
) -> list[tuple[int, list[int]]] | None:
    """Return all pieces divided among the rolls, each roll with its own; None where that cannot be.

    Args:
        sizes: longest first.
        waste: what may be left of these rolls together, no more than their rooms less the pieces.

    Raises:
        TooMuchWork: neither was found within so many steps, or the time is over.
    """
    whole = max(rooms)
    shorter = [room for room in rooms if room < whole]
    wastes: dict[int, int] = {}
    for room in {whole, *shorter}:
        ways = ways_to_fill(sizes, room, min(waste, room), is_over=is_over)
        marks = [1 << len(sizes) + place for place, short in enumerate(shorter) if short == room] or [0]
        for way in ways:
            left = room - sum(sizes[place] for place in _places(way))
            wastes.update({way | mark: left for mark in marks if way | mark})
    chosen = cover(wastes, len(sizes) + len(shorter), waste, steps=steps, chance=chance, is_over=is_over)
    if chosen is None:
        return None
    return [_on_roll(way, sizes, shorter, whole) for way in chosen]


def cover(
    wastes: Mapping[int, int], places: int, waste: int, *, steps: int, chance: Random, is_over: Callable[[], bool]
) -> list[int] | None:
    """Return ways that take every place once and together waste no more than `waste`; None where there are none.

    Always goes on with the place that the fewest ways still take.

    Args:
        wastes: what each way leaves of its roll.

    Raises:
        TooMuchWork: `steps` steps did not settle it, or the time is over.
    """
    by_place: list[list[int]] = [[] for _ in range(places)]
    for way in wastes:
        for place in _places(way):
            by_place[place].append(way)
    every = (1 << places) - 1
    chosen: list[int] = []
    done = 0

    def go_on(covered: int, waste: int) -> bool:
        nonlocal done
        if covered == every:
            return True
        done += 1
        if done > steps or (done % 32 == 0 and is_over()):
            raise TooMuchWork
        fewest = _fewest(by_place, covered, every)
        chance.shuffle(fewest)
        for way in fewest:
            if wastes[way] <= waste:
                chosen.append(way)
                if go_on(covered | way, waste - wastes[way]):
                    return True
                chosen.pop()
        return False

    return chosen if go_on(0, waste) else None


def _fewest(by_place: Sequence[Sequence[int]], covered: int, every: int) -> list[int]:
    """Return the ways still open for the open place that has fewest."""
    best: list[int] | None = None
    for place in _places(every & ~covered):
        still = [way for way in by_place[place] if not way & covered]
        if best is None or len(still) < len(best):
            best = still
            if len(best) <= 1:
                break
    return best or []


def _places(bits: int) -> list[int]:
    """Return which bits are set, the lowest first."""
    places = []
    while bits:
        lowest = bits & -bits
        places.append(lowest.bit_length() - 1)
        bits ^= lowest
    return places


def _on_roll(way: int, sizes: Sequence[int], shorter: Sequence[int], whole: int) -> tuple[int, list[int]]:
    places = _places(way)
    room = shorter[places[-1] - len(sizes)] if places[-1] >= len(sizes) else whole
    return room, [sizes[place] for place in places if place < len(sizes)]
