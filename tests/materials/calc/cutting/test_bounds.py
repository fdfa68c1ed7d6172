from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.calc.cutting.bounds import large_pieces_bound, rolls_needed, rounded_bound, volume_needed
from materials.calc.cutting.search import Search
from materials.calc.cutting.supply import Kind
from tests.materials.calc.cut_checks import cuts, least_cost, shelf, stock

ROOM = 30
SIZES = st.lists(st.integers(1, ROOM), min_size=1, max_size=7)
REMNANTS = st.lists(st.integers(1, 40), max_size=3)


def optimum(sizes: list[int], remnants: Sequence[int] = (), kinds: Sequence[Kind] = (Kind(ROOM, 1),)) -> Decimal | None:
    """Return what new rolls cost at least, None where not all pieces fit."""
    return least_cost(cuts(*sizes), stock(*kinds), shelf(*remnants))


@pytest.mark.parametrize(
    ("sizes", "remnants", "volume"),
    [
        pytest.param([40, 30, 20], [], 90, id="no remnants"),
        # 40 + 30 of 75, and 40 of 45: what a remnant cannot be filled with does not count.
        pytest.param([40, 30, 30], [75], 30, id="a remnant counts for what fills it"),
        pytest.param([40, 30, 30], [75, 45], 0, id="each remnant by itself, never below 0"),
        pytest.param([40], [39], 40, id="a remnant too short for any"),
    ],
)
def test_volume_that_remnants_cannot_hold(sizes, remnants, volume):
    # Hand-worked.
    assert volume_needed(sizes, remnants) == volume


@pytest.mark.parametrize(
    ("sizes", "room", "rolls"),
    [
        # S. Martello, P. Toth, Knapsack Problems (1990), ch. 8 (from memory). By hand: 300 of 100 is 3 by volume. Short
        # = 33: 70 leaves less and takes a roll, so does 60, in which 40 is left for 50 + 33 + 33 + 33 = 149; 109 remain
        # for 2 rolls more.
        pytest.param([70, 60, 50, 33, 33, 33, 11, 7, 3], 100, 4, id="Martello and Toth"),
        # Short = 40: three of 61 leave less; 3 x 40 take two rolls more. By volume 303 of 100 are 4.
        pytest.param([61, 61, 61, 40, 40, 40], 100, 5, id="long pieces leave no room for the short"),
        pytest.param([51, 51, 51], 100, 3, id="more than half a roll each"),
        pytest.param([50, 50, 50], 100, 2, id="half a roll each"),
        pytest.param([60, 60, 40, 40], 100, 2, id="exact pairs"),
        pytest.param([10] * 21, 100, 3, id="volume"),
        pytest.param([100], 100, 1, id="one piece as long as the roll"),
    ],
)
def test_bound_by_pieces_that_share_a_roll_with_few_others(sizes, room, rolls):
    assert large_pieces_bound(sizes, room) == rolls


@pytest.mark.parametrize(
    ("sizes", "room", "rolls"),
    [
        # Hand-worked by the rule of Fekete and Schepers (2001), k = 2: 34 x 3 of 100 is a whole 1, so each counts 1/2.
        # By volume and by the bound above it is 3.
        pytest.param([34] * 7, 100, 4, id="more than a third each"),
        # k = 3: 26 x 4 of 100 is a whole 1, so each counts 1/3 and ten of them 3 1/3; by volume 2.6.
        pytest.param([26] * 10, 100, 4, id="more than a quarter each"),
        # 25 x 4 of 100 is 1 without a rest: each counts as it is.
        pytest.param([25] * 8, 100, 2, id="a quarter each"),
        pytest.param([33] * 6, 99, 2, id="a third each"),
        # Pieces shorter than 40 count nothing, 61 a whole roll then.
        pytest.param([61, 61, 61, 40, 40, 40], 100, 5, id="long pieces leave no room for the short"),
    ],
)
def test_bound_by_rounded_shares(sizes, room, rolls):
    assert rounded_bound(sizes, room, above=rolls) == rolls
    assert rounded_bound(sizes, room, above=rolls - 1) == rolls


@pytest.mark.parametrize(
    ("sizes", "remnants", "rolls"),
    [
        # 60 + 60 + 60 take a roll each, one of them the remnant of 70: by volume 120 of 100 would be 2 as well.
        pytest.param([60, 60, 60], [70], 2, id="a remnant serves one long piece"),
        # The remnant of 50 serves none: by volume 180 of 100 are 2.
        pytest.param([60, 60, 60], [50], 3, id="a remnant too short for any"),
        pytest.param([60, 60], [130], 0, id="a remnant longer than a roll"),
        pytest.param([60, 30], [60, 60], 0, id="remnants only"),
    ],
)
def test_rolls_beside_remnants(sizes, remnants, rolls):
    # Hand-worked.
    volume = volume_needed(sizes, remnants)
    assert rolls_needed(sizes, remnants, volume=volume, longest=100) == rolls


@given(SIZES)
@settings(deadline=None)
def test_no_bound_is_above_what_trying_everything_finds(sizes):
    rolls = optimum(sizes)
    assert large_pieces_bound(sizes, ROOM) <= rolls
    assert rounded_bound(sizes, ROOM, above=len(sizes)) <= rolls
    assert rolls_needed(sizes, [], volume=sum(sizes), longest=ROOM) <= rolls


@given(SIZES)
def test_the_bound_by_few_others_is_never_below_that_by_volume(sizes):
    assert large_pieces_bound(sizes, ROOM) >= -(-sum(sizes) // ROOM)


@given(SIZES, REMNANTS)
@settings(deadline=None)
def test_no_bound_beside_remnants_is_above_what_trying_everything_finds(sizes, remnants):
    volume = volume_needed(sizes, remnants)
    rolls = optimum(sizes, remnants)
    assert rolls_needed(sizes, remnants, volume=volume, longest=ROOM) <= rolls


KINDS = st.dictionaries(st.integers(10, ROOM), st.integers(1, 9), min_size=1, max_size=3).map(
    lambda prices: [Kind(room, price) for room, price in prices.items()]
)


@given(SIZES, REMNANTS, KINDS)
@settings(deadline=None)
def test_no_bound_on_rolls_of_several_prices_is_above_what_trying_everything_finds(sizes, remnants, kinds):
    cost = optimum(sizes, remnants, kinds)
    fewest = optimum(sizes, remnants, [Kind(kind.room, 1) for kind in kinds])
    rolls_at_least, cost_at_least = Search(sizes, kinds, remnants, lambda: False).bounds()
    if cost is not None:
        assert rolls_at_least <= fewest
        assert cost_at_least <= cost
