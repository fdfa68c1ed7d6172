"""What a job can have of the stock, and what is to be ordered: arithmetic worked by hand, rules of our own."""

from __future__ import annotations

from decimal import Decimal

import pytest

from materials.calc.parts import Part
from materials.calc.product import Measure, ProductFacts
from materials.calc.pull import Pull
from materials.calc.rolls import Cut, Remnant, never
from materials.calc.takeoff import MOST_SEARCHED, OnHand, TakeoffLine, plan_for
from openings.calc.units import METRIC

STRIP = ProductFacts(
    code="s", name="Strip", measure=Measure.LENGTH, package="roll", package_quantity=Decimal(100), spare_pct=Decimal(10)
)


def line(cuts: int, *, remnants: tuple[Remnant, ...] = (), on_hand: OnHand = OnHand()) -> TakeoffLine:  # noqa: B008
    """Return a line of strips of 30 in, three of which go on a roll of 100 in."""
    pieces = (Cut(Decimal(30), "sill strip"),) * cuts
    parts, quantity = (Part.SILL_STRIP,), Decimal(30 * cuts)
    pull = Pull(product=STRIP, parts=parts, quantity=quantity, measure=Measure.LENGTH, packages=0, pieces=pieces)
    left = plan_for(pull, remnants, is_over=never)
    return TakeoffLine(product=STRIP, parts=parts, whole_quantity=quantity, left=left, on_hand=on_hand)


@pytest.mark.parametrize(
    ("on_hand", "for_job"),
    [
        (OnHand(warehouses=Decimal(7)), 7),
        (OnHand(warehouses=Decimal("7.5"), for_others=3), 4),
        (OnHand(warehouses=Decimal(2), for_others=3, on_trucks=2), 2),
    ],
    ids=["all of it", "no part of a package", "what others lack is not taken from the truck"],
)
def test_a_job_has_what_others_do_not_want_and_what_is_on_its_trucks(on_hand, for_job):
    assert on_hand.for_job == for_job


def test_packages_hold_need_and_spare_and_what_is_there_is_not_ordered():
    # Seven strips of 30 in are 210 in: three rolls, with 10, 10 and 70 in left. 10% are 21 in, which the 70 in hold.
    of_seven = line(7, on_hand=OnHand(warehouses=Decimal(2)))
    assert (of_seven.quantity, of_seven.spare, of_seven.packages, of_seven.to_order) == (210, 21, 3, 1)
    # Nine are 270 in: three rolls with 10 in left of each, which is not worth keeping. 27 in take one roll more.
    assert (line(9).spare, line(9).packages, line(9).to_order) == (27, 4, 4)


def test_rolls_that_are_cut_alike_stand_together():
    rolls = line(7, remnants=(Remnant(Decimal(65), "R1"),)).rolls
    said = [(one.count, one.remnants, [(cut.count, cut.length_in) for cut in one.cuts], one.left_in) for one in rolls]
    assert said == [(1, ("R1",), [(2, 30)], 5), (1, (), [(3, 30)], 10), (1, (), [(2, 30)], 40)]


def test_more_cuts_than_are_searched_fill_rolls_one_by_one_and_say_so():
    few, many = line(MOST_SEARCHED), line(MOST_SEARCHED + 2)
    assert few.reason.startswith(
        "400 cuts, best plan found: 134 rolls; no plan needs fewer; spare: 10% of 1000' 0\" is "
    )
    # 402 strips of 30 in are 12,060 in: 121 rolls of 100 in by volume, three to a roll 134.
    assert many.reason.startswith(
        "402 cuts, too many to search, so each roll is filled longest cut first: 134 rolls; at least 121 are needed"
    )
    assert "304800 mm" in few.reason_in(METRIC)
    assert "'" not in few.reason_in(METRIC)


def test_what_is_all_laid_takes_nothing():
    laid = TakeoffLine(product=STRIP, parts=(Part.SILL_STRIP,), whole_quantity=Decimal(90), left=None, on_hand=OnHand())
    assert (laid.quantity, laid.packages, laid.to_order, laid.rolls, laid.reason) == (0, 0, 0, (), "all of it is laid")
