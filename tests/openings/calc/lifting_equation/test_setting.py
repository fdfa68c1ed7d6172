"""Setting a unit by the lifting equation of DHHS/NIOSH 94-110 (rev. 9/2021)."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from openings.calc.facts import OpeningFacts
from openings.calc.lifting_equation import horizontal_from_width_in, multipliers, setting_lift
from openings.calc.lifting_equation.multipliers import CM_KG
from openings.calc.terms import Mounting
from openings.calc.weight import weight_of
from openings.errors import BadLength, BadLift


# 94-110 p. 8; metric 20 + W/2 and 25 + W/2.
@pytest.mark.parametrize(("width", "height", "reach"), [("4", "10", "10"), ("4", "9.9", "12"), ("16", "30", "16")])
def test_reach_from_the_depth_of_the_load(width, height, reach):
    assert horizontal_from_width_in(Decimal(width), Decimal(height)) == Decimal(reach)


@pytest.mark.parametrize(("height", "reach"), [("25", "40"), ("24.9", "45")])
def test_reach_from_the_depth_of_the_load_in_metric(height, reach):
    assert multipliers.reach_from_width(Decimal(40), Decimal(height), by=CM_KG) == Decimal(reach)


def unit(height: str = "54") -> OpeningFacts:
    return OpeningFacts(
        ro_width_in=Decimal("36.5"),
        ro_height_in=Decimal(height),
        unit_width_in=Decimal(36),
        unit_height_in=Decimal(height),
        weight_lb=Decimal(40),
    )


def set_on(sill: str | None, *, height: str = "54", **more):
    facts = replace(unit(height), sill_above_floor_in=None if sill is None else Decimal(sill))
    return setting_lift(facts, weight_of(facts, mounting=Mounting.FLANGE), **more)


def test_setting_a_unit_from_the_floor_onto_its_sill():
    # By hand from 94-110 p. 1, 7 and 8: H 8 + 4/2 = 10, V 27 and 36 + 27 = 63, D 36, poor grip:
    # 51 × (1 − .0075 × 33) × (.82 + 1.8/36) × .90 = 30.05 lb. HSE L23: two lift 40.07 lb.
    assessment = set_on("36")
    assert round(assessment.rwl_lb, 2) == Decimal("30.05")
    assert (assessment.people, assessment.needs_aid, assessment.load_lb) == (2, False, Decimal(20))
    assert "company default" in assessment.reason
    assert "the equation is for one person" in assessment.reason


def test_a_low_unit_is_held_farther_from_the_body():
    # 94-110 p. 8: hands below 10 in, 10 + W/2.
    assessment = set_on("36", height="18")
    assert assessment.origin.multipliers[1].value == Decimal(10) / 12
    assert assessment.destination.multipliers[1].value == 1


def test_a_high_sill_takes_setting_out_of_reach():
    assessment = set_on("60")  # hands at 87 in, 94-110: at most 70 in
    assert assessment.rwl_lb is None
    assert "7' 3\" above the floor" in assessment.limits[0]
    assert assessment.needs_decision


def test_without_a_sill_height_nothing_is_said_of_setting():
    assert set_on(None) is None


def test_two_people_set_even_a_light_unit():
    # JELD-WEN JII-90025.
    facts = replace(unit(), weight_lb=Decimal(20), sill_above_floor_in=Decimal(30))
    assert setting_lift(facts, weight_of(facts, mounting=Mounting.FLANGE)).people == 2


def test_a_unit_without_depth_is_refused():
    with pytest.raises(BadLift) as refused:
        set_on("30", unit_depth_in=Decimal(0))
    assert refused.value.faults[0].field == "unit_depth_in"


def test_a_sill_below_the_floor_is_refused():
    with pytest.raises(BadLength) as refused:
        set_on("-1")
    assert refused.value.faults[0].field == "sill_above_floor_in"


def test_lifting_high_takes_an_aid_where_weight_alone_would_take_two_people():
    # 94-110: RWL 30.05 lb as above. HSE L23: three lift half of 90.15 lb; at 51 lb each, two would lift 68 lb.
    facts = replace(unit(), weight_lb=Decimal(66), sill_above_floor_in=Decimal(36))
    assessment = setting_lift(facts, weight_of(facts, mounting=Mounting.FLANGE))
    assert (assessment.people, assessment.needs_aid, assessment.load_lb) == (3, True, Decimal(22))
    assert "must not" in assessment.reason
