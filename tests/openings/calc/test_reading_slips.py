"""Readings that no opening can have, and honest ones that it can."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.calc.reading_slips import require_no_slips
from openings.calc.readings import DEVIATION_NAMES, Measured, Readings
from openings.calc.units import METRIC
from openings.errors import BadLength

SIXTEENTH = Decimal("0.0625")


def readings_of(widths: str, heights: str, rising: str, falling: str, **more: str) -> Readings:
    """Return readings from three widths, three heights, or one that stands for all three."""
    top, middle, bottom = [Decimal(width) for width in widths.split()] * (3 if " " not in widths else 1)
    left, center, right = [Decimal(height) for height in heights.split()] * (3 if " " not in heights else 1)
    return Readings(
        width_top_in=top, width_middle_in=middle, width_bottom_in=bottom,
        height_left_in=left, height_middle_in=center, height_right_in=right,
        diagonal_rising_in=Decimal(rising), diagonal_falling_in=Decimal(falling),
        **{name: Decimal(inches) for name, inches in more.items()},
    )  # fmt: skip


def refused(readings: Readings) -> list[str]:
    with pytest.raises(BadLength) as raised:
        require_no_slips(readings)
    return [fault.field for fault in raised.value.faults]


BOTH = ["diagonal_rising_in", "diagonal_falling_in"]


# A side of a triangle is shorter than the other two together and longer than their difference: Euclid, Elements I.20.
@pytest.mark.parametrize(
    ("rising", "falling", "fields"),
    [
        ("10", "10", BOTH),
        ("11.7", "11.7", BOTH),
        ("140", "93.75", BOTH[:1]),
        ("93.75", "133", BOTH[1:]),
        ("800", "900", BOTH),
    ],
    ids=["far too short", "as short as the difference", "rising too long", "falling too long", "feet for inches"],
)
def test_no_diagonal_is_outside_what_a_triangle_of_the_sides_allows(rising, falling, fields):
    assert refused(readings_of("72", "60", rising, falling)) == fields


# Parallelogram law, d1² + d2² = 2 (w² + h²), from Euclid, Elements II.12 and II.13: true, 72 × 60 in has
# √(5184 + 3600) = 93.723 in twice.
@pytest.mark.parametrize(
    ("rising", "falling", "fields"),
    [
        ("60", "60", BOTH),
        ("92.75", "92.75", BOTH),
        ("94.75", "94.75", BOTH),
        ("93.75", "92.75", BOTH[1:]),
        ("95", "93.75", BOTH[:1]),
    ],
    ids=["both a side long", "both an inch short", "both an inch long", "an inch misread", "an inch and a quarter"],
)
def test_diagonals_that_do_not_close_on_the_sides_are_refused(rising, falling, fields):
    assert refused(readings_of("72", "60", rising, falling)) == fields


def test_the_refusal_says_what_the_sides_give():
    # 36-48-60 and 3-4-5: Euclid, Elements I.47. The other diagonal of 61 in leaves √(2 × 3600 − 3721) = 58.98 in.
    with pytest.raises(BadLength) as raised:
        require_no_slips(readings_of("36", "48", "50", "60"))
    assert "4' 2\", but" in raised.value.faults[0].detail
    assert "about 5' 0\" would be right" in raised.value.faults[0].detail
    with pytest.raises(BadLength) as raised:
        require_no_slips(readings_of("36", "48", "50", "60"), units=METRIC)
    assert "about 1524 mm would be right" in raised.value.faults[0].detail


# Honest openings: racked (the law holds of every parallelogram), read to 1/16 in, with sides that taper.
@pytest.mark.parametrize(
    ("widths", "heights", "rising", "falling"),
    [
        ("72", "60", "93.75", "93.6875"),
        ("72", "60", "94.75", "92.6875"),
        ("36", "54", "65", "64.75"),
        ("48", "60", "77", "77"),
        ("36 36.25 36.5", "54 54.125 54.25", "65.25", "65"),
        ("36 35.5 36", "54", "64.875", "64.875"),
        ("24", "24", "33.9375", "33.9375"),
        ("120", "96", "153.6875", "153.6875"),
    ],
    ids=["true", "racked 1 1/4 in", "racked 1/8 in", "read long", "tapers", "jambs bow in", "square", "large"],
)
def test_an_opening_as_it_is_found_passes(widths, heights, rising, falling):
    require_no_slips(readings_of(widths, heights, rising, falling))


@given(
    width=st.integers(12 * 16, 160 * 16), height=st.integers(12 * 16, 160 * 16), rack_pct=st.integers(-20, 20),
    taper=st.integers(0, 8), off=st.lists(st.integers(-1, 1), min_size=4, max_size=4),
)  # fmt: skip
def test_a_trapezoid_read_to_a_sixteenth_always_passes(width, height, rack_pct, taper, off):
    # Corners of a racked trapezoid by coordinates; each reading rounded to 1/16 in and off by one more.
    bottom, high, top = width * SIXTEENTH, height * SIXTEENTH, (width + taper) * SIXTEENTH
    shift = high * rack_pct / 100
    upright = (high**2 - shift**2).sqrt()
    corners = {"top left": (shift, upright), "top right": (shift + top, upright), "right": (bottom, Decimal(0))}

    def length(start: tuple[Decimal, Decimal], end: tuple[Decimal, Decimal], more: int) -> Decimal:
        exact = ((start[0] - end[0]) ** 2 + (start[1] - end[1]) ** 2).sqrt()
        return ((exact / SIXTEENTH).to_integral_value() + more) * SIXTEENTH

    left = length((Decimal(0), Decimal(0)), corners["top left"], off[0])
    right = length(corners["right"], corners["top right"], off[1])
    readings = Readings(
        width_top_in=top, width_middle_in=(top + bottom) / 2, width_bottom_in=bottom,
        height_left_in=left, height_middle_in=(left + right) / 2, height_right_in=right,
        diagonal_rising_in=length((Decimal(0), Decimal(0)), corners["top right"], off[2]),
        diagonal_falling_in=length(corners["right"], corners["top left"], off[3]),
    )  # fmt: skip
    require_no_slips(readings)


@pytest.mark.parametrize("field", DEVIATION_NAMES)
def test_a_deviation_as_large_as_a_side_is_refused(field):
    assert refused(readings_of("36", "54", "64.875", "64.875", **{field: "36"})) == [field]


def test_a_set_unit_is_held_against_its_sides_too():
    readings = readings_of("35.5", "53.5", "30", "30")
    set_unit = Readings(
        **{name: getattr(readings, name) for name in readings.__slots__} | {"measured": Measured.SET_UNIT}
    )
    assert refused(set_unit) == BOTH
