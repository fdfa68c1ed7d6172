"""Lengths and prices as whole numbers, exactly: what the search for who gets which remnant counts in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import ceil, gcd, lcm

from materials.calc.roll_lengths import RollLength, prices
from materials.calc.sharing.demand import Demand, Fill


@dataclass(frozen=True, slots=True)
class Widths:
    """The step and the unit in which all lengths and prices of a day are whole.

    A *width* is a length and a trim: a cut takes both, and whatever is cut from holds a trim more than its length,
    since the cut that ends it loses none.
    """

    step: Fraction
    unit: Fraction
    trim_in: Decimal
    kinds: tuple[RollLength, ...]

    @classmethod
    def of(cls, lengths_in: Iterable[Decimal], *, roll_lengths: Sequence[RollLength], trim_in: Decimal) -> Widths:
        """Return what measures the lengths and the rolls."""
        lengths = {*lengths_in, *(kind.length_in for kind in roll_lengths)}
        return cls(
            step=_grain(length + trim_in for length in lengths),
            unit=_grain(prices(roll_lengths)),
            trim_in=trim_in,
            kinds=tuple(roll_lengths),
        )

    def width(self, length_in: Decimal) -> int:
        return int(Fraction(length_in + self.trim_in) / self.step)

    def units(self, cost: Decimal) -> int:
        """Return the cost in units; a bound that is no whole number of them is rounded up."""
        return ceil(Fraction(cost) / self.unit)

    def cost(self, units: int) -> Decimal:
        return units * Decimal(self.unit.numerator) / self.unit.denominator

    def demand(self, pieces_in: Iterable[Decimal], *, held_in: Iterable[Decimal], stock: Iterable[int]) -> Demand:
        """Return what a crew asks of the stock in the warehouse, given as widths.

        Args:
            pieces_in: at least one.
            held_in: lengths of the remnants on its truck.
        """
        held = tuple(map(self.width, held_in))
        lengths = map(self.width, (kind.length_in for kind in self.kinds))
        kinds = tuple(zip(lengths, map(self.units, prices(self.kinds)), strict=True))
        longest = max((*held, *stock, *(width for width, _ in kinds)))
        return Demand(fill=Fill([*map(self.width, pieces_in)], longest=longest), kinds=kinds, on_truck=held)


def _grain(figures: Iterable[Decimal]) -> Fraction:
    """Return the greatest figure of which all are whole multiples; 1 where all are 0."""
    ratios = [figure.as_integer_ratio() for figure in figures if figure]
    below = lcm(*(each for _, each in ratios))
    return Fraction(gcd(*(above * (below // each) for above, each in ratios)) or 1, below)
