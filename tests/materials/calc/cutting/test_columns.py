from __future__ import annotations

from collections import Counter
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.calc.cutting.columns import fractional_bound
from materials.calc.cutting.supply import Kind
from tests.materials.calc.cut_checks import cuts, least_cost, many, shelf, stock
from tests.materials.calc.patterns import solved

AMPL = {20: 48, 45: 35, 50: 24, 55: 10, 75: 8}
CHVATAL = {45: 97, 36: 610, 31: 395, 14: 211}


def never() -> bool:
    return False


@pytest.mark.parametrize(
    ("demands", "room", "fraction"),
    [
        # R. Fourer, D. Gay, B. Kernighan, AMPL, data of cut.mod.
        pytest.param(AMPL, 110, "46.25", id="AMPL cut.mod"),
        # V. Chvatal, Linear Programming (1983), ch. 13 (from memory).
        pytest.param(CHVATAL, 100, "452.25", id="Chvatal ch. 13"),
    ],
)
def test_published_value_of_the_linear_program(demands, room, fraction):
    # At 100 a roll the bound is in hundredths of a roll.
    hundredths = int(fraction.replace(".", ""))
    assert fractional_bound(demands, [Kind(room, 100)], [], above=hundredths - 1, is_over=never) == hundredths
    whole = ceil(hundredths / 100)
    assert fractional_bound(demands, [Kind(room, 1)], [], above=whole - 1, is_over=never) == whole


@pytest.mark.parametrize(
    ("demands", "room", "remnants", "rolls"),
    [
        # Hand-worked: pieces of 40 fit twice on 100, so seven take 3 1/2 rolls; a remnant of 80 holds two of them.
        pytest.param({40: 7}, 100, [], 4, id="no remnant"),
        pytest.param({40: 7}, 100, [80], 3, id="a remnant for two"),
        pytest.param({40: 7}, 100, [40, 39], 3, id="a remnant for one, another for none"),
        pytest.param({40: 2}, 100, [80], 0, id="remnants only"),
    ],
)
def test_remnants_serve_first(demands, room, remnants, rolls):
    assert fractional_bound(demands, [Kind(room, 1)], remnants, above=rolls - 1, is_over=never) == rolls


def test_time_is_over_at_once():
    assert fractional_bound(AMPL, [Kind(110, 1)], [], above=0, is_over=lambda: True) == 0


def test_it_is_not_begun_where_it_takes_too_long():
    assert (
        fractional_bound({2 * size: 1 for size in range(2, 200)}, [Kind(1 << 17, 1)], [], above=0, is_over=never) == 0
    )


DEMANDS = st.dictionaries(st.integers(3, 30), st.integers(1, 9), min_size=1, max_size=4)
KINDS = st.dictionaries(st.integers(30, 60), st.integers(1, 9), min_size=1, max_size=3).map(
    lambda prices: [Kind(room, price) for room, price in prices.items()]
)


@given(DEMANDS, KINDS)
@settings(deadline=None, max_examples=40)
def test_it_is_that_of_all_patterns_at_once(demands, kinds):
    # scipy.optimize.milp without whole numbers: the same linear program with every pattern a column from the start.
    cost = solved(many(*demands.items()), stock(*kinds), is_whole=False)
    at_least = ceil(cost - 1e-6)
    assert fractional_bound(demands, kinds, [], above=at_least - 1, is_over=never) == at_least


@given(
    st.lists(st.integers(3, 30), min_size=1, max_size=7),
    KINDS,
    st.lists(st.integers(1, 60), max_size=2),
    st.integers(0, 40),
)
@settings(deadline=None)
def test_it_is_never_above_what_trying_everything_finds(sizes, kinds, remnants, above):
    cost = least_cost(cuts(*sizes), stock(*kinds), shelf(*remnants))
    assert fractional_bound(Counter(sizes), kinds, remnants, above=above, is_over=never) <= cost
