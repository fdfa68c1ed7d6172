"""What a plan of roll cuts is held against: plain ways to cut, bounds of volume, and whether it can be cut at all."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from config.bench.cut_days import CutDay
from materials.calc.rolls import KEEP_IN, CutPlan, Roll
from openings.calc.figures import ceil_ratio

NOTHING = Decimal(0)


def best_fit_decreasing(day: CutDay) -> list[Decimal]:
    """Return what is left of each remnant and new roll that is cut: strips longest first, each into the least room.

    Remnants come before new rolls, and new rolls are of the longest length.
    """
    trim_in, new_in = day.trim_in, max(kind.length_in for kind in day.roll_lengths)
    whole = [remnant.length_in + trim_in for remnant in day.remnants]
    remnants, rolls = list(whole), list[Decimal]()
    for needed_in in sorted((cut.length_in + trim_in for cut in day.pieces), reverse=True):
        for pool in (remnants, rolls):
            rooms = [place for place, left_in in enumerate(pool) if left_in >= needed_in]
            if rooms:
                pool[min(rooms, key=pool.__getitem__)] -= needed_in
                break
        else:
            rolls.append(new_in + trim_in - needed_in)
    cut = [left_in for left_in, before_in in zip(remnants, whole, strict=True) if left_in < before_in]
    return [max(left_in - trim_in, NOTHING) for left_in in cut + rolls]


def first_fit_decreasing(capacity: int, sizes: Sequence[int]) -> int:
    """Return how many bins it takes, each item, the largest first, going into the first bin with room."""
    rooms: list[int] = []
    for size in sorted(sizes, reverse=True):
        for place, room in enumerate(rooms):
            if room >= size:
                rooms[place] -= size
                break
        else:
            rooms.append(capacity - size)
    return len(rooms)


def scrap_in(lefts_in: Sequence[Decimal]) -> Decimal:
    """Return how much of what is left is too short to keep."""
    return sum((left_in for left_in in lefts_in if left_in < KEEP_IN), NOTHING)


def kept(lefts_in: Sequence[Decimal]) -> int:
    """Return how many remnants are long enough to keep."""
    return sum(left_in >= KEEP_IN for left_in in lefts_in)


def volume_bound(day: CutDay) -> Decimal:
    """Return the least cost of new rolls that are together as long as what the remnants cannot hold."""
    shortest_in = min(cut.length_in for cut in day.pieces)
    needed_in = sum((cut.length_in + day.trim_in for cut in day.pieces), NOTHING)
    held_in = [remnant.length_in for remnant in day.remnants if remnant.length_in >= shortest_in]
    needed_in -= sum((length_in + day.trim_in for length_in in held_in), NOTHING)
    return _cheapest(max(needed_in, NOTHING), [(length_in + day.trim_in, price) for length_in, price in prices(day)])


def _cheapest(needed_in: Decimal, kinds: Sequence[tuple[Decimal, Decimal]]) -> Decimal:
    (length_in, price), *others = kinds
    most = ceil_ratio(needed_in, length_in)
    if not others:
        return most * price
    return min(
        count * price + _cheapest(max(needed_in - count * length_in, NOTHING), others) for count in range(most + 1)
    )


def prices(day: CutDay) -> list[tuple[Decimal, Decimal]]:
    """Return each length of new rolls with what one costs; 1 where no price is given."""
    return [(kind.length_in, Decimal(1) if kind.price is None else kind.price) for kind in day.roll_lengths]


def packing_bound(capacity: int, sizes: Sequence[int]) -> int:
    """Return a number of bins below which no packing can go.

    Source:
        The bound L2 of S. Martello and P. Toth, Knapsack Problems (1990), ch. 8.
    """
    return max(
        _bound_without(small, capacity, sizes) for small in {0, *(size for size in sizes if 2 * size <= capacity)}
    )


def _bound_without(small: int, capacity: int, sizes: Sequence[int]) -> int:
    """Return the bound without sizes below `small`: large ones have a bin each, and the rest fills what is left."""
    alone = sum(size > capacity - small for size in sizes)
    halves = [size for size in sizes if capacity - small >= size > capacity / 2]
    rest = sum(size for size in sizes if capacity / 2 >= size >= small)
    room = len(halves) * capacity - sum(halves)
    return alone + len(halves) + max(0, -((room - rest) // capacity))


def require_feasible(day: CutDay, plan: CutPlan) -> None:
    """Raise RuntimeError unless every piece is cut once, no roll is overdrawn and no remnant cut twice."""
    remnants = {remnant.code: remnant.length_in for remnant in day.remnants}
    costs = dict(prices(day))
    new = [roll for roll in plan.rolls if roll.remnant is None]
    old = {roll.remnant: roll.length_in for roll in plan.rolls if roll.remnant is not None}
    right = (
        sorted(cut for roll in plan.rolls for cut in roll.cuts) == sorted(day.pieces)
        and all(_left_in(roll, day.trim_in) == roll.left_in for roll in plan.rolls)
        and old.items() <= remnants.items()
        and len(new) + len(old) == len(plan.rolls)
        and all(roll.length_in in costs for roll in new)
        and plan.cost_lower_bound <= plan.cost == sum((costs[roll.length_in] for roll in new), NOTHING)
    )
    if not right:
        raise RuntimeError(f"a plan of {len(day.pieces)} strips cannot be cut as it stands")


def _left_in(roll: Roll, trim_in: Decimal) -> Decimal | None:
    """Return what is left after the last trim; None where the cuts are longer than the roll."""
    used_in = sum((cut.length_in + trim_in for cut in roll.cuts), -trim_in)
    return None if used_in > roll.length_in else max(roll.length_in - used_in - trim_in, NOTHING)
