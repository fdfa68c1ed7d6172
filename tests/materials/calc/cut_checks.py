"""What every cutting plan must keep to, and the least cost of a small one by trying everything."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal
from functools import cache

from materials.calc.roll_lengths import RollLength
from materials.calc.rolls import KEEP_IN, NO_TRIM, Cut, CutPlan, Remnant, plan_cuts

Number = Decimal | int | str


def cuts(*lengths: Number) -> list[Cut]:
    """Return a piece of each length, each with a label of its own."""
    return [Cut(Decimal(length), f"piece {number}") for number, length in enumerate(lengths)]


def many(*sizes: tuple[Number, int]) -> list[Cut]:
    """Return so many pieces of each length."""
    return cuts(*(length for length, count in sizes for _ in range(count)))


def stock(*lengths: Number | tuple[Number, Number]) -> list[RollLength]:
    """Return the lengths of new rolls, with their prices where they are pairs."""
    pairs = [length if isinstance(length, tuple) else (length, None) for length in lengths]
    return [RollLength(Decimal(length), None if price is None else Decimal(price)) for length, price in pairs]


def shelf(*lengths: Number) -> list[Remnant]:
    """Return a remnant of each length."""
    return [Remnant(Decimal(length), f"remnant {number}") for number, length in enumerate(lengths)]


def planned(
    pieces: Sequence[Cut],
    roll_lengths: Sequence[RollLength],
    remnants: Sequence[Remnant] = (),
    **more,
) -> CutPlan:
    """Return a plan that has been checked."""
    plan = plan_cuts(pieces, roll_lengths=roll_lengths, remnants=remnants, **more)
    checked = {name: more[name] for name in ("trim_in", "keep_in") if name in more}
    assert_sound(plan, pieces, roll_lengths, remnants, **checked)
    return plan


def assert_sound(
    plan: CutPlan,
    pieces: Sequence[Cut],
    roll_lengths: Sequence[RollLength] = (),
    remnants: Sequence[Remnant] = (),
    *,
    trim_in: Decimal = NO_TRIM,
    keep_in: Decimal = KEEP_IN,
) -> None:
    """Check every piece once, rolls and remnants that exist, nothing overdrawn, and the plan's figures."""
    assert Counter(cut for roll in plan.rolls for cut in roll.cuts) == Counter(pieces)
    cut_up = Counter(Remnant(roll.length_in, roll.remnant) for roll in plan.rolls if roll.remnant is not None)
    assert cut_up <= Counter(remnants)
    for roll in plan.rolls:
        # Arithmetic: k cuts take their lengths and k - 1 trims, and a k-th trim where the last does not end the roll.
        used_in = sum(cut.length_in for cut in roll.cuts) + trim_in * (len(roll.cuts) - 1)
        assert roll.cuts
        assert used_in <= roll.length_in
        assert roll.left_in == max(roll.length_in - used_in - trim_in, 0)
        assert roll.is_kept == (roll.left_in >= keep_in)
    new = [roll.length_in for roll in plan.rolls if roll.remnant is None]
    assert plan.rolls_new == len(new)
    assert plan.cost == sum(price_of(length_in, roll_lengths) for length_in in new)
    assert plan.rolls_lower_bound <= plan.rolls_new
    assert plan.cost_lower_bound <= plan.cost


def price_of(length_in: Decimal, roll_lengths: Sequence[RollLength]) -> Decimal:
    """Return what a new roll costs; 1 unless every length has a price."""
    prices = [kind.price for kind in roll_lengths if kind.length_in == length_in]
    return min(prices) if all(kind.price is not None for kind in roll_lengths) else Decimal(1)


def least_cost(
    pieces: Sequence[Cut],
    roll_lengths: Sequence[RollLength],
    remnants: Sequence[Remnant] = (),
    *,
    trim_in: Decimal = NO_TRIM,
) -> Decimal | None:
    """Return what new rolls cost at least, every division of a few pieces tried; None where they do not fit."""
    sizes_in = [cut.length_in + trim_in for cut in pieces]
    every = (1 << len(sizes_in)) - 1
    sum_in = [
        sum((size for place, size in enumerate(sizes_in) if some >> place & 1), Decimal(0)) for some in range(every + 1)
    ]
    kinds = sorted((price_of(kind.length_in, roll_lengths), kind.length_in) for kind in roll_lengths)

    @cache
    def of_new(some: int) -> Decimal:
        if not some:
            return Decimal(0)
        first = some & -some
        together = [part for part in parts(some) if part & first]
        return min(of_one(part) + of_new(some ^ part) for part in together)

    @cache
    def of_one(some: int) -> Decimal:
        holding = [price for price, length_in in kinds if sum_in[some] <= length_in + trim_in]
        return min(holding, default=Decimal("Infinity"))

    @cache
    def beside(some: int, remnant: int) -> Decimal:
        """Return the cost of some pieces, from a remnant and those after it, and from new rolls."""
        if remnant == len(remnants):
            return of_new(some)
        within_in = remnants[remnant].length_in + trim_in
        return min(beside(some ^ part, remnant + 1) for part in parts(some) if sum_in[part] <= within_in)

    cost = beside(every, 0)
    return cost if cost.is_finite() else None


def parts(some: int) -> Iterator[int]:
    """Yield every subset of some bits, the empty one too."""
    part = some
    while part:
        yield part
        part = (part - 1) & some
    yield 0
