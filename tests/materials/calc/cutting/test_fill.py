"""Filling one roll, against every subset of a few pieces; no source needed."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.calc.cutting.fill import best_fill, best_sum, taken


def fullest(sizes: list[int], room: int) -> int:
    """Return the most that any of the pieces take up of a roll."""
    subsets = (some for count in range(len(sizes) + 1) for some in combinations(sizes, count))
    return max(total for total in map(sum, subsets) if total <= room)


@pytest.mark.parametrize(
    ("sizes", "room", "with_first", "filled"),
    [
        pytest.param([60, 50, 50], 100, True, [60], id="the longest is among them"),
        pytest.param([60, 50, 50], 100, False, [50, 50], id="unless that is waived"),
        pytest.param([120, 60, 40], 100, True, [60, 40], id="one too long is left out"),
        pytest.param([50, 30, 20, 10, 10, 10, 10, 10], 100, True, [50, 30, 20], id="long ones go, short ones stay"),
        pytest.param([70, 60], 50, True, [], id="nothing fits"),
        pytest.param([], 50, True, [], id="nothing is there"),
    ],
)
def test_best_fill(sizes, room, with_first, filled):
    places = best_fill(sizes, room, with_first=with_first)
    left = list(sizes)
    assert sorted(taken(left, places), reverse=True) == filled
    assert sorted([*left, *filled]) == sorted(sizes)


PIECES = st.lists(st.integers(1, 40), max_size=8)


@given(PIECES, st.integers(0, 100))
def test_nothing_fills_a_roll_better(sizes, room):
    assert sum(sizes[place] for place in best_fill(sizes, room, with_first=False)) == fullest(sizes, room)
    assert best_sum(sizes, room) == fullest(sizes, room)


@given(PIECES, st.integers(0, 100))
def test_nothing_fills_a_roll_better_beside_the_first_that_fits(sizes, room):
    fitting = [place for place, size in enumerate(sizes) if size <= room]
    places = best_fill(sizes, room)
    if fitting:
        first = fitting[0]
        assert first in places
        others = [size for place, size in enumerate(sizes) if place != first]
        assert sum(sizes[place] for place in places) == sizes[first] + fullest(others, room - sizes[first])
    else:
        assert places == []


@given(PIECES, st.integers(0, 100), st.booleans())
def test_places_come_last_first_so_that_they_can_be_taken(sizes, room, with_first):
    places = best_fill(sizes, room, with_first=with_first)
    assert places == sorted(set(places), reverse=True)
