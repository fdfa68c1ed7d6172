"""A rough opening as drawn and as built."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from openings.calc.as_built import RoughOpening, built_size_in, why_no_room
from openings.calc.readings import Measured
from openings.calc.units import METRIC
from tests.openings.calc.test_tolerance import TRUE

UNIT = (Decimal("35.5"), Decimal("53.5"))


def readings(**inches: str):
    return replace(TRUE, **{name: Decimal(figure) for name, figure in inches.items()})


def test_the_largest_reading_of_a_side_is_what_pieces_must_cover():
    # Our choice: a strip cut to the smallest reading would be short at the widest place.
    found = built_size_in(readings(width_top_in="36.0625", height_right_in="54.125"))
    assert found == (Decimal("36.0625"), Decimal("54.125"))


# The smallest of three decides whether the unit goes in: Polaris installation page; a bow takes room: geometry.
@pytest.mark.parametrize(
    ("inches", "why"),
    [
        ({}, ""),
        ({"width_middle_in": "35.5", "height_left_in": "53.5"}, ""),
        ({"width_middle_in": "35.4375"}, "needs a width of 2' 11 1/2\" and has 2' 11 7/16\""),
        ({"height_left_in": "53"}, "needs a height of 4' 5 1/2\" and has 4' 5\""),
        ({"left_bow_in": "0.625"}, "needs a width of 2' 11 1/2\" and has 2' 11 3/8\""),
    ],
    ids=["as drawn", "just goes in", "too narrow in the middle", "too low", "bowed"],
)
def test_what_the_unit_does_not_go_into_cannot_stand_for_its_opening(inches, why):
    found = why_no_room(readings(**inches), UNIT)
    assert why in found
    assert ("open the framing up and measure again" in found) == bool(why)


def test_a_set_unit_says_nothing_of_the_opening():
    assert "measure the rough opening" in why_no_room(replace(TRUE, measured=Measured.SET_UNIT), UNIT)


def test_both_sizes_are_said_where_there_are_two():
    drawn = RoughOpening((Decimal(72), Decimal(60)))
    assert drawn.said() == "6' 0\" × 5' 0\""
    built = replace(drawn, built_in=(Decimal(75), Decimal(60)))
    assert built.said() == "6' 3\" × 5' 0\" as built (drawn 6' 0\" × 5' 0\")"
    assert built.said(METRIC.say) == "1905 mm × 1524 mm as built (drawn 1828.8 mm × 1524 mm)"
