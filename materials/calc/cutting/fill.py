"""Filling one roll: which of the pieces at hand leave least of it."""

from __future__ import annotations

from collections.abc import Sequence


def best_fill(sizes: Sequence[int], room: int, *, with_first: bool = True) -> list[int]:
    """Return the places of the pieces that fill a roll best, the first that fits among them unless that is waived.

    The sums that pieces can make are the bits of one integer, so that a piece more costs a shift. The pieces that come
    first are preferred: sorted, the long ones go and the short ones, which fit anywhere, stay.

    Args:
        sizes: in whole steps, each with its trim.
        room: of the roll, with one trim more than it is long.
    """
    first = next((place for place, size in enumerate(sizes) if size <= room), None)
    if first is None:
        return []
    left = room - sizes[first] if with_first else room
    within, goal = (1 << (left + 1)) - 1, 1 << left
    sums, places, before = 1, [], []
    for place in range(first + with_first, len(sizes)):
        if sums & goal:
            break
        more = (sums | sums << sizes[place]) & within
        if more != sums:
            places.append(place)
            before.append(sums)
            sums = more
    chosen = _chosen(sizes, places, before, sums.bit_length() - 1)
    return [*chosen, first] if with_first else chosen


def taken(sizes: list[int], places: list[int]) -> list[int]:
    """Take the pieces at the places out of a list and return them.

    Args:
        places: the last first.
    """
    return [sizes.pop(place) for place in places]


def best_sum(sizes: Sequence[int], room: int) -> int:
    """Return the most that pieces take up of a roll."""
    within, sums = (1 << (room + 1)) - 1, 1
    for size in sizes:
        if sums >> room & 1:
            break
        sums = (sums | sums << size) & within
    return sums.bit_length() - 1


def _chosen(sizes: Sequence[int], places: list[int], before: list[int], total: int) -> list[int]:
    """Return the places that make a sum, the last first: a piece is in it where those before cannot make it alone."""
    chosen = []
    for place, sums in zip(reversed(places), reversed(before), strict=True):
        if not sums >> total & 1:
            chosen.append(place)
            total -= sizes[place]
    return chosen
