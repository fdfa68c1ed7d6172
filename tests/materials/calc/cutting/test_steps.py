"""Lengths in whole steps: arithmetic, no source."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.calc.cutting.steps import MOST_STEPS, steps_of


def inches(*lengths: str) -> list[Decimal]:
    return [Decimal(length) for length in lengths]


@pytest.mark.parametrize(
    ("sizes_in", "roll_in", "sizes", "roll"),
    [
        pytest.param(inches("60", "45"), "120", [4, 3], 8, id="steps of 15 in"),
        # 54.125 = 433/8 and 30.125 = 241/8; 900.125 = 7201/8.
        pytest.param(inches("54.125", "30.125"), "900.125", [433, 241], 7201, id="eighths"),
        pytest.param(inches("1E+2", "50.0"), "100", [2, 1], 2, id="hundreds and trailing zeros"),
        # A sixteenth that the pieces do not have is lost to the roll: 100.0625 holds what 100 holds.
        pytest.param(inches("20", "30"), "100.0625", [2, 3], 10, id="only the roll has a fraction"),
    ],
)
def test_steps_are_as_long_as_all_pieces_allow(sizes_in, roll_in, sizes, roll):
    steps = steps_of(sizes_in, Decimal(roll_in))
    assert steps.are_exact
    assert [steps.up(size_in) for size_in in sizes_in] == [steps.down(size_in) for size_in in sizes_in] == sizes
    assert steps.down(Decimal(roll_in)) == roll


def test_too_many_steps_are_rounded():
    # 900 in by hundred-thousandths are 90 million steps; 687 of them make one, so that a roll has no more than 131,072.
    steps = steps_of(inches("33.33333", "7.77777"), Decimal(900))
    assert not steps.are_exact
    assert (steps.up(Decimal("33.33333")), steps.down(Decimal("33.33333"))) == (4853, 4852)
    assert steps.down(Decimal(900)) == 131_004 <= MOST_STEPS


SIZES_IN = st.lists(st.decimals("0.00001", 900, places=5), min_size=1, max_size=12)


@given(SIZES_IN, st.decimals(1, 900, places=5))
def test_pieces_that_fit_in_steps_fit_in_inches_and_the_other_way_round_when_rounded_the_other_way(sizes_in, roll_in):
    steps = steps_of(sizes_in, roll_in)
    fits = sum(sizes_in) <= roll_in
    fits_for_sure = sum(map(steps.up, sizes_in)) <= steps.down(roll_in)
    may_fit = sum(map(steps.down, sizes_in)) <= steps.up(roll_in)
    assert fits_for_sure <= fits <= may_fit
    assert fits_for_sure == fits or not steps.are_exact


@given(SIZES_IN, st.decimals(1, 900, places=5))
def test_a_roll_never_has_too_many_steps(sizes_in, roll_in):
    assert steps_of(sizes_in, roll_in).down(roll_in) <= MOST_STEPS
