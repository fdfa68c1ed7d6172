from __future__ import annotations

from decimal import Decimal

import pytest

from openings.calc.order_size import insert_order_size
from openings.calc.readings import Readings
from openings.errors import BadLength


def readings_of(**changed: str) -> Readings:
    measured = {
        "width_top_in": "35.75",
        "width_middle_in": "35.5",
        "width_bottom_in": "35.625",
        "height_left_in": "53.5",
        "height_middle_in": "53.75",
        "height_right_in": "53.625",
        "diagonal_rising_in": "64.25",
        "diagonal_falling_in": "64.25",
    }
    return Readings(**{name: Decimal(inches) for name, inches in (measured | changed).items()})


# Smallest of three − 1/4 in; height − 3/4 in with a head expander: Polaris installation page.
@pytest.mark.parametrize(
    ("has_head_expander", "height"), [(False, "53.25"), (True, "52.75")], ids=["no expander", "expander"]
)
def test_an_insert_is_ordered_from_the_smallest_readings(has_head_expander, height):
    size = insert_order_size(readings_of(), has_head_expander=has_head_expander)
    assert (size.width_in, size.height_in) == (Decimal("35.25"), Decimal(height))
    assert 'smallest of three widths 2\' 11 1/2" − 1/4" = 2\' 11 1/4"' in size.reason


@pytest.mark.parametrize(
    ("rising", "is_warned"), [("64.375", False), ("64.376", True)], ids=["1/8 in apart", "more than 1/8 in"]
)
def test_a_frame_out_of_square_is_ordered_narrower(rising, is_warned):
    # Diagonals over 1/8 in apart: reduce the ordered width, Polaris installation page.
    size = insert_order_size(readings_of(diagonal_rising_in=rising), has_head_expander=False)
    assert ("order narrower" in size.reason) is is_warned


def test_a_frame_too_small_for_an_insert_is_refused():
    with pytest.raises(BadLength, match="height_right_in is"):
        insert_order_size(readings_of(height_right_in="0.75"), has_head_expander=True)
