from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.calc.figures import brief, ceil_ratio, half_up, plain


# Half-up: ties go away from zero (IEEE 754-2019, 4.3.1, roundTiesToAway).
@pytest.mark.parametrize(
    ("figure", "places", "rounded"),
    [("0.005", "0.01", "0.01"), ("0.0149", "0.01", "0.01"), ("2.5", "1", "3"), ("0.000005", "0.00001", "0.00001")],
)
def test_figures_are_rounded_half_up(figure, places, rounded):
    assert half_up(Decimal(figure), to=Decimal(places)) == Decimal(rounded)


@pytest.mark.parametrize(
    ("figure", "text"),
    [("36.50000", "36.5"), ("1E+1", "10"), ("0.03125", "0.03125"), ("0", "0"), ("100", "100")],
)
def test_figures_are_written_without_padding_or_exponent(figure, text):
    assert plain(Decimal(figure)) == text


def test_volumes_and_hours_are_written_with_two_places_at_most():
    assert brief(Decimal("43.918")) == "43.92"


@given(length=st.decimals(0, 10_000, places=5), step=st.decimals("0.01", 100, places=5))
def test_the_steps_cover_the_length_and_one_less_would_not(length, step):
    steps = ceil_ratio(length, step)
    assert steps * step >= length
    assert steps == 0 or (steps - 1) * step < length
