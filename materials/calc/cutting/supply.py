"""Which new rolls might do, the cheapest choice first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from heapq import heappop, heappush
from typing import NamedTuple

MOST_MIXED = 40
"""Beyond so many rolls, the first ones are taken of the kind that is cheapest by the inch, so that choices stay few."""


class Kind(NamedTuple):
    """One length of new rolls: whole steps, with one trim more than it is long, and a whole price."""

    room: int
    price: int


class Need(NamedTuple):
    """What new rolls must hold together and how many they must be, of those longer than `above`."""

    above: int
    volume: int
    rolls: int


class Choice(NamedTuple):
    """New rolls: what they cost, what they hold, and each by itself, the longest last."""

    cost: int
    room: int
    rooms: tuple[int, ...]


def least_cost(kinds: Sequence[Kind], needs: Sequence[Need]) -> int:
    """Return a cost below which no choice meets the needs.

    It is that of the cheapest choice, but for more rolls than `MOST_MIXED`, where it is that of each need by the inch.
    """
    if not _base(kinds, needs):
        return next(choices(kinds, needs)).cost
    return max(_still(need, 0, 0, kinds) or 0 for need in needs)


def choices(kinds: Sequence[Kind], needs: Sequence[Need]) -> Iterator[Choice]:
    """Yield choices that meet the needs, the cheapest first; without end.

    Best first; what is still needed costs at least its share of the roll that is cheapest by the inch. The longest
    rolls are chosen first, as none else serves the longest pieces.

    Args:
        needs: each of which some kind can meet.
    """
    base = _base(kinds, needs)
    cheapest = _cheapest(kinds)
    needs = [_less(need, base, cheapest) for need in needs]
    longest_first = sorted(kinds, reverse=True)
    waiting = [(0, 0, (0,) * len(kinds), 0, 0)]
    while waiting:
        _, room, counts, cost, start = heappop(waiting)
        if all(_is_met(need, counts, longest_first) for need in needs):
            rooms = [cheapest.room] * base
            rooms += [kind.room for kind, count in zip(longest_first, counts, strict=True) for _ in range(count)]
            yield Choice(cost + base * cheapest.price, room + base * cheapest.room, tuple(sorted(rooms)))
        for place in range(start, len(kinds)):
            more = (*counts[:place], counts[place] + 1, *counts[place + 1 :])
            paid = cost + longest_first[place].price
            still = _all_still(needs, more, longest_first, place)
            if still is not None:
                heappush(waiting, (paid + still, room + longest_first[place].room, more, paid, place))


def are_left_out(kinds: Sequence[Kind], needs: Sequence[Need]) -> bool:
    """Return whether there are choices that `choices` does not yield."""
    return _base(kinds, needs) > 0


def _is_met(need: Need, counts: Sequence[int], kinds: Sequence[Kind]) -> bool:
    held, rolls = _served(need, counts, kinds)
    return held >= need.volume and rolls >= need.rolls


def _served(need: Need, counts: Sequence[int], kinds: Sequence[Kind]) -> tuple[int, int]:
    """Return what chosen rolls hold of a need, and how many they are."""
    held = rolls = 0
    for kind, count in zip(kinds, counts, strict=True):
        if kind.room > need.above:
            held += kind.room * count
            rolls += count
    return held, rolls


def _all_still(needs: Sequence[Need], counts: Sequence[int], kinds: Sequence[Kind], start: int) -> int | None:
    """Return what is still to be paid at least with the kinds from `start` on; None where they cannot meet a need."""
    most = 0
    for need in needs:
        held, rolls = _served(need, counts, kinds)
        still = _still(need, held, rolls, kinds[start:])
        if still is None:
            return None
        most = max(most, still)
    return most


def _still(need: Need, held: int, rolls: int, kinds: Sequence[Kind]) -> int | None:
    volume, count = need.volume - held, need.rolls - rolls
    if volume <= 0 and count <= 0:
        return 0
    serving = [kind for kind in kinds if kind.room > need.above]
    if not serving:
        return None
    by_inch = _cheapest(serving)
    return max(-(-volume * by_inch.price // by_inch.room), count * min(kind.price for kind in serving))


def _cheapest(kinds: Sequence[Kind]) -> Kind:
    """Return the kind that is cheapest by the inch."""
    return min(kinds, key=lambda kind: (kind.price / kind.room, -kind.room))


def _base(kinds: Sequence[Kind], needs: Sequence[Need]) -> int:
    """Return how many rolls of the cheapest kind are beyond choice; none where pieces ask for rolls, not for length."""
    if len(kinds) == 1:
        return 0
    by_volume = max(need.volume for need in needs) // _cheapest(kinds).room
    by_count = max(need.rolls for need in needs)
    return max(by_volume - MOST_MIXED, 0) if by_count <= by_volume + 1 else 0


def _less(need: Need, base: int, kind: Kind) -> Need:
    """Return what is needed beside so many rolls of a kind."""
    if kind.room <= need.above:
        return need
    return Need(need.above, need.volume - base * kind.room, need.rolls - base)
