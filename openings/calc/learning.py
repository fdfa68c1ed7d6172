"""How work on units that are alike grows shorter with each one: the learning curve, unit theory.

Unit number X takes Y = A × X^b hours, where A is the first and b = ln(slope) / ln(2): each doubling of the number
leaves the slope of the hours.

Source:
    Unit theory: DoD Contract Pricing Reference Guide, volume 2, chapter 7 (attribution from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from openings.calc.bad_rate import fault, refuse
from openings.calc.figures import plain

SOURCE = (
    "company default, editable (learning curve by unit: DoD Contract Pricing Reference Guide vol. 2 ch. 7, text "
    "not checked)"
)

LEAST_SLOPE_PCT, MOST_SLOPE_PCT = Decimal(50), Decimal(100)
"""At 50 % two units take no longer than 1 1/2 and learning is past belief; above 100 % work would grow (our choice)."""

MOST_ALIKE = 10_000
"""More units alike are a slip of the pen (our choice)."""

_LN_2 = Decimal(2).ln()


@dataclass(frozen=True, slots=True)
class Repetition:
    """Which unit of its kind is worked on, and how steeply its crew learns.

    Args:
        slope_pct: above 50, at most 100; 100 is no learning at all.
        number: 1 for the first of its kind, at most 10,000.

    Raises:
        BadRate: slope or number outside these.
    """

    slope_pct: Decimal
    number: int

    def __post_init__(self) -> None:
        faults = []
        if not LEAST_SLOPE_PCT < self.slope_pct <= MOST_SLOPE_PCT:
            sentence = (
                f"the learning slope is {plain(self.slope_pct)}%; it must be above {LEAST_SLOPE_PCT}% and at "
                f"most {MOST_SLOPE_PCT}%, where 100% is no learning"
            )
            faults.append(fault("slope_pct", self.slope_pct, sentence))
        if not 1 <= self.number <= MOST_ALIKE:
            sentence = f"unit {self.number}: units of a kind are counted from 1 to {MOST_ALIKE}"
            faults.append(fault("number", self.number, sentence))
        refuse(faults)

    @property
    def factor(self) -> Decimal:
        """Return the part of the first unit's hours that this one takes: above 0, at most 1."""
        return _factor(self.number, self.slope_pct)


def exponent(slope_pct: Decimal) -> Decimal:
    """Return b of X^b, at most 0.

    >>> round(exponent(Decimal(80)), 5)
    Decimal('-0.32193')
    """
    return (slope_pct / 100).ln() / _LN_2


@lru_cache(maxsize=4096)
def _factor(number: int, slope_pct: Decimal) -> Decimal:
    return Decimal(number) ** exponent(slope_pct)


def unit_hours(first_h: Decimal, number: int, slope_pct: Decimal) -> Decimal:
    """Return the hours of one unit, where the first of its kind takes `first_h`.

    Raises:
        BadRate: slope or number as in `Repetition`.
    """
    return first_h * Repetition(slope_pct, number).factor


def total_hours(first_h: Decimal, count: int, slope_pct: Decimal) -> Decimal:
    """Return the hours of the first `count` units together.

    Raises:
        BadRate: slope or count as in `Repetition`.
    """
    return first_h * _sum_of_factors(Repetition(slope_pct, count))


def average_factor(count: int, slope_pct: Decimal) -> Decimal:
    """Return the part of the first unit's hours that each of `count` units takes on average.

    Raises:
        BadRate: slope or count as in `Repetition`.
    """
    return _sum_of_factors(Repetition(slope_pct, count)) / count


@lru_cache(maxsize=256)
def _sum_of_factors(last: Repetition) -> Decimal:
    return sum((_factor(number, last.slope_pct) for number in range(1, last.number + 1)), Decimal(0))
