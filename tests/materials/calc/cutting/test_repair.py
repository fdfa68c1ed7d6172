"""Packings, and how they are made better: what is on the rolls never changes but in place; no source needed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.calc.cutting.packing import Packing, of_rolls, packed
from materials.calc.cutting.rebuild import rebuild
from materials.calc.cutting.repair import repair

TRIPLETS = [400, 350, 250, 410, 330, 260, 450, 290, 260, 470, 275, 255, 390, 325, 285]
"""Five rolls of 1000, each of three pieces."""


def never() -> bool:
    return False


def at_once() -> bool:
    return True


def refilled(packing: Packing, *, lost: int = 0, patience: int = 500, is_over: Callable[[], bool] = never) -> bool:
    return repair(packing, lost=lost, patience=patience, at_once=4, chance=Random(0), is_over=is_over)


def all_of(packing: Packing) -> Counter[int]:
    """Return the pieces of a packing, which keeps count of what is left of its rolls."""
    assert packing.slack == [room - sum(held) for room, held in zip(packing.rooms, packing.held, strict=True)]
    assert all(slack >= 0 for slack in packing.slack)
    return Counter([*packing.loose, *(size for held in packing.held for size in held)])


def test_packed_fills_one_roll_after_the_other():
    packing = packed([40, 60, 50, 50, 70], [100, 100])
    assert (packing.held, packing.slack, packing.loose) == ([[70], [40, 60]], [30, 0], [50, 50])


def test_a_last_roll_takes_what_is_loose_as_far_as_it_fits():
    packing = packed([60, 60, 30], [60])
    packing.close(100)
    assert (packing.rooms, packing.held, packing.slack, packing.loose) == ([60, 100], [[60], [60, 30]], [0, 10], [])
    assert packing.open() == 100
    packing.close(50)
    assert (packing.held, packing.loose) == ([[60], [30]], [60])


def test_only_some_rolls():
    packing = packed([60, 50, 40], [60, 50, 40]).only([2, 0])
    assert (packing.rooms, packing.held, packing.slack) == ([40, 60], [[40], [60]], [0, 0])


def test_rolls_come_in_the_order_of_their_rooms_with_those_nothing_is_cut_from():
    packing = of_rolls([(100, [60]), (50, [40])], [50, 100, 100])
    assert (packing.held, packing.slack) == ([[40], [60], []], [10, 40, 100])


def test_repair_fits_in_what_is_loose():
    # 60 + 40 and 55 + 45, from 60 and 55 + 40 with 45 loose.
    packing = Packing([100, 100], [[60], [55, 40]], [40, 5], [45])
    assert refilled(packing)
    assert sorted(sorted(held) for held in packing.held) == [[40, 60], [45, 55]]
    assert packing.loose == []


def test_repair_says_that_it_did_not_come_so_far():
    packing = packed([60, 60], [100, 100])
    assert not refilled(packing, patience=20)
    assert refilled(packing, lost=80)


@given(st.lists(st.integers(1, 60), min_size=1, max_size=20), st.lists(st.integers(60, 100), min_size=1, max_size=6))
def test_repair_loses_no_piece_and_leaves_no_more_than_before(sizes, rooms):
    packing = packed(sizes, rooms)
    before = sum(packing.slack)
    refilled(packing, patience=10)
    assert all_of(packing) == Counter(sizes)
    assert sum(packing.slack) <= before


def test_repair_changes_nothing_once_time_is_over():
    packing = Packing([100, 100], [[60], [55, 40]], [40, 5], [45])
    assert not refilled(packing, is_over=at_once)
    assert packing.held == [[60], [55, 40]]


@pytest.mark.parametrize("seed", range(3))
def test_rebuild_divides_triplets_exactly(seed):
    packing = packed(TRIPLETS, [1000] * 5)
    found = rebuild(packing, waste=0, tries=100, chance=Random(seed), is_over=never)
    assert found.slack == [0] * 5
    assert all_of(found) == Counter(TRIPLETS)


def test_rebuild_gives_up_where_there_is_no_way():
    packing = packed([600] * 3, [1000] * 2)
    assert rebuild(packing, waste=200, tries=5, chance=Random(0), is_over=never) is None


def test_rebuild_does_not_begin_once_time_is_over():
    packing = packed(TRIPLETS, [1000] * 5)
    assert rebuild(packing, waste=0, tries=100, chance=Random(0), is_over=at_once) is None
