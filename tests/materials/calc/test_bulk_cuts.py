"""Rolls filled one by one: what the textbooks have for first fit with the longest first, and the bound of volume."""

from __future__ import annotations

from decimal import Decimal

import pytest

from materials.calc.bulk_cuts import plan_many
from materials.calc.rolls import Cut, Remnant
from materials.errors import PieceTooLong


def pieces(*alike: tuple[int, int]) -> list[Cut]:
    return [Cut(Decimal(length), "strip") for length, count in alike for _ in range(count)]


PAPER_MILL = (
    (1380, 22), (1520, 25), (1560, 12), (1710, 14), (1820, 18), (1880, 18), (1930, 20), (2000, 10), (2050, 12),
    (2100, 14), (2140, 16), (2150, 18), (2200, 20),
)  # fmt: skip


@pytest.mark.parametrize(
    ("roll_in", "alike", "rolls", "optimum"),
    [
        # The paper mill of the textbooks on cutting stock: 73 rolls, 82 by first fit with the longest first.
        (5600, PAPER_MILL, 82, 73),
        # V. Chvatal, Linear Programming (1983), ch. 13: 453 rolls, 485 by first fit with the longest first.
        (100, ((45, 97), (36, 610), (31, 395), (14, 211)), 485, 453),
    ],
    ids=["paper mill", "Chvatal"],
)
def test_it_is_first_fit_with_the_longest_first(roll_in, alike, rolls, optimum):
    plan = plan_many(pieces(*alike), roll_in=Decimal(roll_in))
    volume = -(-sum(length * count for length, count in alike) // roll_in)
    assert (plan.rolls_new, plan.rolls_lower_bound) == (rolls, volume)
    assert plan.rolls_lower_bound <= optimum
    assert sorted(cut.length_in for roll in plan.rolls for cut in roll.cuts) == sorted(
        cut.length_in for cut in pieces(*alike)
    )
    assert all(sum(cut.length_in for cut in roll.cuts) + roll.left_in == roll_in for roll in plan.rolls)


def test_remnants_are_cut_first_and_each_cut_loses_its_trim():
    # Two of 30 in with 1 in lost between them take 61 in: they end a remnant of 61 in, and no room is left on it.
    plan = plan_many(pieces((30, 3)), roll_in=Decimal(100), remnants=[Remnant(Decimal(61), "R1")], trim_in=Decimal(1))
    assert [(roll.remnant, len(roll.cuts), roll.left_in) for roll in plan.rolls] == [("R1", 2, 0), (None, 1, 69)]
    assert plan.rolls_lower_bound == 1


def test_a_piece_longer_than_a_roll_is_refused():
    with pytest.raises(PieceTooLong, match="strip needs 8' 5\", a roll has 8' 4\""):
        plan_many(pieces((101, 1)), roll_in=Decimal(100))
