from __future__ import annotations

from decimal import Decimal

import pytest

from materials.calc.card_takes import PARTS, seals_of, takes_of
from materials.calc.draw import draw_of
from materials.calc.parts import Part
from materials.calc.supply import supplied
from openings.calc.facts import OpeningFacts
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.step_code import StepCode
from tests.openings.calc.card.variations import opening

CASING = STARTING_DETAILS["casing, paper after"]


def test_every_part_has_a_name_on_the_card():
    assert set(PARTS) == set(Part)


def test_what_is_taken_stands_at_the_step_that_lays_it():
    facts = opening(28, 54)
    lines = draw_of(facts, CASING)
    takes = takes_of(lines, supplied(lines, lambda _part: None).lines)
    assert [take.part for take in takes.by_step[StepCode.STRAPS]] == ["straps", "screws into the jambs of the unit"]
    (sill,) = takes.by_step[StepCode.SILL_STRIP]
    assert (sill.part, sill.amount, sill.product) == ("sill strip", "4' 4\"", "")
    (jambs,) = takes.by_step[StepCode.JAMB_STRIPS]
    assert jambs.amount == "2 × 6' 5\""


def test_shims_of_several_lines_are_one_number():
    facts = opening(28, 54)
    lines = draw_of(facts, CASING)
    (shims,) = takes_of(lines, supplied(lines, lambda _part: None).lines).by_step[StepCode.SHIM]
    assert int(shims.amount) == sum(line.quantity for line in lines if line.part is Part.SHIM)


# Rod 1/8 in thicker than a gap under 3/4 in, next stock size: Alcot. Depth half the width, at least 1/4 in:
# northernarchitecture.us.
@pytest.mark.parametrize(
    ("clear_in", "gap_in", "rod_in", "depth_in"),
    [("0.5", "0.25", "0.375", "0.25"), ("1", "0.5", "0.625", "0.25"), ("1.25", "0.625", "0.75", "0.3125")],
)
def test_a_gap_gets_its_rod(clear_in, gap_in, rod_in, depth_in):
    facts = OpeningFacts(
        ro_width_in=Decimal(30),
        ro_height_in=Decimal(50),
        unit_width_in=30 - Decimal(clear_in),
        unit_height_in=50 - Decimal(clear_in),
    )
    for seal in seals_of(facts, CASING):
        assert (seal.gap_in, seal.rod_in, seal.depth_in) == (Decimal(gap_in), Decimal(rod_in), Decimal(depth_in))


def test_a_gap_too_wide_for_any_rod_has_none():
    facts = OpeningFacts(
        ro_width_in=Decimal(30), ro_height_in=Decimal(50), unit_width_in=Decimal(26), unit_height_in=Decimal(46)
    )
    assert {seal.rod_in for seal in seals_of(facts, CASING)} == {None}
