"""The bound of the linear program: what rolls would cost at least if patterns could be cut in fractions."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple

from materials.calc.cutting.supply import Kind

MOST_WORK = 16_000_000
"""In all, sizes times steps of each knapsack: what takes a few seconds."""
PATTERNS_A_SIZE = 3
"""About so many patterns it takes to be done; where that would be too much work, it is not begun."""
MOST_PATTERNS = 1000
TINY = 1e-9
FINE = 1 << 24
"""By which values are multiplied before they are made whole."""


def fractional_bound(
    demands: Mapping[int, int],
    kinds: Sequence[Kind],
    remnants: Sequence[int],
    *,
    above: int,
    is_over: Callable[[], bool],
) -> int:
    """Return a cost of new rolls below which there is no plan, given up once it cannot come out above `above`.

    Patterns are added as they pay: those so far tell what a piece of each size is worth, and the roll that holds most
    for its price by these values is the next pattern. The bound itself is calculated from the values in whole numbers,
    so that no rounding makes it too high: what all pieces are worth, less the most that the remnants hold, by the most
    that a roll gives for its price.

    Args:
        demands: how many pieces of each size.

    Source:
        P. C. Gilmore, R. E. Gomory, A linear programming approach to the cutting-stock problem, Operations Research
        9 (1961); the bound from any values: A. A. Farley, Operations Research 38 (1990). Both from memory.
    """
    room = max([kind.room for kind in kinds] + [*remnants])
    best = 0
    for program, values, knapsack, is_last in _programs(demands, kinds, room, is_over):
        if not remnants and program.cost() <= above + TINY:
            break
        worth = max(knapsack.worth[kind.room] / kind.price for kind in kinds)
        if is_last or program.cost() > (above + TINY) * worth:
            best = _whole_bound(program.sizes, demands, values, kinds, remnants, room)
            if best > above:
                break
    return best


def whole_patterns(demands: Mapping[int, int], kind: Kind, *, is_over: Callable[[], bool]) -> list[list[int]]:
    """Return the sizes on each roll that the best patterns in fractions give when those are rounded down.

    What they leave over is little: less than a roll for each size.
    """
    last = None
    for program, _, _, is_last in _programs(demands, [kind], kind.room, is_over):
        last = program if is_last else None
    if last is None:
        return []
    left = dict(demands)
    rolls = []
    for pattern, often in last.patterns():
        for _ in range(int(often + TINY)):
            counts = {size: min(count, left[size]) for size, count in pattern.items()}
            for size, count in counts.items():
                left[size] -= count
            rolls.append([size for size, count in counts.items() for _ in range(count)])
    return [roll for roll in rolls if roll]


def _programs(
    demands: Mapping[int, int], kinds: Sequence[Kind], room: int, is_over: Callable[[], bool]
) -> Iterator[tuple[_Program, list[float], _Knapsack, bool]]:
    """Yield the program after each pattern, the values of the sizes, what rolls hold by them, and whether it is best.

    Ends before it is best where that is too much work, or lost in rounding.
    """
    if PATTERNS_A_SIZE * len(demands) ** 2 * room > MOST_WORK:
        return
    program = _Program(demands, kinds)
    work = 0
    for _ in range(MOST_PATTERNS):
        if is_over() or work > MOST_WORK:
            return
        values = program.values()
        least = min(range(len(values)), key=values.__getitem__)
        if values[least] < -TINY:
            if not program.enter({least: -1}, 0):
                return
            continue
        knapsack = _Knapsack(program.sizes, demands, values, room)
        work += len(demands) * room
        kind = max(kinds, key=lambda one: knapsack.worth[one.room] / one.price)
        is_last = knapsack.worth[kind.room] <= kind.price + TINY
        yield program, values, knapsack, is_last
        if is_last or not program.enter(knapsack.pattern(kind.room), kind.price):
            return


def _whole_bound(
    sizes: Sequence[int],
    demands: Mapping[int, int],
    values: Sequence[float],
    kinds: Sequence[Kind],
    remnants: Sequence[int],
    room: int,
) -> int:
    whole = [max(int(value * FINE), 0) for value in values]
    knapsack = _Knapsack(sizes, demands, whole, room)
    needed = sum(value * demands[size] for size, value in zip(sizes, whole, strict=True))
    needed -= sum(int(knapsack.worth[remnant]) for remnant in remnants)
    by_price = max(Fraction(int(knapsack.worth[kind.room]), kind.price) for kind in kinds)
    return max(-(-needed // by_price), 0) if by_price else 0


class _Item(NamedTuple):
    """Several pieces of one size, taken together or not."""

    place: int
    often: int
    size: int
    worth: float


class _Knapsack:
    """The most that rolls of every length up to one hold by the worth of pieces, no size more often than demanded."""

    def __init__(self, sizes: Sequence[int], demands: Mapping[int, int], values: Sequence[float], room: int) -> None:
        self._items: list[_Item] = []
        self._before: list[list[float]] = []
        self.worth: list[float] = [0] * (room + 1)
        for place, (size, value) in enumerate(zip(sizes, values, strict=True)):
            if value > 0:
                for count in _doubling(min(demands[size], room // size)):
                    self._add(_Item(place, count, size * count, value * count))

    def pattern(self, room: int) -> dict[int, int]:
        """Return how many of each size, by place, are worth most on a roll."""
        counts: dict[int, int] = {}
        after = self.worth
        for item, before in zip(reversed(self._items), reversed(self._before), strict=True):
            if after[room] > before[room]:
                counts[item.place] = counts.get(item.place, 0) + item.often
                room -= item.size
            after = before
        return counts

    def _add(self, item: _Item) -> None:
        before, worth = self.worth, item.worth
        taken = [value + worth for value in before[: len(before) - item.size]]
        head, tail = before[: item.size], before[item.size :]
        self.worth = head + [new if new > old else old for new, old in zip(taken, tail, strict=True)]
        self._items.append(item)
        self._before.append(before)


def _doubling(count: int) -> Iterator[int]:
    """Yield parts from which every number up to `count` can be added up."""
    part = 1
    while count > 0:
        yield min(part, count)
        count -= part
        part *= 2


class _Program:
    """The patterns in use, by the inverse of their matrix, and how often each is cut."""

    def __init__(self, demands: Mapping[int, int], kinds: Sequence[Kind]) -> None:
        longest = max(kinds)
        self.sizes = sorted(demands, reverse=True)
        most = [min(demands[size], longest.room // size) for size in self.sizes]
        self._costs = [float(longest.price)] * len(self.sizes)
        self._amounts = [demands[size] / count for size, count in zip(self.sizes, most, strict=True)]
        self._patterns: list[Mapping[int, int]] = [{place: count} for place, count in enumerate(most)]
        self._inverse = [
            [1 / count if row == column else 0.0 for column in range(len(most))] for row, count in enumerate(most)
        ]

    def cost(self) -> float:
        return sum(cost * amount for cost, amount in zip(self._costs, self._amounts, strict=True))

    def patterns(self) -> Iterator[tuple[dict[int, int], float]]:
        """Yield how many pieces of each size a pattern has, and how often it is cut."""
        for pattern, amount in zip(self._patterns, self._amounts, strict=True):
            if all(count > 0 for count in pattern.values()):
                yield {self.sizes[place]: count for place, count in pattern.items()}, amount

    def values(self) -> list[float]:
        """Return what one more piece of each size would cost."""
        values = [0.0] * len(self.sizes)
        for cost, row in zip(self._costs, self._inverse, strict=True):
            if cost:
                values = [value + cost * entry for value, entry in zip(values, row, strict=True)]
        return values

    def enter(self, pattern: Mapping[int, int], cost: int) -> bool:
        """Cut a pattern as often as may be; the one that is not cut any more leaves. False where rounding hides it."""
        shares = [sum(count * row[place] for place, count in pattern.items()) for row in self._inverse]
        ratios = [
            (amount / share, row)
            for row, (amount, share) in enumerate(zip(self._amounts, shares, strict=True))
            if share > TINY
        ]
        if not ratios:
            return False
        often, leaving = min(ratios)
        pivot = [entry / shares[leaving] for entry in self._inverse[leaving]]
        for row, share in enumerate(shares):
            if row != leaving and share:
                old = self._inverse[row]
                self._inverse[row] = [entry - share * new for entry, new in zip(old, pivot, strict=True)]
                self._amounts[row] = max(self._amounts[row] - share * often, 0.0)
        self._patterns[leaving] = pattern
        self._inverse[leaving], self._amounts[leaving], self._costs[leaving] = pivot, often, float(cost)
        return True
