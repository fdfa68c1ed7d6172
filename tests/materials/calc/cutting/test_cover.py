"""Dividing all pieces among a few rolls, against every division of a few pieces; no source needed."""

from __future__ import annotations

from collections import Counter
from itertools import combinations
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.calc.cutting.cover import TooMuchWork, cover, divide, ways_to_fill
from materials.calc.rolls import never
from tests.materials.calc.cut_checks import cuts, least_cost, shelf

STEPS = 10_000


def bits(*places: int) -> int:
    return sum(1 << place for place in places)


@pytest.mark.parametrize(
    ("sizes", "room", "waste", "ways"),
    [
        pytest.param([60, 50, 50, 40], 100, 0, [(0, 3), (1, 2)], id="exactly"),
        pytest.param([60, 50, 50, 40], 100, 10, [(0, 3), (1, 2), (1, 3), (2, 3)], id="ten may be left"),
        pytest.param([60, 30], 100, 5, [], id="nothing leaves so little"),
        pytest.param([60, 30], 100, 100, [(), (0,), (1,), (0, 1)], id="anything does"),
    ],
)
def test_ways_to_fill(sizes, room, waste, ways):
    assert sorted(ways_to_fill(sizes, room, waste, is_over=never)) == sorted(bits(*places) for places in ways)


SIZES = st.lists(st.integers(1, 20), min_size=1, max_size=6).map(lambda sizes: sorted(sizes, reverse=True))


@given(SIZES, st.integers(1, 50), st.integers(0, 50))
def test_ways_to_fill_are_all_there_are(sizes, room, waste):
    waste = min(waste, room)
    subsets = (some for count in range(len(sizes) + 1) for some in combinations(range(len(sizes)), count))
    filling = [some for some in subsets if 0 <= room - sum(sizes[place] for place in some) <= waste]
    assert sorted(ways_to_fill(sizes, room, waste, is_over=never)) == sorted(bits(*some) for some in filling)


def test_too_many_ways_are_given_up():
    with pytest.raises(TooMuchWork):
        ways_to_fill([10] * 40, 200, 0, is_over=never)


def test_cover_takes_every_place_once():
    ways = {bits(0, 1): 3, bits(0, 2): 0, bits(1): 1, bits(1, 2): 0, bits(0): 5}
    chosen = cover(ways, 3, 1, steps=STEPS, chance=Random(1), is_over=never)
    assert sorted(chosen) == sorted([bits(0, 2), bits(1)])
    assert cover(ways, 3, 0, steps=STEPS, chance=Random(1), is_over=never) is None
    assert cover(ways, 4, 9, steps=STEPS, chance=Random(1), is_over=never) is None


def test_cover_is_given_up_after_so_many_steps():
    with pytest.raises(TooMuchWork):
        cover({bits(0): 0, bits(1): 0}, 2, 0, steps=1, chance=Random(1), is_over=never)


@given(SIZES, st.lists(st.integers(1, 50), min_size=1, max_size=3), st.integers(0, 9))
def test_pieces_are_divided_if_that_can_be(sizes, rooms, seed):
    waste = sum(rooms) - sum(sizes)
    if waste < 0:
        return
    rolls = divide(sizes, rooms, waste=waste, steps=STEPS, chance=Random(seed), is_over=never)
    if least_cost(cuts(*sizes), [], shelf(*rooms)) is None:
        assert rolls is None
    else:
        assert Counter(size for _, pieces in rolls for size in pieces) == Counter(sizes)
        assert Counter(room for room, _ in rolls) <= Counter(rooms)
        assert all(sum(pieces) <= room for room, pieces in rolls)
