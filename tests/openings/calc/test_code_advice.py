from __future__ import annotations

from dataclasses import fields, replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.calc.say import field_name
from openings.calc.advice import Advice, Answer
from openings.calc.code_advice import SiteFacts, code_advice
from openings.calc.facts import OpeningFacts
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.units import METRIC
from openings.errors import BadLength

DETAIL = STARTING_DETAILS["flange over, wrap after"]
OPENING = OpeningFacts(
    ro_width_in=Decimal("36.5"),
    ro_height_in=Decimal("54.5"),
    unit_width_in=Decimal(36),
    unit_height_in=Decimal(54),
    operation="casement",
)
MET, NOT_MET, TAKE_CARE, CANNOT_TELL = Answer.MET, Answer.NOT_MET, Answer.TAKE_CARE, Answer.CANNOT_TELL


def facts_of(**known: object) -> SiteFacts:
    """The facts, whole numbers as inches."""
    inches = {name: Decimal(str(fact)) for name, fact in known.items() if name.endswith("_in") and fact is not None}
    return SiteFacts(**known | inches)


def says(rule: str, *, opening: OpeningFacts = OPENING, detail=DETAIL, units=None, **known: object) -> Advice:
    given_units = {"units": units} if units else {}
    found = code_advice(facts_of(**known), opening, detail, **given_units)
    return next(advice for advice in found if advice.rule == rule)


ESCAPE = "emergency escape"

# IRC R310: 5.7 sq ft clear, 5.0 on a grade floor, 24 in high, 20 in wide, sill at most 44 in above the floor
# (Lincoln Windows, clear openings). 5.7 sq ft = 820.8 sq in: 20 in wide needs 41.04 in of height, 24 in high
# 34.2 in of width; 5.0 sq ft need 36 and 30 in. 28 × 30 passes and 20 × 24 fails: Hunker, means of egress.


@pytest.mark.parametrize(
    ("width", "height", "is_grade_floor", "answer"),
    [
        ("20", "24", False, NOT_MET),
        ("28", "30", False, MET),
        ("20", "41", False, NOT_MET),
        ("20", "41.04", False, MET),
        ("20", "42", False, MET),
        ("24", "34", False, NOT_MET),
        ("34.2", "24", False, MET),
        ("34.19", "24", False, NOT_MET),
        ("20", "36", True, MET),
        ("20", "36", False, NOT_MET),
        ("30", "24", True, MET),
        ("29.99", "24", True, NOT_MET),
        ("19.99", "60", False, NOT_MET),
        ("60", "23.99", False, NOT_MET),
    ],
    ids=[
        "both least sides are 3.33 sq ft", "28 x 30 is 5.83 sq ft", "20 x 41 is 5.694 sq ft", "20 wide needs 41.04",
        "20 x 42 is 5.83 sq ft", "24 x 34 is 5.667 sq ft", "24 high needs 34.2", "a hair under 34.2",
        "grade floor, 20 wide needs 36", "20 x 36 above the grade floor", "grade floor, 24 high needs 30",
        "grade floor, a hair under 30", "narrow", "low",
    ],
)  # fmt: skip
def test_clear_opening_for_escape(width, height, is_grade_floor, answer):
    found = says(
        ESCAPE,
        is_egress=True,
        sill_above_floor_in=44,
        clear_width_in=width,
        clear_height_in=height,
        is_grade_floor=is_grade_floor,
    )
    assert found.answer is answer


# IRC R310: sill at most 44 in above the floor (Lincoln Windows, clear openings).
@pytest.mark.parametrize(
    ("sill", "clear_sill", "answer"),
    [("44", None, MET), ("44.01", None, NOT_MET), ("30", "44.01", NOT_MET), ("60", "44", MET)],
    ids=["44 in", "over 44 in", "clear opening starts above the sill", "clear opening counts where given"],
)
def test_sill_of_an_escape(sill, clear_sill, answer):
    found = says(
        ESCAPE,
        is_egress=True,
        clear_width_in=28,
        clear_height_in=30,
        sill_above_floor_in=sill,
        clear_sill_above_floor_in=clear_sill,
    )
    assert found.answer is answer


# The limits as above; grade floor within 44 in of the ground: IRC R202, from memory.
@pytest.mark.parametrize(
    ("grade", "is_grade_floor", "answer"),
    [(44, None, MET), (-44, None, MET), ("44.01", None, NOT_MET), (None, None, CANNOT_TELL), (44, False, NOT_MET)],
    ids=["44 in above ground", "44 in below ground", "higher", "unknown", "said not to be"],
)
def test_grade_floor_where_only_its_smaller_area_is_there(grade, is_grade_floor, answer):
    found = says(
        ESCAPE,
        is_egress=True,
        clear_width_in=20,
        clear_height_in=36,
        sill_above_floor_in=30,
        sill_above_grade_in=grade,
        is_grade_floor=is_grade_floor,
    )
    assert found.answer is answer


@pytest.mark.parametrize(
    ("known", "answer", "words"),
    [
        ({"is_egress": False}, MET, "need not serve"),
        ({}, CANNOT_TELL, "emergency escape, clear width, clear height, sill above floor"),
        ({"is_egress": True, "clear_width_in": 28, "clear_height_in": 30}, CANNOT_TELL, "need info: sill above floor"),
        ({"is_egress": True, "clear_width_in": 19}, NOT_MET, "width 1' 7\", less than 1' 8\""),
        ({"clear_width_in": 19}, CANNOT_TELL, "emergency escape; for that it would not do: width 1' 7\""),
        (
            {"clear_width_in": 28, "clear_height_in": 30, "sill_above_floor_in": 30},
            MET,
            "2' 4\" × 2' 6\" = 5.83333 sq ft",
        ),
    ],
    ids=["no escape", "nothing known", "sill unknown", "one failure is enough", "would fail", "would serve"],
)
def test_an_escape_with_facts_missing(known, answer, words):
    found = says(ESCAPE, **known)
    assert (found.answer, words in found.reason) == (answer, True)


@pytest.mark.parametrize("operation", ["Fixed", "picture", "O"])
def test_a_fixed_unit_is_no_escape_and_nobody_falls_through_it(operation):
    # IRC R310: by normal operation from inside (Lincoln Windows). R312.2.1 speaks of operable windows (IRC 2012).
    fixed = replace(OPENING, operation=operation)
    assert says(ESCAPE, opening=fixed, is_egress=True).answer is NOT_MET
    assert says("window fall protection", opening=fixed).answer is MET


def test_a_unit_of_unknown_operation_is_taken_to_open_and_said_so():
    # Our choice.
    found = says(
        "window fall protection", opening=replace(OPENING, operation=""), sill_above_grade_in=80, sill_above_floor_in=10
    )
    assert found.answer is TAKE_CARE
    assert "operation not given, taken to open" in found.reason


# IRC 2012 R312.2.1: asked for above 72 in of drop and below 24 in above the floor.
@pytest.mark.parametrize(
    ("grade", "floor", "answer"),
    [
        ("72", "10", MET),
        ("72.01", "23.99", TAKE_CARE),
        ("72.01", "24", MET),
        ("200", None, CANNOT_TELL),
        (None, "23", CANNOT_TELL),
        (None, "24", MET),
    ],
    ids=[
        "72 in of drop",
        "over 72 and under 24",
        "24 in above the floor",
        "floor unknown",
        "drop unknown",
        "high sill",
    ],
)
def test_fall_protection(grade, floor, answer):
    assert says("window fall protection", sill_above_grade_in=grade, sill_above_floor_in=floor).answer is answer


# IRC 2015 R308.4.2: within 24 in of a door's edge and below 60 in. R308.4.5: below 60 in, from memory.
@pytest.mark.parametrize(
    ("rule", "field"),
    [("safety glazing near doors", "is_near_door"), ("safety glazing in wet areas", "is_wet_area")],
    ids=["door", "wet area"],
)
@pytest.mark.parametrize(
    ("is_there", "sill", "answer"),
    [
        (True, "59.99", TAKE_CARE),
        (True, "60", MET),
        (False, "10", MET),
        (True, None, CANNOT_TELL),
        (None, "10", CANNOT_TELL),
        (None, "60", MET),
    ],
    ids=["below 60", "60 in", "not there", "sill unknown", "place unknown", "high whatever the place"],
)
def test_safety_glazing_by_place(rule, field, is_there, sill, answer):
    assert says(rule, **{field: is_there}, sill_above_floor_in=sill).answer is answer


# IRC 2015 R308.4.3, all four: pane larger than 9 sq ft, bottom below 18 in, top above 36 in, walking surface
# within 36 in. 36 × 36 in are 9 sq ft and do not count; 36 × 36 1/4 are 9.06 and do.
@pytest.mark.parametrize(
    ("changed", "answer"),
    [
        ({}, TAKE_CARE),
        ({"pane_height_in": 36}, MET),
        ({"sill_above_floor_in": 18}, MET),
        ({"sill_above_floor_in": "17.99"}, TAKE_CARE),
        ({"is_near_walkway": False}, MET),
        ({"is_near_walkway": None}, CANNOT_TELL),
        ({"sill_above_floor_in": None}, CANNOT_TELL),
        ({"pane_width_in": None}, TAKE_CARE),
    ],
    ids=["all four", "9 sq ft", "18 in", "under 18 in", "nobody walks", "walkway?", "sill?", "unit for pane"],
)
def test_large_low_pane(changed, answer):
    hazardous = {"pane_width_in": 36, "pane_height_in": "36.25", "sill_above_floor_in": 10, "is_near_walkway": True}
    assert says("safety glazing of large low panes", **hazardous | changed).answer is answer


@pytest.mark.parametrize(("height", "answer"), [("36", MET), ("36.25", TAKE_CARE)], ids=["36 in", "above 36 in"])
def test_top_of_a_large_low_pane(height, answer):
    # IRC 2015 R308.4.3: top above 36 in.
    wide = replace(OPENING, ro_width_in=Decimal(60), unit_width_in=Decimal(59), unit_height_in=Decimal(height))
    found = says("safety glazing of large low panes", opening=wide, sill_above_floor_in=0, is_near_walkway=True)
    assert found.answer is answer


def test_barrier_laps_are_always_advised():
    # IRC 2015 R703.2: 2 in level, 6 in upright.
    assert says("WRB laps").answer is TAKE_CARE
    assert says("WRB laps").reason.count(' 2"') == says("WRB laps").reason.count(' 6"') == 1


@pytest.mark.parametrize(("is_behind_stucco", "answer"), [(True, TAKE_CARE), (False, MET)], ids=["stucco", "other"])
def test_two_layers_behind_stucco(is_behind_stucco, answer):
    # IRC R703.7.3: two layers of Grade D paper, flashing between them.
    found = says("two layers behind stucco", detail=replace(DETAIL, is_behind_stucco=is_behind_stucco))
    assert found.answer is answer


@pytest.mark.parametrize(("year", "answer"), [(1977, TAKE_CARE), (1978, MET), (None, CANNOT_TELL)])
def test_lead_paint(year, answer):
    # 40 CFR 745 subpart E: housing built before 1978.
    assert says("lead-safe work", built_year=year).answer is answer


@pytest.mark.parametrize(("grade", "answer"), [("420", MET), ("420.01", TAKE_CARE), (None, CANNOT_TELL)])
def test_a_sill_more_than_35_ft_up_wants_an_engineer(grade, answer):
    # JELD-WEN JII023, JII032.
    assert says("height above ground", sill_above_grade_in=grade).answer is answer


def test_metric_sentences_carry_the_metric_limits_of_the_code():
    # IRC R310 gives 0.530 m² beside 5.7 sq ft; 20 in = 508 mm, 24 in = 609.6 mm, 25.4 mm an inch.
    found = says(ESCAPE, units=METRIC, is_egress=True, sill_above_floor_in=30, clear_width_in=20, clear_height_in=24)
    assert found.reason == "clear 508 × 609.6 mm = 0.31 m², less than 0.53 m²"


@pytest.mark.parametrize("name", ["sill_above_floor_in", "clear_width_in", "pane_height_in"])
def test_a_negative_measure_is_refused_by_field(name):
    with pytest.raises(BadLength, match=field_name(name)) as refused:
        facts_of(**{name: -1})
    assert [fault.field for fault in refused.value.faults] == [name]


some_inches = st.none() | st.integers(0, 960).map(lambda quarters: Decimal(quarters) / 4)
perhaps = st.none() | st.booleans()
sites = st.builds(
    SiteFacts,
    **{
        field.name: some_inches if field.name.endswith("_in") else perhaps
        for field in fields(SiteFacts)
        if field.name != "built_year"
    },
    built_year=st.none() | st.integers(1800, 2030),
)


@given(site=sites, name=st.sampled_from([field.name for field in fields(SiteFacts)]))
def test_a_fact_more_never_turns_an_answer_over(site, name):
    """What is told without a fact stays so when it is known, or a bound gives way to the real pane or sill."""
    bounds = {"pane_width_in", "pane_height_in", "clear_sill_above_floor_in"}
    before = code_advice(replace(site, **{name: None}), OPENING, DETAIL)
    after = code_advice(site, OPENING, DETAIL)
    for blind, told in zip(before, after, strict=True):
        assert blind.answer in (CANNOT_TELL, told.answer) or name in bounds


@given(site=sites)
def test_advice_names_known_fields_where_it_cannot_tell_and_never_calls_anything_compliant(site):
    names = {field_name(field.name): field.name for field in fields(SiteFacts)}
    for advice in code_advice(site, OPENING, DETAIL):
        assert "complian" not in advice.reason
        assert advice.source
        if advice.answer is CANNOT_TELL:
            missing = advice.reason.removeprefix("need info: ").split(";")[0].split(", ")
            assert names.keys() >= set(missing)
            assert all(getattr(site, names[name]) is None for name in missing)
