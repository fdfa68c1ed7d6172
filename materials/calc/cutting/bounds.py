"""How few rolls it takes at least."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Sequence
from itertools import accumulate

from materials.calc.cutting.fill import best_sum

MOST_PARTS, MOST_SHORT = 20, 120


def volume_needed(sizes: Sequence[int], remnants: Sequence[int]) -> int:
    """Return how much is left to be cut from new rolls, each remnant filled as well as these pieces fill it."""
    return max(sum(sizes) - sum(best_sum(sizes, room) for room in remnants), 0)


def large_pieces_bound(sizes: Sequence[int], room: int) -> int:
    """Return how many rolls it takes at least because long pieces share a roll with few others.

    For every length up to half a roll: pieces which leave less than it take a roll each; those of more than half one
    too, and the shorter ones down to that length go into what these leave, or into further rolls.

    Source:
        Bound L2 of S. Martello, P. Toth, Knapsack Problems (1990), ch. 8, from memory.
    """
    rising = sorted(sizes)
    sums = [0, *accumulate(rising)]
    half = bisect_right(rising, room // 2)
    beyond_half = len(rising) - half
    best = -(-sums[-1] // room)
    for short in sorted({0, *rising[:half]}):
        low, high = bisect_left(rising, short), bisect_right(rising, room - short)
        between = sums[high] - sums[half] if high > half else 0
        beside_in = max(high - half, 0) * room - between
        small = sums[half] - sums[low]
        best = max(best, beyond_half + max(-((beside_in - small) // room), 0))
    return best


def rounded_bound(sizes: Sequence[int], room: int, *, above: int) -> int:
    """Return how many rolls it takes at least by rounding shares of a roll, the first bound above `above` or the best.

    Of a piece that takes x of a roll count as many k-ths as there are whole (k + 1)-ths in x, and x itself where it is
    a multiple of 1 / (k + 1): no pattern then holds more than one. Before that, pieces shorter than some length count
    nothing, and those that leave less than it a whole roll.

    Source:
        S. Fekete, J. Schepers, New classes of fast lower bounds for bin packing problems, Mathematical Programming 91
        (2001), from memory.
    """
    counts = Counter(sizes)
    best = 0
    shorts = sorted({0} | {size for size in counts if 2 * size <= room})
    for short in shorts[:: -(-len(shorts) // MOST_SHORT)]:
        counted = [(room if size > room - short else size, count) for size, count in counts.items() if size >= short]
        for parts in range(1, MOST_PARTS):
            total = sum(count * _rounded(size, room, parts) for size, count in counted)
            best = max(best, -(-total // (parts * room)))
            if best > above:
                return best
    return best


def _rounded(size: int, room: int, parts: int) -> int:
    """Return a share of a roll, rounded, in steps times `parts`."""
    shares, rest = divmod((parts + 1) * size, room)
    return shares * room if rest else parts * size


def rolls_needed(sizes: Sequence[int], remnants: Sequence[int], *, volume: int, longest: int) -> int:
    """Return how few new rolls it takes at least.

    A remnant counts as a roll of which a part is cut off already.

    Args:
        volume: that remnants cannot hold.
        longest: room of the longest new roll.
    """
    whole = max(longest, *remnants) if remnants else longest
    cut_off = [whole - room for room in remnants if room < whole]
    by_length = large_pieces_bound([*sizes, *cut_off], whole) - len(remnants)
    return max(-(-volume // longest), by_length, 0)
