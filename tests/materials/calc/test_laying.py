"""In which step each part is laid, and what is left to draw."""

from __future__ import annotations

from decimal import Decimal

import pytest

from materials.calc.draw import draw_of
from materials.calc.laying import LAID_IN, left_to_draw, step_of
from materials.calc.parts import Part
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.lay_order import steps_for
from openings.calc.step_code import StepCode
from openings.calc.terms import HeadFlashing, Mounting

OPENING = OpeningFacts(
    ro_width_in=Decimal(36), ro_height_in=Decimal(54), unit_width_in=Decimal("35.5"), unit_height_in=Decimal("53.5")
)


def detail(mounting: Mounting, head_flashing: HeadFlashing, *, has_straps: bool = False) -> DetailFacts:
    return DetailFacts(
        mounting=mounting,
        barrier_before_window=mounting is not Mounting.BOX_FRAME,
        jamb_flashing_over_flange=mounting is Mounting.FLANGE,
        strip_width_in=Decimal(9),
        head_flashing=head_flashing,
        has_straps=has_straps,
        has_head_membrane=True,
        casing_width_in=Decimal("3.5") if mounting is Mounting.CASING else Decimal(0),
    )


DETAILS = [
    detail(mounting, head_flashing, has_straps=has_straps)
    for mounting in Mounting
    for head_flashing in HeadFlashing
    for has_straps in (False, True)
]


def test_every_part_but_primer_has_its_step():
    assert set(Part) - set(LAID_IN) == {Part.PRIMER}


@pytest.mark.parametrize("one", DETAILS, ids=str)
def test_each_line_is_laid_in_a_step_that_the_detail_has(one):
    codes = {step.code for step in steps_for(one)}
    assert {step_of(line) for line in draw_of(OPENING, one)} <= codes


@pytest.mark.parametrize("one", DETAILS, ids=str)
def test_what_is_laid_and_what_is_left_are_the_whole_draw(one):
    lines, laid = draw_of(OPENING, one), set()
    assert left_to_draw(lines, laid=laid) == lines
    for step in steps_for(one):
        laid.add(step.code)
        left = left_to_draw(lines, laid=laid)
        assert {step_of(line) for line in left}.isdisjoint(laid)
        assert [line for line in lines if step_of(line) not in laid] == list(left)
    assert left_to_draw(lines, laid=laid) == ()


def test_the_bed_of_a_drip_cap_is_laid_with_it_and_not_with_the_unit():
    lines = draw_of(OPENING, detail(Mounting.FLANGE, HeadFlashing.AFTER_MEMBRANE))
    beads = [line for line in lines if line.part is Part.SETTING_BEAD]
    assert [step_of(line) for line in beads] == [StepCode.DRIP_CAP]
