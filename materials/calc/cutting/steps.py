"""Lengths as whole numbers, without losing a fraction of an inch."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import gcd

from openings.calc.figures import places_of

MOST_STEPS = 1 << 17
"""Of a roll: the sums of its pieces are bits of an integer, which more would make slow."""


@dataclass(frozen=True, slots=True)
class Steps:
    """The length of a step: pieces are counted up to the next whole one, rolls down, so that what fits does fit.

    Steps are as long as they can be without rounding a piece, unless a roll would have more than `MOST_STEPS`: then
    they are not exact, and a bound on the rolls holds only for pieces that are rounded down and rolls rounded up.
    """

    units: int
    exponent: int
    are_exact: bool

    def up(self, length_in: Decimal) -> int:
        """Return a length in steps, rounded up."""
        return -(-self._whole(length_in) // self.units)

    def down(self, length_in: Decimal) -> int:
        """Return a length in steps, rounded down."""
        return self._whole(length_in) // self.units

    def _whole(self, length_in: Decimal) -> int:
        return int(length_in.scaleb(self.exponent))


def steps_of(sizes_in: Sequence[Decimal], longest_in: Decimal) -> Steps:
    """Return steps of which every size is a whole number, where a roll is no longer than `MOST_STEPS` of them.

    Args:
        sizes_in: one or more, > 0.
    """
    exponent = max(map(places_of, [*sizes_in, longest_in]))
    units = gcd(*(int(size_in.scaleb(exponent)) for size_in in sizes_in))
    longest = int(longest_in.scaleb(exponent))
    if longest > units * MOST_STEPS:
        return Steps(-(-longest // MOST_STEPS), exponent, are_exact=False)
    return Steps(units, exponent, are_exact=True)
