"""Drives between sites against the ellipsoid of WGS 84, and the order of a day's sites against every order."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise, permutations

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st

from jobs.calc.travel import (
    EARTH_RADIUS_MI,
    DriveAssumptions,
    Spot,
    drive_between,
    driven,
    entered_drive,
    great_circle_mi,
    shortest_order,
)
from jobs.errors import BadInput

METERS_A_MILE = 1609.344
"""NIST SP 811, table B.8."""

degrees = st.decimals(min_value=-180, max_value=180, places=5)
spots = st.builds(Spot, latitude=st.decimals(min_value=-90, max_value=90, places=5), longitude=degrees)


def spot(latitude: str, longitude: str) -> Spot:
    return Spot(latitude=Decimal(latitude), longitude=Decimal(longitude))


def test_los_angeles_to_new_york_is_as_long_as_in_the_handbook_of_navigators() -> None:
    # E. Williams, Aviation Formulary, worked example: 33°57' N 118°24' W to 40°38' N 73°47' W is 0.623585 radians;
    # from memory.
    miles = great_circle_mi(spot("33.95", "-118.4"), spot("40.63333", "-73.78333"))
    assert float(miles) == pytest.approx(0.623585 * EARTH_RADIUS_MI, abs=0.1)


@given(spots, spots)
def test_a_round_earth_is_within_its_flattening_of_the_ellipsoid(here: Spot, there: Spot) -> None:
    # Karney, "Algorithms for geodesics", J. Geodesy 87 (2013), as GeographicLib has it.
    ends = [float(degree) for one in (here, there) for degree in (one.latitude, one.longitude)]
    exact_mi = Geodesic.WGS84.Inverse(*ends)["s12"] / METERS_A_MILE
    assert float(great_circle_mi(here, there)) == pytest.approx(exact_mi, abs=0.0057 * exact_mi + 0.051)
    assert great_circle_mi(here, there) == great_circle_mi(there, here)


@pytest.mark.parametrize(("latitude", "longitude"), [("90.1", "0"), ("-91", "0"), ("0", "180.5"), ("0", "-200")])
def test_degrees_that_are_none_are_refused(latitude: str, longitude: str) -> None:
    with pytest.raises(BadInput):
        spot(latitude, longitude)


def test_a_drive_says_what_it_is_worked_out_from() -> None:
    # One degree of a meridian is 60 nautical miles, 69.09 statute miles: ICAO Annex 5 has 1,852 m to the first.
    drive = drive_between(spot("40", "-105"), spot("41", "-105"), DriveAssumptions())
    assert drive.reason == "69.1 mi in a straight line × 1.3 for the road = 89.8 mi, at 30 mph: 180 min"
    assert drive.minutes == 180
    assert not drive.is_entered
    assert "not checked" in drive.source


def test_what_is_entered_is_taken_as_it_is() -> None:
    assert entered_drive(25).minutes == 25
    assert entered_drive(25).is_entered


@given(st.data(), st.integers(1, 5))
def test_no_order_of_the_sites_drives_less(data: st.DataObject, count: int) -> None:
    sites = range(count)
    minutes = {frozenset(pair): data.draw(st.integers(0, 90)) for pair in permutations(sites, 2)}

    def between(one: int, other: int) -> int:
        return minutes[frozenset((one, other))]

    order = shortest_order(sites, between)
    assert sorted(order) == list(sites)
    least = min(sum(between(*leg) for leg in pairwise(way)) for way in permutations(sites))
    assert driven(order, between) == least


def test_more_sites_than_are_tried_in_every_order_go_to_the_nearest_next() -> None:
    order = shortest_order([0, 5, 1, 4, 2, 3, 8, 7, 6], lambda one, other: abs(one - other))
    assert order == tuple(range(9))
