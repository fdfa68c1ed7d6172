"""How long a crew drives between two sites, and in which order it serves several."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from itertools import pairwise, permutations
from math import atan2, cos, hypot, radians, sin
from typing import TypeVar

from jobs.errors import BadInput

EARTH_RADIUS_MI = 6371.0088 / 1.609344
"""Mean radius of the earth in statute miles.

Source:
    Moritz, "Geodetic Reference System 1980": mean radius R1 = 6,371,008.7714 m.
    NIST SP 811, table B.8: 1 mi = 1.609344 km.
"""

MOST_ORDERED_EXACTLY = 7
"""Sites of which every order is tried: 5,040 orders (our choice; a crew hardly serves more than three in a day)."""

Site = TypeVar("Site", bound=Hashable)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A place on the earth in degrees, north and east positive.

    Raises:
        BadInput: the degrees are none.
    """

    latitude: Decimal
    longitude: Decimal

    def __post_init__(self) -> None:
        if not -90 <= self.latitude <= 90:
            raise BadInput(f"latitude {self.latitude} is outside −90 to 90 degrees")
        if not -180 <= self.longitude <= 180:
            raise BadInput(f"longitude {self.longitude} is outside −180 to 180 degrees")


@dataclass(frozen=True, kw_only=True)
class DriveAssumptions:
    """What the minutes of a drive are worked out from where nobody entered them.

    Args:
        road_factor: how much longer the road is than the straight line, ≥ 1.
        mph: how fast a loaded truck gets along, town and highway together, > 0.
    """

    road_factor: Decimal = Decimal("1.3")
    mph: Decimal = Decimal(30)
    source: str = "company default, not checked against a source"


@dataclass(frozen=True, slots=True, kw_only=True)
class Drive:
    """A drive one way, in whole minutes, and where that figure comes from."""

    minutes: int
    is_entered: bool
    reason: str
    source: str


def great_circle_mi(here: Spot, there: Spot) -> Decimal:
    """Return the shortest way over the surface of a round earth in statute miles, to a tenth.

    >>> denver, boulder = Spot(latitude=Decimal("39.74"), longitude=Decimal("-104.99")), Spot(
    ...     latitude=Decimal("40.01"), longitude=Decimal("-105.27"))
    >>> great_circle_mi(denver, boulder)
    Decimal('23.8')

    Source:
        Vincenty's formula on a sphere, exact for near and for opposite points: Survey Review XXIII (176), 1975, with
        equal axes. A round earth is at most 0.56 % off the ellipsoid.
    """
    north, other_north = radians(here.latitude), radians(there.latitude)
    east = radians(there.longitude - here.longitude)
    across = cos(other_north) * sin(east)
    up = cos(north) * sin(other_north) - sin(north) * cos(other_north) * cos(east)
    along = sin(north) * sin(other_north) + cos(north) * cos(other_north) * cos(east)
    miles = EARTH_RADIUS_MI * atan2(hypot(across, up), along)
    return Decimal(miles).quantize(Decimal("0.1"), ROUND_HALF_UP)


def entered_drive(minutes: int) -> Drive:
    """Return the drive that somebody entered."""
    return Drive(minutes=minutes, is_entered=True, reason=f"{minutes} min as entered", source="entered by the office")


def drive_between(here: Spot, there: Spot, assumed: DriveAssumptions) -> Drive:
    """Return the drive as it is worked out from where the sites lie, minutes rounded up.

    >>> here, there = Spot(latitude=Decimal(40), longitude=Decimal(-105)), Spot(
    ...     latitude=Decimal(40), longitude=Decimal(-105))
    >>> drive_between(here, there, DriveAssumptions()).minutes
    0
    """
    straight_mi = great_circle_mi(here, there)
    road_mi = straight_mi * assumed.road_factor
    minutes = int((road_mi / assumed.mph * 60).to_integral_value(ROUND_CEILING))
    shown_mi = road_mi.quantize(Decimal("0.1"), ROUND_HALF_UP)
    reason = (
        f"{straight_mi} mi in a straight line × {assumed.road_factor.normalize():f} for the road = {shown_mi} mi, "
        f"at {assumed.mph.normalize():f} mph: {minutes} min"
    )
    return Drive(minutes=minutes, is_entered=False, reason=reason, source=assumed.source)


def shortest_order(sites: Iterable[Site], minutes: Callable[[Site, Site], int]) -> tuple[Site, ...]:
    """Return the sites of a day in the order that drives least, from whichever comes first.

    Up to `MOST_ORDERED_EXACTLY` every order is tried, and of equals the one that keeps the given order counts; of more
    the next site is the nearest one.

    >>> miles = {frozenset("AB"): 9, frozenset("BC"): 2, frozenset("AC"): 3}
    >>> shortest_order("ABC", lambda one, other: miles[frozenset((one, other))])
    ('A', 'C', 'B')
    """
    listed = list(dict.fromkeys(sites))
    if len(listed) <= MOST_ORDERED_EXACTLY:
        return min(permutations(listed), key=lambda order: driven(order, minutes))
    order = [listed.pop(0)]
    while listed:
        nearest = min(listed, key=lambda site: minutes(order[-1], site))
        listed.remove(nearest)
        order.append(nearest)
    return tuple(order)


def driven(order: Sequence[Site], minutes: Callable[[Site, Site], int]) -> int:
    """Return the minutes between the first site of a day and its last."""
    return sum(minutes(one, other) for one, other in pairwise(order))
