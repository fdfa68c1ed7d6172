"""Taking some rolls of a packing apart and filling them anew, as long as it pays."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from materials.calc.cutting.fill import best_fill, taken
from materials.calc.cutting.packing import Packing

OFTEN, WITH_FIRST, MIXED = 0.95, 0.7, 0.5
"""How often one of them is a roll that is not full, their longest piece is put on first, and the order is mixed."""
JITTER = 0.4
"""By how much of its length a piece may move in a mixed order. All these were found by trial."""


def repair(
    packing: Packing, *, lost: int, patience: int, at_once: int, chance: Random, is_over: Callable[[], bool]
) -> bool:
    """Refill a few rolls at a time, never for the worse, until no more than `lost` steps are left of all rolls.

    Args:
        patience: how often in a row without gain.
        at_once: how many at most.

    Returns:
        Whether that was reached.
    """
    left = sum(packing.slack)
    in_vain = 0
    while left > lost and in_vain < patience and not (in_vain % 64 == 0 and is_over()):
        gain = _refill(packing, at_once, chance)
        in_vain = 0 if gain else in_vain + 1
        left -= gain
    return left <= lost


def _refill(packing: Packing, at_once: int, chance: Random) -> int:
    """Refill some rolls from their own pieces and the loose ones; return by how much less is left of them then."""
    which = _some(packing, at_once, chance)
    pool = [*packing.loose, *(size for roll in which for size in packing.held[roll])]
    pool.sort(reverse=True)
    if chance.random() < MIXED:
        pool.sort(key=lambda size: -size * (1 + JITTER * chance.random()))
    with_first = chance.random() < WITH_FIRST
    new = [taken(pool, best_fill(pool, packing.rooms[roll], with_first=with_first)) for roll in which]
    slack = [packing.rooms[roll] - sum(pieces) for roll, pieces in zip(which, new, strict=True)]
    gain = sum(packing.slack[roll] for roll in which) - sum(slack)
    if gain < 0:
        return 0
    for roll, pieces, left in zip(which, new, slack, strict=True):
        packing.held[roll], packing.slack[roll] = pieces, left
    packing.loose = pool
    return gain


def _some(packing: Packing, at_once: int, chance: Random) -> list[int]:
    """Return a few rolls in any order, mostly one of them not full."""
    rolls = range(len(packing.rooms))
    count = chance.randint(1, min(at_once, len(rolls)))
    some = chance.sample(rolls, count)
    loose = [roll for roll in rolls if packing.slack[roll]]
    if loose and chance.random() < OFTEN:
        wanted = chance.choice(loose)
        if wanted not in some:
            some[0] = wanted
    return some
