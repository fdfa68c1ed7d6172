"""The multipliers of the equation, as plain arithmetic in either system of measures.

Source:
    DHHS/NIOSH 94-110 (rev. 9/2021) p. 1-22 and tables 1 to 5; their V below 30 rows for 11 lifts a minute and more
    from memory.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from openings.calc.figures import TWO_PLACES, half_up
from openings.calc.lifting_equation.duration import LONG, MODERATE, SHORT, Duration
from openings.calc.lifting_equation.task import Coupling

ONE, NONE = Decimal(1), Decimal(0)

ASYMMETRY_SLOPE = Decimal("0.0032")
ASYMMETRY_MOST_DEG = 135
TRAVEL_BASE = Decimal("0.82")


@dataclass(frozen=True, slots=True, kw_only=True)
class Constants:
    """What the manual gives twice, in inches and pounds and in centimeters and kilograms; no exact conversions.

    `misprinted_*` are the entries of tables 1 and 3 that are not their formula rounded half-up.
    """

    load: Decimal
    reach_least: Decimal
    reach_most: Decimal
    height_best: Decimal
    height_slope: Decimal
    height_most: Decimal
    travel_least: Decimal
    travel_slope: Decimal
    travel_most: Decimal
    body_to_load: Decimal
    body_to_low_load: Decimal
    low_load: Decimal
    misprinted_reach: Mapping[Decimal, Decimal]
    misprinted_travel: Mapping[Decimal, Decimal]


IN_LB = Constants(
    load=Decimal(51),
    reach_least=Decimal(10),
    reach_most=Decimal(25),
    height_best=Decimal(30),
    height_slope=Decimal("0.0075"),
    height_most=Decimal(70),
    travel_least=Decimal(10),
    travel_slope=Decimal("1.8"),
    travel_most=Decimal(70),
    body_to_load=Decimal(8),
    body_to_low_load=Decimal(10),
    low_load=Decimal(10),
    misprinted_reach={Decimal(22): Decimal("0.46"), Decimal(23): Decimal("0.44")},
    misprinted_travel={},
)
CM_KG = Constants(
    load=Decimal(23),
    reach_least=Decimal(25),
    reach_most=Decimal(63),
    height_best=Decimal(75),
    height_slope=Decimal("0.003"),
    height_most=Decimal(175),
    travel_least=Decimal(25),
    travel_slope=Decimal("4.5"),
    travel_most=Decimal(175),
    body_to_load=Decimal(20),
    body_to_low_load=Decimal(25),
    low_load=Decimal(25),
    misprinted_reach={},
    misprinted_travel={Decimal(130): Decimal("0.86")},
)

FREQUENCY_LEAST = Decimal("0.2")

_TABLE_5 = """
      short      moderate   long
 0.2  1.00 1.00  0.95 0.95  0.85 0.85
 0.5  0.97 0.97  0.92 0.92  0.81 0.81
 1    0.94 0.94  0.88 0.88  0.75 0.75
 2    0.91 0.91  0.84 0.84  0.65 0.65
 3    0.88 0.88  0.79 0.79  0.55 0.55
 4    0.84 0.84  0.72 0.72  0.45 0.45
 5    0.80 0.80  0.60 0.60  0.35 0.35
 6    0.75 0.75  0.50 0.50  0.27 0.27
 7    0.70 0.70  0.42 0.42  0.22 0.22
 8    0.60 0.60  0.35 0.35  0.18 0.18
 9    0.52 0.52  0.30 0.30  0    0.15
10    0.45 0.45  0.26 0.26  0    0.13
11    0.41 0.41  0    0.23  0    0
12    0.37 0.37  0    0.21  0    0
13    0    0.34  0    0     0    0
14    0    0.31  0    0     0    0
15    0    0.28  0    0     0    0
"""
"""Lifts a minute; then, by duration, hands at the origin below 30 in and at 30 in or above."""

_ROWS = [tuple(map(Decimal, row.split())) for row in _TABLE_5.splitlines()[2:]]


def _column(number: int) -> tuple[tuple[Decimal, Decimal], ...]:
    """Return the rows of one column as far as the table lets one lift."""
    return tuple((row[0], row[number]) for row in _ROWS if row[number])


_COLUMNS = {
    (duration, is_high): _column(1 + 2 * place + is_high)
    for place, duration in enumerate((SHORT, MODERATE, LONG))
    for is_high in (False, True)
}


def horizontal(reach: Decimal, *, by: Constants = IN_LB) -> Decimal:
    """Return HM, 0 beyond the farthest reach."""
    return NONE if reach > by.reach_most else by.reach_least / max(reach, by.reach_least)


def vertical(height: Decimal, *, by: Constants = IN_LB) -> Decimal:
    """Return VM, 0 below the floor and above the highest point."""
    if not 0 <= height <= by.height_most:
        return NONE
    return 1 - by.height_slope * abs(height - by.height_best)


def distance(travel: Decimal, *, by: Constants = IN_LB) -> Decimal:
    """Return DM, 0 beyond the longest travel."""
    if travel > by.travel_most:
        return NONE
    return TRAVEL_BASE + by.travel_slope / max(travel, by.travel_least)


def asymmetry(angle_deg: Decimal) -> Decimal:
    """Return AM, 0 beyond 135 degrees."""
    return NONE if angle_deg > ASYMMETRY_MOST_DEG else 1 - ASYMMETRY_SLOPE * angle_deg


def frequency(lifts_per_min: Decimal, duration: Duration, height: Decimal, *, by: Constants = IN_LB) -> Decimal:
    """Return FM, between two rows of table 5 on a straight line, 0 above the last frequency it allows.

    Args:
        height: of the hands at the origin, whichever end is looked at.
    """
    rows = _COLUMNS[duration, height >= by.height_best]
    pace = max(lifts_per_min, FREQUENCY_LEAST)
    below = rows[0]
    for row in rows:
        if pace <= row[0]:
            share = (pace - below[0]) / (row[0] - below[0]) if row is not below else NONE
            return below[1] + share * (row[1] - below[1])
        below = row
    return NONE


def least_frequency(duration: Duration) -> Decimal:
    """Return the least FM that table 5 has for a duration, which is that of the highest hands and the fastest pace."""
    return _COLUMNS[duration, True][-1][1]


def coupling(grip: Coupling, height: Decimal, *, by: Constants = IN_LB) -> Decimal:
    """Return CM at the end looked at."""
    low, high = _COUPLINGS[grip]
    return high if height >= by.height_best else low


_COUPLINGS = {
    Coupling.GOOD: (ONE, ONE),
    Coupling.FAIR: (Decimal("0.95"), ONE),
    Coupling.POOR: (Decimal("0.9"), Decimal("0.9")),
}
"""Hands below 30 in, and at 30 in or above."""


def printed_horizontal(reach: Decimal, *, by: Constants = IN_LB) -> Decimal:
    """Return HM as table 1 prints it; what stands between its rows is rounded half-up."""
    return by.misprinted_reach.get(reach, as_printed(horizontal(reach, by=by)))


def printed_distance(travel: Decimal, *, by: Constants = IN_LB) -> Decimal:
    """Return DM as table 3 prints it; what stands between its rows is rounded half-up."""
    return by.misprinted_travel.get(travel, as_printed(distance(travel, by=by)))


def as_printed(multiplier: Decimal) -> Decimal:
    """Return a multiplier to two places, half-up, as the other tables print it."""
    return half_up(multiplier, to=TWO_PLACES)


def reach_from_width(width: Decimal, height: Decimal, *, by: Constants = IN_LB) -> Decimal:
    """Return the reach to a container that is held at both sides, from its depth in front of the body (p. 8)."""
    return (by.body_to_load if height >= by.low_load else by.body_to_low_load) + width / 2
