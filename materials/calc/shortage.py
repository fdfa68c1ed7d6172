"""Who goes without where the warehouses hold less than the trucks want."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_FLOOR, Decimal


def goes_without(wanted: Iterable[int], *, on_hand: Decimal) -> list[int]:
    """Return how many packages each truck goes without, in the order in which trucks are loaded.

    Args:
        wanted: packages that each truck still takes, beyond what is loaded, in that order; >= 0.
        on_hand: packages in the warehouses; what is left of an opened one fills no place on a truck.

    Source:
        First loaded, first served: common practice, no source.

    >>> goes_without([3, 3, 3, 3], on_hand=Decimal(10))
    [0, 0, 0, 2]
    """
    left = int(on_hand.to_integral_value(ROUND_FLOOR))
    short = []
    for packages in wanted:
        taken = min(packages, max(left, 0))
        left -= taken
        short.append(packages - taken)
    return short
