"""What is taken beyond the need. How much is company data; the arithmetic below is done by hand from that."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from materials.calc.draw import draw_of
from materials.calc.lines import DrawLine
from materials.calc.parts import Part
from materials.calc.product import Measure, ProductFacts
from materials.calc.pull import Drawn, pull_of
from materials.calc.roll_lengths import RollLength
from materials.calc.rolls import plan_cuts
from materials.calc.spare import Spare, spare_of, spare_of_rolls, spare_rule
from materials.errors import BadProduct
from openings.calc.facts import OpeningFacts
from openings.calc.starting_details import STARTING_DETAILS

OPENING = OpeningFacts(
    ro_width_in=Decimal(36), ro_height_in=Decimal(54), unit_width_in=Decimal("35.5"), unit_height_in=Decimal("53.5")
)
DETAIL = replace(STARTING_DETAILS["flange over, wrap before"], strip_width_in=Decimal(9), sealant_waste_pct=Decimal(10))


def product(measure: Measure, holds: int | str, **values: object) -> ProductFacts:
    package = {Measure.LENGTH: "roll", Measure.VOLUME: "cartridge", Measure.COUNT: "box"}[measure]
    common = {"code": "p", "name": "P", "measure": measure, "package": package, "package_quantity": Decimal(holds)}
    return ProductFacts(**common | values)


def pct(figure: str) -> dict[str, Decimal]:
    return {"spare_pct": Decimal(figure)}


@pytest.mark.parametrize(
    ("rule", "need", "spare"),
    [
        ({}, "112", Spare()),
        # 5% of 112 is 5.6: whole pieces, so 6; 118 take two boxes of 100 as 112 do.
        (pct("5"), "112", Spare(quantity=Decimal(6), packages=0, reason="5% of 112 is 6 more")),
        # 5% of 196 is 9.8, so 10: 206 take three boxes where 196 take two.
        (pct("5"), "196", Spare(quantity=Decimal(10), packages=1, reason="5% of 196 is 10 more")),
        ({"spare_pieces": 4}, "98", Spare(quantity=Decimal(4), packages=1, reason="4 more than needed")),
    ],
    ids=["none", "percent of pieces are whole", "a box more", "pieces"],
)
def test_spare_of_what_is_counted_is_packed_together_with_the_need(rule, need, spare):
    assert spare_of(product(Measure.COUNT, 100, **rule), Decimal(need)) == spare


def test_spare_of_sealant_leaves_out_the_waste_that_the_detail_counts():
    # 110 cu in with 10% waste are 100 in the joints; 5% of those are 5, not 5.5.
    spare = spare_of(product(Measure.VOLUME, "18.23", **pct("5")), Decimal(110), net=Decimal(100))
    assert (spare.quantity, spare.packages) == (5, 0)  # 115 cu in take 7 cartridges of 18.23 as 110 do
    assert spare.reason == "5% of 100 cu in, the waste that the detail adds left out"


@pytest.mark.parametrize(
    ("rule", "need_in", "ends_in", "quantity_in", "packages", "reason"),
    [
        (pct("5"), 1800, ["100"], 90, 0, "5% of 150' 0\" is 7' 6\"; what the cuts leave over holds it"),
        (pct("5"), 1800, ["60"], 90, 1, "5% of 150' 0\" is 7' 6\"; 1 roll more"),
        (pct("5"), 1800, ["20"] * 5, 90, 1, "5% of 150' 0\" is 7' 6\"; 1 roll more"),
        (pct("60"), 1800, ["100"], 1080, 2, "60% of 150' 0\" is 90' 0\"; 2 rolls more"),
        ({"spare_pieces": 2}, 1800, ["71", "80"], 142, 0,
         "2 more cuts of the longest piece, 5' 11\"; what the cuts leave over holds it"),
        ({"spare_pieces": 2}, 1800, ["142"], 142, 1, "2 more cuts of the longest piece, 5' 11\"; 1 roll more"),
        # 13 of 71 in: 12 fit on a roll of 900 in with 1/4 in lost between two (12 × 71 + 11 × 1/4 = 854 3/4).
        ({"spare_pieces": 13}, 1800, [], 923, 2, "13 more cuts of the longest piece, 5' 11\"; 2 rolls more"),
    ],
    ids=["an end holds it", "an end is too short", "ends too short to keep", "more than a roll", "a piece on each end",
         "two with a trim between do not fit", "more than one roll of pieces"],
)  # fmt: skip
def test_spare_of_rolls_counts_what_the_plan_leaves(rule, need_in, ends_in, quantity_in, packages, reason):
    roll = product(Measure.LENGTH, 900, trim_in=Decimal("0.25"), **rule)
    ends = [Decimal(end) for end in ends_in]
    spare = spare_of_rolls(roll, Decimal(need_in), longest_in=Decimal(71), ends_in=ends)
    assert spare == Spare(quantity=Decimal(quantity_in), packages=packages, reason=reason)


def lines(part: Part) -> list[DrawLine]:
    return [line for line in draw_of(OPENING, DETAIL) if line.part is part]


def test_the_exact_need_of_a_day_stays_as_it_is():
    roll = product(Measure.LENGTH, 900, spare_pct=Decimal(50))
    drawn = [Drawn(label=f"W{n}", line=line, product=roll) for n in range(6) for line in lines(Part.JAMB_STRIP)]
    (pull,) = pull_of(drawn)
    plan = plan_cuts(pull.pieces, roll_lengths=[RollLength(Decimal(900))])
    # Jambs of 71 in, from memory: twelve are 852 in and leave 48 in of one roll; half as much again is 426 in.
    cut = pull.cut_by(plan)
    assert (cut.quantity, cut.spare.quantity, plan.rolls_new, cut.packages) == (852, 426, 1, 2)
    assert sum(len(one.cuts) for one in plan.rolls) == 12


def test_the_spare_of_a_bead_is_on_top_of_its_waste_and_not_of_both():
    bead = product(Measure.VOLUME, 1000, spare_pct=Decimal(20))
    (pull,) = pull_of([Drawn(label="W1", line=line, product=bead) for line in lines(Part.FLANGE_BEAD)])
    # Waste 10% and spare 20% of the same joints: 20/110 of what the waste is in.
    assert abs(pull.spare.quantity - pull.quantity * 20 / 110) < Decimal("0.0001")


@pytest.mark.parametrize(
    ("values", "field", "said"),
    [
        ({"spare_pct": Decimal(5), "spare_pieces": 2}, "spare_pieces", "in percent and in pieces; give one of the two"),
        ({"spare_pct": Decimal(-1)}, "spare_pct", "must not be negative"),
        ({"measure": Measure.VOLUME, "spare_pieces": 2}, "spare_pieces", "has no spare pieces; give percent"),
    ],
    ids=["two ways", "negative", "pieces of sealant"],
)
def test_a_spare_that_cannot_be_is_refused_under_its_field(values, field, said):
    with pytest.raises(BadProduct, match=said) as refused:
        replace(product(Measure.COUNT, 100), **values)
    assert [fault.field for fault in refused.value.faults] == [field]


def test_what_the_company_takes_more_is_said_by_product():
    rules = [{}, pct("7.50"), {"spare_pieces": 1}]
    assert [spare_rule(product(Measure.LENGTH, 900, **rule)) for rule in rules] == ["", "7.5%", "1 more cut a truck"]
    assert spare_rule(product(Measure.COUNT, 100, spare_pieces=4)) == "4 more pieces a truck"
