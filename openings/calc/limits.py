"""How far an opening, or a set unit, may be from true: the published limits."""

from __future__ import annotations

from decimal import Decimal

from openings.calc.geometry import IN_PER_FT, area_sqft
from openings.calc.units import US, Units

OPENING_AGREES_WITHIN_IN = Decimal("0.125")
"""Three readings of a side of a rough opening agree within this (trade pages, secondary)."""

UNIT_AGREES_WITHIN_IN = Decimal("0.0625")
"""Three readings of a side of a set unit: more is over- or under-shimmed, a bow (JELD-WEN JPG006)."""

SMALL_AREA_SQFT = Decimal(20)
SMALL_DIAGONAL_LIMIT_IN = Decimal("0.125")
LARGE_DIAGONAL_LIMIT_IN = Decimal("0.25")

LEVEL_STEP_IN = Decimal("0.0625")
LEVEL_STEP_FT = Decimal(2)
LEVEL_RUN_PER_IN = LEVEL_STEP_FT * IN_PER_FT / LEVEL_STEP_IN
"""1/16 in in 2 ft: an inch in so many."""

LEVEL_CAP_IN = Decimal("0.125")

FACE_TWIST_BELOW_IN = Decimal("0.125")
"""Twist of the face of a rough opening: less than this (JELD-WEN JII023 p. 3)."""

TWIST_SIDE_IN = Decimal(48)
SMALL_TWIST_LIMIT_IN = Decimal("0.125")
LARGE_TWIST_LIMIT_IN = Decimal("0.1875")


def level_limit_in(run_in: Decimal) -> Decimal:
    """Return the limit out of level or plumb for a side of that length, in an opening or a set unit alike.

    Source:
        1/16 in in 2 ft, never more than 1/8 in: JELD-WEN JII023 p. 3 (opening), JPG006 (frame).
    """
    return min(run_in / LEVEL_RUN_PER_IN, LEVEL_CAP_IN)


def diagonal_limit_in(width_in: Decimal, height_in: Decimal) -> Decimal:
    """Return the limit between the two diagonals, in an opening or a set unit alike.

    Source:
        1/8 in up to and with 20 sq ft, 1/4 in above: JELD-WEN JII023 p. 3, JPG006 p. 8.
    """
    is_small = area_sqft(width_in, height_in) <= SMALL_AREA_SQFT
    return SMALL_DIAGONAL_LIMIT_IN if is_small else LARGE_DIAGONAL_LIMIT_IN


def twist_limit_in(width_in: Decimal, height_in: Decimal) -> Decimal:
    """Return the limit between crossed strings over a set unit.

    Source:
        1/8 in up to and with 4 ft wide or high, 3/16 in where larger: JELD-WEN JPG006.
    """
    return SMALL_TWIST_LIMIT_IN if max(width_in, height_in) <= TWIST_SIDE_IN else LARGE_TWIST_LIMIT_IN


def true_diagonal_in(width_in: Decimal, height_in: Decimal) -> Decimal:
    """Return the diagonal of a true rectangle, unrounded (Pythagoras).

    >>> round(true_diagonal_in(Decimal(36), Decimal(54)), 3)
    Decimal('64.900')
    """
    return (width_in**2 + height_in**2).sqrt()


def say_level_rule(run_in: Decimal, units: Units = US) -> str:
    """Return the rule behind the limit of a side of that length, in words."""
    step, cap = units.say(LEVEL_STEP_IN), units.say(LEVEL_CAP_IN)
    return f"{step} in {units.say(LEVEL_STEP_FT, 'ft')} over {units.say(run_in)}, never more than {cap}"


def say_diagonal_rule(units: Units = US) -> str:
    """Return the limits of the diagonals by area."""
    small, large = units.say(SMALL_DIAGONAL_LIMIT_IN), units.say(LARGE_DIAGONAL_LIMIT_IN)
    return f"{small} up to {units.say(SMALL_AREA_SQFT, 'sqft')}, {large} above"


def say_twist_rule(units: Units = US) -> str:
    """Return the limits of the twist of a set unit by its larger side."""
    small, large = units.say(SMALL_TWIST_LIMIT_IN), units.say(LARGE_TWIST_LIMIT_IN)
    return f"crossed strings, {small} up to {units.say(TWIST_SIDE_IN)} wide or high, {large} where larger"
