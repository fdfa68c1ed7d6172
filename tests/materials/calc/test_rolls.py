from __future__ import annotations

import random
from collections import Counter
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.calc.rolls import Cut, CutPlan, plan_cuts
from materials.errors import PieceTooLong


def pieces(*sizes: tuple[int, int]) -> list[Cut]:
    return [Cut(Decimal(length), f"{length}-{n}") for length, count in sizes for n in range(count)]


PAPER_MILL = pieces(
    (1380, 22), (1520, 25), (1560, 12), (1710, 14), (1820, 18), (1880, 18), (1930, 20),
    (2000, 10), (2050, 12), (2100, 14), (2140, 16), (2150, 18), (2200, 20),
)  # fmt: skip


# The optimum is the floor for any plan; first-fit decreasing, where it is published, the ceiling for a sound one.
@pytest.mark.parametrize(
    ("roll", "cuts", "optimum", "most"),
    [
        # Cutting stock problem, the paper-mill example of textbooks and encyclopaedias: 73, FFD 82.
        (5600, PAPER_MILL, 73, 82),
        # V. Chvatal, Linear Programming (1983), ch. 13: 453 (from memory), FFD 485.
        (100, pieces((45, 97), (36, 610), (31, 395), (14, 211)), 453, 485),
        # Fourer, Gay, Kernighan, AMPL, cut.mod: 47; at most 11/9 and a little (Johnson 1973, from memory).
        (110, pieces((20, 48), (45, 35), (50, 24), (55, 10), (75, 8)), 47, 57),
        # W. Winston, Operations Research, 17-ft boards: 19.
        (17, pieces((3, 25), (5, 20), (9, 15)), 19, 23),
    ],
    ids=["paper mill", "Chvatal 13", "AMPL cut", "Winston 17"],
)
def test_textbook_examples(roll, cuts, optimum, most):
    plan = plan_cuts(cuts, roll_length_in=Decimal(roll))
    assert plan.rolls_lower_bound <= optimum <= len(plan.rolls) <= most
    assert_sound(plan, cuts, roll_in=Decimal(roll), trim_in=Decimal(0))


def test_a_trim_is_lost_between_cuts_but_not_where_a_cut_ends_the_roll():
    # Hand-worked: 50 + 1/8 + 49-7/8 = 100, nothing left, one roll.
    cuts = [Cut(Decimal(50), "a"), Cut(Decimal("49.875"), "b")]
    plan = plan_cuts(cuts, roll_length_in=Decimal(100), trim_in=Decimal("0.125"))
    assert (len(plan.rolls), plan.rolls_lower_bound, plan.left_in) == (1, 1, 0)
    # 50 + 1/8 + 50 does not fit; each roll has 50 - 1/8 left.
    plan = plan_cuts(pieces((50, 2)), roll_length_in=Decimal(100), trim_in=Decimal("0.125"))
    assert [roll.left_in for roll in plan.rolls] == [Decimal("49.875")] * 2
    assert plan.rolls_lower_bound == 2


def test_a_piece_as_long_as_the_roll_fits_and_a_longer_one_is_refused_by_name():
    assert len(plan_cuts([Cut(Decimal(100), "a")], roll_length_in=Decimal(100), trim_in=Decimal(1)).rolls) == 1
    with pytest.raises(PieceTooLong, match=r"W3-01 sill strip needs 100\.5 in, a roll has 100 in"):
        plan_cuts([Cut(Decimal("100.5"), "W3-01 sill strip")], roll_length_in=Decimal(100))


def test_nothing_to_cut_takes_no_roll():
    plan = plan_cuts([], roll_length_in=Decimal(100))
    assert (plan.rolls, plan.rolls_lower_bound) == ((), 0)


def test_the_order_of_the_pieces_does_not_change_the_plan():
    shuffled = random.Random(4).sample(PAPER_MILL, len(PAPER_MILL))
    assert plan_cuts(shuffled, roll_length_in=Decimal(5600)) == plan_cuts(PAPER_MILL, roll_length_in=Decimal(5600))


@given(
    lengths=st.lists(st.decimals("0.5", 120, places=4), max_size=60),
    trim=st.decimals(0, 2, places=4),
)
def test_every_piece_is_cut_once_and_no_roll_is_overdrawn(lengths, trim):
    cuts = [Cut(length, str(n)) for n, length in enumerate(lengths)]
    plan = plan_cuts(cuts, roll_length_in=Decimal(120), trim_in=trim)
    assert plan.rolls_lower_bound <= len(plan.rolls)
    assert_sound(plan, cuts, roll_in=Decimal(120), trim_in=trim)


def assert_sound(plan: CutPlan, cuts: list[Cut], *, roll_in: Decimal, trim_in: Decimal) -> None:
    assert Counter(cut for roll in plan.rolls for cut in roll.cuts) == Counter(cuts)
    for roll in plan.rolls:
        used = sum(cut.length_in for cut in roll.cuts) + trim_in * (len(roll.cuts) - 1)
        assert used <= roll_in
        assert roll.left_in == max(roll_in - used - trim_in, 0)
