"""The search against a solver from outside (HiGHS by way of SciPy), which has the problem in another form."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.materials.calc.cut_checks import many, planned, shelf, stock
from tests.materials.calc.patterns import solved

SIZES_IN = st.dictionaries(st.integers(10, 120), st.integers(1, 8), min_size=1, max_size=4)
REMNANTS_IN = st.lists(st.integers(10, 120), max_size=3)
TRIMS_IN = st.sampled_from([Decimal(0), Decimal("0.125"), Decimal(2)])
PRICES = st.dictionaries(st.integers(120, 180), st.integers(3, 12), min_size=2, max_size=2)


def assert_as_cheap_as_solved(sizes_in, roll_lengths, remnants_in, trim_in):
    pieces, remnants = many(*sizes_in.items()), shelf(*remnants_in)
    plan = planned(pieces, roll_lengths, remnants, trim_in=trim_in)
    cost = solved(pieces, roll_lengths, remnants, trim_in=trim_in)
    assert float(plan.cost) == pytest.approx(cost)
    assert float(plan.cost_lower_bound) <= cost + 1e-6


@given(SIZES_IN, REMNANTS_IN, TRIMS_IN)
@settings(deadline=None, max_examples=60)
def test_as_few_rolls_as_the_solver_finds(sizes_in, remnants_in, trim_in):
    assert_as_cheap_as_solved(sizes_in, stock(120), remnants_in, trim_in)


@given(st.dictionaries(st.integers(10, 120), st.integers(1, 3), min_size=1, max_size=4), PRICES, REMNANTS_IN, TRIMS_IN)
@settings(deadline=None, max_examples=40)
def test_as_cheap_rolls_as_the_solver_finds(sizes_in, prices, remnants_in, trim_in):
    assert_as_cheap_as_solved(sizes_in, stock(*prices.items()), remnants_in, trim_in)


# Sources of the optima: the worked examples in test_rolls. That the solver finds them too shows that it is asked right.
@pytest.mark.parametrize(
    ("pieces", "roll_lengths", "optimum"),
    [
        pytest.param(many((20, 48), (45, 35), (50, 24), (55, 10), (75, 8)), stock(110), 47, id="AMPL cut.mod"),
        pytest.param(many((3, 25), (5, 20), (9, 15)), stock(17), 19, id="Winston boards"),
    ],
)
def test_the_solver_finds_published_optima(pieces, roll_lengths, optimum):
    assert solved(pieces, roll_lengths) == pytest.approx(optimum)
