"""Who gets which remnant, as far as lengths tell: no plan of a day does better."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from materials.calc.sharing.curve import Curve, steps_of
from materials.calc.sharing.demand import Demand, Set
from materials.calc.sharing.greedy import merged, share_greedily, without


@dataclass(frozen=True, slots=True, kw_only=True)
class Allotment:
    """Remnants by crew, in the order of the demands; what the new rolls cost beside them as far as the demands tell,
    the cost that no allotment goes below, and the steps left.
    """

    given: tuple[Set, ...]
    cost: int
    at_least: int
    nodes: int


def allot(demands: Sequence[Demand], remnants: Iterable[int], *, nodes: int) -> Allotment:
    """Return who gets what, so that the new rolls cost least as far as the demands tell.

    Where greed does not reach the bound: depth first over the crews, least need first, then over the sets that save a
    crew something. Only sets are tried of which no remnant can be left out or changed for a shorter free one: a
    longer one is worth as much to others.

    Args:
        remnants: widths.
        nodes: steps after which the best so far is returned, with a weaker bound.
    """
    order = sorted(range(len(demands)), key=lambda n: (demands[n].needed(demands[n].below(demands[n].alone)), n))
    search = _Search([demands[n] for n in order], tuple(sorted(remnants, reverse=True)), nodes)
    at_least = search.run()
    placed = dict(zip(order, search.best, strict=True))
    given = tuple(placed[n] for n in range(len(demands)))
    cost = sum(demand.least(widths) for demand, widths in zip(demands, given, strict=True))
    return Allotment(given=given, cost=cost, at_least=at_least, nodes=search.nodes)


class _Search:
    """The best allotment so far, and what the crews not yet served can save at most."""

    def __init__(self, demands: Sequence[Demand], remnants: Set, nodes: int) -> None:
        self._demands, self._remnants, self.nodes = demands, remnants, nodes
        self.best: tuple[Set, ...] = ((),) * len(demands)
        self._saved = 0
        self._seen: dict[tuple[int, Set], int] = {}
        self._targets = [demand.reachable(remnants) for demand in demands]
        self._held = [
            {width: max((demand.fill.of(width) for demand in demands[n:]), default=0) for width in remnants}
            for n in range(len(demands) + 1)
        ]
        self._by_volume = self._curves(lambda demand, cost: demand.needed(cost))
        self._by_count = self._curves(self._fewest)

    def run(self) -> int:
        """Find the best allotment; return the cost that none goes below."""
        alone = sum(demand.alone for demand in self._demands)
        for longest_first in (True, False):
            given = share_greedily(self._demands, self._remnants, longest_first=longest_first)
            saved = alone - sum(demand.least(one) for demand, one in zip(self._demands, given, strict=True))
            if saved > self._saved:
                self._saved, self.best = saved, tuple(given)
        self._serve(0, self._remnants, 0, ())
        return alone - (self._most(0, self._remnants) if self.nodes < 0 else self._saved)

    def _serve(self, n: int, free: Set, saved: int, given: tuple[Set, ...]) -> None:
        """Try what the crews from the n-th on may get of the free remnants."""
        self.nodes -= 1
        if saved > self._saved:
            self._saved, self.best = saved, given + ((),) * (len(self._demands) - len(given))
        if self.nodes < 0 or saved + self._most(n, free) <= self._saved or self._seen.get((n, free), -1) >= saved:
            return
        self._seen[n, free] = saved
        demand = self._demands[n]
        for cost in reversed(self._targets[n]):
            for widths in self._sets(demand, cost, free, 0, ()):
                self._serve(n + 1, without(free, widths), saved + demand.alone - demand.least(widths), (*given, widths))
                if saved + self._most(n, free) <= self._saved:
                    return
        self._serve(n + 1, free, saved, (*given, ()))

    def _most(self, n: int, free: Set) -> int:
        """Return what the crews from the n-th on can save at most from the free remnants."""
        held = self._held[n]
        return min(self._by_volume[n].at(sum(held[width] for width in free)), self._by_count[n].at(len(free)))

    def _sets(self, demand: Demand, cost: int, free: Set, start: int, taken: Set) -> Iterator[Set]:
        """Yield sets beside which the crew's new rolls cost no more: those taken and some from `start` on."""
        self.nodes -= 1
        if self.nodes < 0 or demand.least(taken + free[start:]) > cost:
            return
        too_short = bisect_left(range(start, len(free)), True, key=lambda n: demand.least((*taken, free[n])) > cost)
        first = start + too_short
        if too_short and not _is_wasteful(demand, cost, free, widths := (*taken, free[first - 1])):
            yield widths
        for n in range(first, len(free)):
            if n == first or free[n] < free[n - 1]:
                yield from self._sets(demand, cost, free, n + 1, (*taken, free[n]))

    def _fewest(self, demand: Demand, cost: int) -> int:
        """Return how many remnants it takes at least for the new rolls to cost no more."""
        counts = range(len(self._remnants) + 1)
        return bisect_left(counts, True, key=lambda count: demand.least(self._remnants[:count]) <= cost)

    def _curves(self, needed: Callable[[Demand, int], int]) -> list[Curve]:
        """Return for the crews from each on what is saved at most by what it takes to save it."""
        served = zip(self._demands, self._targets, strict=True)
        steps = [steps_of((needed(one, cost), one.alone - cost) for cost in costs) for one, costs in served]
        return [Curve(step for one in steps[n:] for step in one) for n in range(len(steps) + 1)]


def _is_wasteful(demand: Demand, cost: int, free: Set, widths: Set) -> bool:
    """Return whether one of the remnants but the last could be a shorter free one."""
    left = without(free, widths)
    for n, width in enumerate(widths[:-1]):
        shorter = next((other for other in left if other < width), None)
        others = (*widths[:n], *widths[n + 1 :])
        if shorter is not None and demand.least(merged(others, (shorter,))) <= cost:
            return True
    return False
