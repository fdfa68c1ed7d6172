"""Whether a bead lands on the wall, and what a heavy unit lands on."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from openings.calc.advice import Answer
from openings.calc.facts import OpeningFacts
from openings.calc.setting_advice import bead_advice, bead_advice_of_detail, setting_advice
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.units import METRIC

CASED = STARTING_DETAILS["casing, paper after"]
FLANGED = STARTING_DETAILS["flange over, wrap after"]
REPLACEMENT = STARTING_DETAILS["box frame replacement"]


def opening(weight: int | None) -> OpeningFacts:
    return OpeningFacts(
        ro_width_in=Decimal(36), ro_height_in=Decimal(54), unit_width_in=Decimal("35.5"),
        unit_height_in=Decimal("53.5"), weight_lb=weight and Decimal(weight),
    )  # fmt: skip


# Casing less gap against the bead: geometry; bead of 1/2 in: common practice, no source. Fin about 1-1/2 in wide:
# brickcontainer.com, secondary; flange bead of 3/8 in: AAMA 2400-10 cl. 5.7.3.4, size from memory.
@pytest.mark.parametrize(
    ("detail", "gap", "answer"),
    [
        (CASED, "0.25", Answer.MET),
        (CASED, "0.75", Answer.MET),
        (CASED, "0.8", Answer.TAKE_CARE),
        (CASED, "1.5", Answer.TAKE_CARE),
        (CASED, "1.55", Answer.NOT_MET),
        (CASED, "3", Answer.NOT_MET),
        (FLANGED, "0.5625", Answer.MET),
        (FLANGED, "0.6", Answer.TAKE_CARE),
        (FLANGED, "1.2", Answer.NOT_MET),
    ],
)
def test_the_setting_bead_lands_on_the_wall_and_not_in_the_gap(detail, gap, answer):
    found = bead_advice(detail, gap_in=Decimal(gap))
    assert found.answer is answer


def test_the_reason_holds_casing_gap_and_bead_against_each_other():
    found = bead_advice(CASED, gap_in=Decimal("1.75"))
    assert found.reason.startswith('casing 2" wide over a gap of 1 3/4" leaves 1/4" on the wall for a bead of 1/2": it')
    assert "gap of 44.45 mm" in bead_advice(CASED, gap_in=Decimal("1.75"), units=METRIC).reason


@pytest.mark.parametrize("detail", [REPLACEMENT, replace(CASED, setting_bead_in=Decimal(0))], ids=["box", "no bead"])
def test_a_unit_without_a_bead_on_the_wall_is_asked_nothing(detail):
    assert bead_advice(detail, gap_in=Decimal(1)) is None


def test_a_detail_is_held_against_the_clearance_that_it_asks_for():
    wide = replace(CASED, ro_clearance_height_in=Decimal(4), most_clearance_height_in=Decimal(4))
    assert bead_advice_of_detail(CASED).answer is Answer.MET
    assert bead_advice_of_detail(wide).answer is Answer.NOT_MET


# Corner pieces take the impact of setting a heavy unit; many exceed 100 lb: common practice, no source.
@pytest.mark.parametrize(
    ("weight", "changes", "answer", "said"),
    [
        (99, {"has_corner_pieces": False}, Answer.MET, "less than 100 lb"),
        (100, {}, Answer.MET, "take the knock"),
        (100, {"has_corner_pieces": False}, Answer.TAKE_CARE, "lower it with care"),
        (140, {"has_pan": False}, Answer.TAKE_CARE, "no corner pieces"),
        (None, {}, Answer.MET, "(estimated)"),
    ],
)
def test_corner_pieces_are_armor_where_a_heavy_unit_lands(weight, changes, answer, said):
    _, corners = setting_advice(opening(weight), replace(CASED, **changes))
    assert corners.answer is answer
    assert said in corners.reason
