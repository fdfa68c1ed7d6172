"""Who gets which remnant, found fast: the saving that takes least is always the next, from remnants that just do."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from materials.calc.sharing.demand import FINEST, Demand, Set

TRIES = 8
"""Sets tried for one saving, each holding a little more than the last (our choice)."""


def share_greedily(demands: Sequence[Demand], remnants: Set, *, longest_first: bool) -> list[Set]:
    """Return a set of remnants for each crew.

    Args:
        longest_first: of sets that hold the same, one with longer remnants is taken.
    """
    given: list[Set] = [()] * len(demands)
    free = remnants
    open_to = set(range(len(demands)))
    while open_to:
        n = min(open_to, key=lambda n: (_price(demands[n], given[n]), n))
        own = merged(free, given[n])
        found = _covering(demands[n], own if longest_first else own[::-1], below=demands[n].least(given[n]))
        if found:
            given[n], free = found, without(own, found)
        else:
            open_to.remove(n)
    return given


def _price(demand: Demand, given: Set) -> Fraction:
    """Return how much more the remnants must hold for each unit that is saved next."""
    cost = demand.least(given)
    below = demand.below(cost)
    more = demand.needed(below) - demand.held(given)
    return Fraction(max(more, 0), max(cost - below, 1))


def _covering(demand: Demand, free: Sequence[int], *, below: int) -> Set | None:
    """Return remnants that just bring the new rolls below a cost."""
    if demand.below(below) == below:
        return None
    step = max(free, default=0) // FINEST + 1
    holds = [demand.fill.of(width) // step for width in free]
    sums = [1]
    for hold in holds:
        sums.append(sums[-1] | sums[-1] << hold)
    need = -(-demand.needed(demand.below(below)) // step)
    for _ in range(TRIES):
        if not (more := sums[-1] >> need):
            return None
        need += (more & -more).bit_length() - 1
        found = _adding_up(sums, holds, free, need)
        if demand.least(found) < below:
            return found
        need += 1
    return None


def _adding_up(sums: Sequence[int], holds: Sequence[int], free: Sequence[int], total: int) -> Set:
    """Return remnants that hold the total, the first ones where there is a choice."""
    found = []
    for n in reversed(range(len(holds))):
        if not sums[n] >> total & 1:
            found.append(free[n])
            total -= holds[n]
    return tuple(sorted(found, reverse=True))


def merged(free: Set, given: Set) -> Set:
    """Return all of them as one set."""
    return tuple(sorted((*free, *given), reverse=True))


def without(free: Set, given: Set) -> Set:
    """Return the free remnants that are not given."""
    left = list(free)
    for width in given:
        left.remove(width)
    return tuple(left)
