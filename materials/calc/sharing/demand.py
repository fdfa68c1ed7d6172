"""What a crew's new rolls cost at least, by the remnants that it gets.

Lengths are whole steps here and have a trim more, costs whole units; see `widths`.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import accumulate

CANNOT = 10**15
"""More than any day's rolls cost: what a crew costs whose pieces cannot be cut at all."""

FINEST = 1 << 16
"""Into so many steps the longest roll is divided at most, where sums of pieces are counted; coarser, the bound is
weaker by less than a step a piece. 900 in by thirty-seconds are 28,800 steps."""

Set = tuple[int, ...]
"""A set of remnants: their widths, longest first."""


class Fill:
    """How much of a width the pieces of a crew can take up at most."""

    def __init__(self, pieces: Sequence[int], *, longest: int) -> None:
        self.pieces = sorted(pieces)
        self._upto = list(accumulate(self.pieces))
        self._step = longest // FINEST + 1
        room = (1 << (longest // self._step + 1)) - 1
        self._sums = 1
        for piece in self.pieces:
            self._sums |= self._sums << (piece // self._step) & room
        self._known: dict[int, int] = {}

    def of(self, width: int) -> int:
        """Return the greatest sum of pieces within the width, or a little more where steps are coarse."""
        if width not in self._known:
            most = (self._sums & ((1 << (width // self._step + 1)) - 1)).bit_length() - 1
            count = bisect_right(self._upto, width)
            self._known[width] = min(width, most * self._step + count * (self._step - 1), self._upto[-1])
        return self._known[width]


@dataclass(kw_only=True)
class Demand:
    """What a crew's new rolls cost at least, by the remnants that it gets from the warehouse.

    Args:
        fill: of its pieces.
        kinds: width and cost of each length of new rolls.
        on_truck: widths of the remnants on its truck.
        known: sets of remnants and what the new rolls cost beside each; the first is the empty set.
    """

    fill: Fill
    kinds: Sequence[tuple[int, int]]
    on_truck: Set
    known: list[tuple[Set, int]] = field(default_factory=list)
    _least: dict[Set, int] = field(default_factory=dict, init=False)
    _worths: dict[int, int] = field(default_factory=dict, init=False)

    @property
    def alone(self) -> int:
        """The cost without any remnant from the warehouse."""
        return self.known[0][1]

    @cached_property
    def volume(self) -> int:
        """What the remnants on the truck cannot hold of the pieces."""
        return sum(self.fill.pieces) - self.held(self.on_truck)

    @cached_property
    def costs(self) -> list[int]:
        """The costs that tell sets of remnants apart, rising."""
        rolls = (cost for cost in self._bought[0] if cost < self.alone)
        saved = (self.alone - cost for _, cost in self.kinds if cost < self.alone)
        return sorted({0, *rolls, *saved, *(cost for _, cost in self.known)})

    def learn(self, widths: Set, cost: int) -> None:
        """Keep what a plan with these remnants costs: one with fewer or shorter ones costs no less."""
        self.known.append((widths, cost))
        self._least.clear()
        self.__dict__.pop("costs", None)

    def held(self, widths: Iterable[int]) -> int:
        """Return how much of the pieces the remnants can hold at most."""
        return sum(map(self.fill.of, widths))

    def needed(self, cost: int) -> int:
        """Return how much the remnants must hold for the new rolls to cost no more."""
        costs, volumes = self._bought
        return max(self.volume - volumes[bisect_right(costs, cost) - 1], 0)

    def below(self, cost: int) -> int:
        """Return the next lower of `costs`, the lowest itself."""
        return self.costs[max(bisect_left(self.costs, cost) - 1, 0)]

    def reachable(self, widths: Set) -> list[int]:
        """Return the costs, rising, that the remnants can bring the new rolls down to."""
        return self.costs[bisect_left(self.costs, self.least(widths)) : bisect_left(self.costs, self.alone)]

    def least(self, widths: Set) -> int:
        """Return what the new rolls cost at least beside these remnants, rounded down to one of `costs`."""
        if widths not in self._least:
            cost = max(self._by_volume(widths), self.alone - sum(map(self._worth, widths)))
            cost = max([cost, *(known for others, known in self.known if _is_within(widths, others))])
            self._least[widths] = self.costs[bisect_right(self.costs, cost) - 1]
        return self._least[widths]

    def _worth(self, width: int) -> int:
        """Return what a remnant can save at most: the cheapest new roll that would do in its stead."""
        if width not in self._worths:
            self._worths[width] = min((cost for roll, cost in self.kinds if roll >= width), default=CANNOT)
        return self._worths[width]

    def _by_volume(self, widths: Set) -> int:
        if self._too_long > max(widths, default=0):
            return CANNOT
        costs, volumes = self._bought
        level = bisect_left(volumes, self.volume - self.held(widths))
        return costs[level] if level < len(costs) else CANNOT

    @cached_property
    def _bought(self) -> tuple[list[int], list[int]]:
        """Costs of new rolls and the most of the pieces that they hold, both rising."""
        bought = {0: 0}
        for width, cost in self.kinds:
            if not (each := self.fill.of(width)):
                continue
            for spent, volume in list(bought.items()):
                for count in range(1, max(-((volume - self.volume) // each), 0) + 1):
                    total = spent + count * cost
                    bought[total] = max(bought.get(total, 0), volume + count * each)
            bought = _rising(bought)
        return list(bought), list(bought.values())

    @cached_property
    def _too_long(self) -> int:
        """The longest piece where it fits on no new roll and no remnant on the truck, else 0."""
        longest = self.fill.pieces[-1]
        return longest if longest > max([*self.on_truck, *(width for width, _ in self.kinds)], default=0) else 0


def _rising(bought: dict[int, int]) -> dict[int, int]:
    """Return what was bought by cost, without what holds no more than something cheaper."""
    rising = {}
    most = -1
    for cost, volume in sorted(bought.items()):
        if volume > most:
            rising[cost] = most = volume
    return rising


def _is_within(widths: Set, others: Set) -> bool:
    """Return whether each of the widths finds one among the others that is as long."""
    return len(widths) <= len(others) and all(map(int.__le__, widths, others))
