"""Who goes without. First loaded, first served: common practice, no source."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.calc.shortage import goes_without


@pytest.mark.parametrize(
    ("wanted", "on_hand", "short"),
    [
        ([3, 3, 3, 3], 10, [0, 0, 0, 2]),
        ([3, 3, 3, 3], 12, [0, 0, 0, 0]),
        ([3, 3, 3, 3], 7, [0, 0, 2, 3]),
        ([5, 1], 3, [2, 1]),
        ([0, 4], 3, [0, 1]),
        ([4], 0, [4]),
        ([2, 2], "3.5", [0, 1]),
        ([], 5, []),
    ],
    ids=["the last", "enough", "two", "the first takes all", "one is loaded", "nothing", "an opened one", "nobody"],
)
def test_each_truck_goes_without_what_those_before_it_took(wanted, on_hand, short):
    assert goes_without(wanted, on_hand=Decimal(on_hand)) == short


@given(st.lists(st.integers(0, 50), max_size=8), st.integers(0, 200))
def test_together_they_go_without_just_what_is_short_in_all(wanted, on_hand):
    short = goes_without(wanted, on_hand=Decimal(on_hand))
    assert sum(short) == max(sum(wanted) - on_hand, 0)
    assert all(0 <= without <= packages for without, packages in zip(short, wanted, strict=True))
