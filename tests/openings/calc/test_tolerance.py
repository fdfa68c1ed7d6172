from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from openings.calc.facts import OpeningFacts
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.tolerance import Check, Readings, checks_of, diagonal_limit_in, is_within, level_limit_in
from openings.errors import BadLength

DETAIL = STARTING_DETAILS["flange behind, wrap before"]
OPENING = OpeningFacts(
    ro_width_in=Decimal(36),
    ro_height_in=Decimal(54),
    unit_width_in=Decimal("35.5"),
    unit_height_in=Decimal("53.5"),
)
TRUE = Readings(
    width_top_in=Decimal(36),
    width_middle_in=Decimal(36),
    width_bottom_in=Decimal(36),
    height_left_in=Decimal(54),
    height_middle_in=Decimal(54),
    height_right_in=Decimal(54),
    diagonal_rising_in=Decimal("64.9"),
    diagonal_falling_in=Decimal("64.9"),
)


def check(name: str, **readings: str) -> Check:
    measured = replace(TRUE, **{field: Decimal(inches) for field, inches in readings.items()})
    return next(check for check in checks_of(measured, OPENING, DETAIL) if check.name.startswith(name))


# Up to and with 20 sq ft 1/8 in, above 1/4 in: JELD-WEN JII023 p. 3.
@pytest.mark.parametrize(
    ("width", "height", "limit"),
    [("48", "60", "0.125"), ("48", "61", "0.25"), ("36", "54", "0.125"), ("48", "60.00001", "0.25")],
    ids=["20 sq ft", "20.33 sq ft", "13.5 sq ft", "a hair over 20"],
)
def test_diagonals(width, height, limit):
    assert diagonal_limit_in(Decimal(width), Decimal(height)) == Decimal(limit)


# 1/16 in in 2 ft, never more than 1/8 in: JELD-WEN JII023 p. 3.
@pytest.mark.parametrize(("run", "limit"), [("24", "0.0625"), ("36", "0.09375"), ("48", "0.125"), ("60", "0.125")])
def test_level_and_plumb(run, limit):
    assert level_limit_in(Decimal(run)) == Decimal(limit)


def test_a_true_opening_passes_every_check():
    checks = checks_of(TRUE, OPENING, DETAIL)
    assert is_within(checks)
    assert len(checks) == 8


# Limits as above; three readings within 1/8 in of each other: trade pages, secondary.
@pytest.mark.parametrize(
    ("name", "readings", "passed"),
    [
        ("widths differ", {"width_top_in": "36.125"}, True),
        ("widths differ", {"width_top_in": "36.1875"}, False),
        ("heights differ", {"height_right_in": "53.8125"}, False),
        ("diagonals differ", {"diagonal_rising_in": "65.025"}, True),
        ("diagonals differ", {"diagonal_rising_in": "65.026"}, False),
        ("sill out of level", {"sill_out_of_level_in": "0.09375"}, True),
        ("sill out of level", {"sill_out_of_level_in": "0.1"}, False),
        ("left jamb out of plumb", {"left_out_of_plumb_in": "0.125"}, True),
        ("right jamb out of plumb", {"right_out_of_plumb_in": "0.13"}, False),
        ("clearance in width", {"width_middle_in": "35.5"}, True),
        ("clearance in width", {"width_middle_in": "35.4375"}, False),
        ("clearance in height", {"height_left_in": "53.4375"}, False),
    ],
)
def test_a_reading_at_its_limit_passes_and_one_over_fails(name, readings, passed):
    assert check(name, **readings).passed is passed


def test_clearance_is_taken_at_the_narrowest_place_and_names_what_the_detail_asks_for():
    # Smallest of three readings: Polaris installation page.
    found = check("clearance in width", width_bottom_in="35.75")
    assert found.reading_in == Decimal("0.25")
    assert "the detail asks for 0.5 in" in found.reason


@pytest.mark.parametrize("field", ["width_top_in", "diagonal_falling_in"])
def test_a_reading_of_nothing_is_refused(field):
    with pytest.raises(BadLength, match=field):
        replace(TRUE, **{field: Decimal(0)})


def test_a_negative_deviation_is_refused():
    with pytest.raises(BadLength, match="sill_out_of_level_in"):
        replace(TRUE, sill_out_of_level_in=Decimal("-0.1"))
