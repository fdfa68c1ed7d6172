"""The one verdict on the lift of a unit: the most careful rule that applies.

HSE L23 for teams, DHHS/NIOSH 94-110 (rev. 9/2021) for one person's limit, JELD-WEN JII-90025 for two people at least.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.calc.facts import OpeningFacts
from openings.calc.labor import Task, labor_of, total_person_h
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.terms import Mounting
from openings.calc.unit_lift import lift_of_unit, team_to_set
from openings.calc.units import METRIC

DETAIL = next(detail for detail in STARTING_DETAILS.values() if detail.mounting is Mounting.FLANGE)
FLANGE = Mounting.FLANGE


def unit(weight: str, *, sill: str | None = None, height: str = "54") -> OpeningFacts:
    return OpeningFacts(
        ro_width_in=Decimal("36.5"),
        ro_height_in=Decimal(height),
        unit_width_in=Decimal(36),
        unit_height_in=Decimal(height),
        weight_lb=Decimal(weight),
        sill_above_floor_in=None if sill is None else Decimal(sill),
    )


# By hand, 94-110 p. 1 and 7, H 10, poor grip, origin and destination as the manual has them:
# sill 0: V 27, D 10: 51 × .9775 × 1 × .90 = 44.87 lb: two lift 59.82, three 67.30 lb.
# sill 42: V 69, D 42: 51 × .7075 × .86286 × .90 = 28.02 lb: two lift 37.36, three 42.03 lb.
# sill 43: V 70, D 43: 51 × .70 × .86186 × .90 = 27.69 lb: three lift 41.54 lb.
# sill 60: V 87, beyond: as at V 70 with D 60: 51 × .70 × .85 × .90 = 27.31 lb: two lift 36.41, three 40.97 lb.
@pytest.mark.parametrize(
    ("weight", "sill", "people", "needs_aid", "needs_decision"),
    [
        pytest.param("60", None, 2, False, False, id="by weight alone"),
        pytest.param("60", "0", 3, False, False, id="onto the floor"),
        pytest.param("60", "42", 3, True, False, id="60 lb onto 42 in"),
        pytest.param("60", "60", 3, True, True, id="60 lb onto 60 in"),
        pytest.param("40", "42", 3, False, False, id="40 lb onto 42 in"),
        pytest.param("40", "60", 3, False, True, id="40 lb onto 60 in"),
        pytest.param("41", "43", 3, False, False, id="41 lb, hands at 70 in"),
        pytest.param("41", "43.01", 3, False, True, id="41 lb, hands just above 70 in"),
        pytest.param("20", "30", 2, False, False, id="two people at least"),
        pytest.param("20", "80", 2, False, True, id="a light unit set high"),
        pytest.param("200", None, 3, True, False, id="too heavy anywhere"),
    ],
)
def test_the_most_careful_rule_counts(weight, sill, people, needs_aid, needs_decision):
    lift = lift_of_unit(unit(weight, sill=sill), mounting=FLANGE)
    assert (lift.people, lift.needs_aid, lift.needs_decision) == (people, needs_aid, needs_decision)


def test_where_the_sill_height_is_not_known_the_reason_says_so():
    assert "height of the sill above the floor is not known" in lift_of_unit(unit("60"), mounting=FLANGE).reason


def test_the_reason_says_what_the_equation_lowered():
    lift = lift_of_unit(unit("60", sill="42"), mounting=FLANGE)
    assert lift.reason.startswith("60 lb is more than 3 people lift by hand (42.03 lb, where one lifts 28.02 lb)")
    assert "onto a sill 3' 6\" above it, by the lifting equation" in lift.reason


def test_beyond_the_equation_the_reason_and_the_decision_say_what_is_asked():
    lift = lift_of_unit(unit("60", sill="60"), mounting=FLANGE)
    assert "7' 3\" above the floor" in lift.decision
    assert "competent person decide, by name" in lift.decision
    assert lift.decision in lift.reason


def test_the_reason_in_metric():
    assert "onto a sill 1066.8 mm above it" in lift_of_unit(unit("60", sill="42"), mounting=FLANGE, units=METRIC).reason


@pytest.mark.parametrize("weight", ["20", "60", "72", "150"])
def test_every_verdict_carries_a_reason_a_source_and_a_caution(weight):
    lift = lift_of_unit(unit(weight), mounting=FLANGE)
    assert weight in lift.reason
    assert "HSE L23" in lift.source
    assert "manufacturer's instructions" in lift.caution


weights = st.decimals(min_value=1, max_value=400, places=2)
sills = st.one_of(
    st.decimals(min_value=0, max_value=200, places=3),
    st.sampled_from([Decimal(43) + near for near in (Decimal("-0.00001"), Decimal(0), Decimal("0.00001"))]),
)


def careful(facts: OpeningFacts) -> tuple[int, bool, bool]:
    lift = lift_of_unit(facts, mounting=FLANGE)
    return lift.people, lift.needs_aid, lift.needs_aid or lift.needs_decision


@given(weight=weights, more=weights, sill=st.none() | sills)
def test_a_heavier_unit_is_never_less_careful(weight, more, sill):
    lighter = replace(unit("1"), weight_lb=weight, sill_above_floor_in=sill)
    heavier = replace(lighter, weight_lb=weight + more)
    assert all(a <= b for a, b in zip(careful(lighter), careful(heavier), strict=True))


@given(weight=weights, low=sills, high=sills, height=st.decimals(min_value=6, max_value=180, places=2))
def test_a_higher_sill_is_never_less_careful_and_a_known_one_never_less_than_an_unknown_one(weight, low, high, height):
    low, high = sorted((low, high))
    unknown = replace(unit("1", height=str(height)), weight_lb=weight)
    asked = [careful(replace(unknown, sill_above_floor_in=sill)) for sill in (None, low, high)]
    for before, after in ((asked[0], asked[1]), (asked[1], asked[2])):
        assert all(a <= b for a, b in zip(before, after, strict=True)), asked


@given(weight=weights, sill=st.none() | sills)
def test_labor_takes_the_same_people_and_aid(weight, sill):
    facts = replace(unit("1"), weight_lb=weight, sill_above_floor_in=sill)
    lift, lines = lift_of_unit(facts, mounting=FLANGE), labor_of(facts, DETAIL)
    by_task = {line.task: line for line in lines}
    assert by_task[Task.SET].quantity == lift.people
    assert (Task.RIG_AID in by_task) is lift.needs_aid
    assert lift.reason in by_task[Task.SET].reason
    assert team_to_set(facts, mounting=FLANGE) == (lift.people, lift.needs_aid)


def test_hours_follow_the_verdict():
    # Setting a 60 lb unit takes two people by weight; onto 42 in three and an aid, which is rigged first.
    low, high = (total_person_h(labor_of(unit("60", sill=sill), DETAIL)) for sill in (None, "42"))
    assert high > low
