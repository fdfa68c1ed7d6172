from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.calc.experience import Experience
from openings.calc.facts import OpeningFacts
from openings.calc.labor import Conditions, labor_of, total_person_h
from openings.calc.labor_rates import STARTING_RATES, Access, Factor, Task
from openings.calc.learning import Repetition
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.terms import HeadFlashing
from openings.calc.units import METRIC
from openings.errors import BadDetail, BadRate

CASED = STARTING_DETAILS["casing, paper after"]
FLANGED = STARTING_DETAILS["flange over, wrap after"]
REPLACEMENT = STARTING_DETAILS["box frame replacement"]
BARE_REPLACEMENT = replace(REPLACEMENT, has_pan=False, has_straps=False)


def opening(
    width: Decimal | int, height: Decimal | int, *, weight_lb: Decimal | None = None, operation: str = ""
) -> OpeningFacts:
    return OpeningFacts(
        ro_width_in=Decimal(width),
        ro_height_in=Decimal(height),
        unit_width_in=width - Decimal("0.5"),
        unit_height_in=height - Decimal("0.5"),
        weight_lb=weight_lb,
        operation=operation,
    )


def line_of(task: Task, *args, **kwargs):
    return next(line for line in labor_of(*args, **kwargs) if line.task is task)


# 4 person-hours for a wood double-hung or casement: Guild of Project Controls, window installation.
# 16 person-hours for 8 to 12 replacements, 1.33 to 2 each: trade press; without pan and straps, which ours adds.
@pytest.mark.parametrize(
    ("detail", "width", "height", "least", "most"),
    [(FLANGED, 36, 54, "2", "2.5"), (CASED, 72, 60, "4", "5"), (BARE_REPLACEMENT, 36, 54, "1.33", "2")],
    ids=["flange", "large casing", "replacement"],
)
def test_totals_have_the_size_of_published_rates(detail, width, height, least, most):
    total = total_person_h(labor_of(opening(width, height), detail))
    assert Decimal(least) <= total <= Decimal(most)


def test_every_line_is_quantity_times_rate_and_says_why():
    for detail in STARTING_DETAILS.values():
        for line in labor_of(opening(72, 60), detail):
            assert line.person_h == line.quantity * line.rate_person_h
            assert line.person_h > 0
            assert line.reason.startswith(f"{line.task}, ")
            assert line.source


def test_strip_is_counted_by_the_foot():
    # 54 + 2 × 71 + 54 = 250 in = 20.83 ft of 9 in strip: AAMA 2400-10 note 3, jambs from memory.
    detail = replace(FLANGED, strip_width_in=Decimal(9))
    flash = line_of(Task.FLASH, opening(36, 54), detail)
    assert round(flash.quantity, 2) == Decimal("20.83")
    assert "20.83 × 0.02 per ft" in flash.reason


# Sealed sides, two jambs and head, the sill drains: common practice, no source; drain gaps: Pella 80WW0101.
@pytest.mark.parametrize(
    ("detail", "sealed_in"),
    [
        (FLANGED, 36 + 2 * 54),
        (CASED, 36 + 2 * 54 + 36 + 2 * 54 + 4 * 2),
        (
            replace(CASED, head_flashing=HeadFlashing.AFTER_MEMBRANE),
            36 + 2 * 54 + 36 + 2 * 54 + 4 * 2 + 36 + 2 * 2 + 1,
        ),
        (REPLACEMENT, 36 + 2 * 54 + 35),
    ],
    ids=["flange", "joint and casing", "joint, casing and drip cap", "box frame"],
)
def test_sealing_is_counted_along_every_bead(detail, sealed_in):
    seal = line_of(Task.SEAL, opening(Decimal("36.5"), Decimal("54.5")), detail)
    assert seal.quantity == Decimal(sealed_in) / 12


def test_a_unit_too_heavy_for_a_team_takes_an_aid():
    # 76.5 lb for three: HSE L23 with 51 lb each.
    tasks = {line.task for line in labor_of(opening(36, 54, weight_lb=Decimal(77)), FLANGED)}
    assert Task.RIG_AID in tasks
    tasks = {line.task for line in labor_of(opening(36, 54, weight_lb=Decimal("76.5")), FLANGED)}
    assert Task.RIG_AID not in tasks


def test_a_corrected_rate_changes_its_task_alone():
    strap = replace(STARTING_RATES.strap, person_h=Decimal("0.12"), source="own records")
    before = labor_of(opening(36, 54), CASED)
    after = labor_of(opening(36, 54), CASED, replace(STARTING_RATES, strap=strap))
    changed = [new for old, new in zip(before, after, strict=True) if old != new]
    assert [line.task for line in changed] == [Task.STRAP]
    assert changed[0].source == "own records"


def test_a_drip_cap_takes_time():
    without = replace(CASED, head_flashing=HeadFlashing.NONE)
    assert total_person_h(labor_of(opening(36, 54), CASED)) > total_person_h(labor_of(opening(36, 54), without))


CONDITIONS = st.builds(
    Conditions,
    storeys_up=st.integers(0, 40),
    access=st.sampled_from(Access),
    experience=st.sampled_from(Experience),
    repetition=st.none() | st.builds(Repetition, st.decimals("50.01", 100, places=2), st.integers(1, 200)),
)
# A pan turns up 6 in, so that an opening is higher than that.
SIDES = st.decimals(7, 460, places=3)


@given(
    width=SIDES,
    height=SIDES,
    more=st.decimals(0, 20, places=3),
    detail=st.sampled_from(list(STARTING_DETAILS.values())),
    operation=st.sampled_from(["", "fixed", "jalousie", "awning"]),
    conditions=CONDITIONS,
)
def test_a_larger_opening_never_takes_less_time(width, height, more, detail, operation, conditions):
    hours, larger = (
        total_person_h(labor_of(opening(width + by, height + by, operation=operation), detail, conditions=conditions))
        for by in (0, more)
    )
    assert 0 < hours <= larger


def test_total_is_rounded_half_up_once():
    # The lines are unrounded: two of 0.005 make 0.01, not 0.02.
    line = labor_of(opening(36, 54), FLANGED)[0]
    half = line._replace(person_h=Decimal("0.005"))
    assert total_person_h([half]) == Decimal("0.01")
    assert total_person_h([half, half]) == Decimal("0.01")


# Wood units, each: double hung 4, casement 4, fixed sash 3, jalousie 2 person-hours: Guild of Project Controls
# compendium, window installation.
@pytest.mark.parametrize(("operation", "person_h_each"), [("DH", 4), ("casement", 4), ("F", 3), ("jalousie", 2)])
def test_setting_goes_by_the_operation_as_published_units_do(operation, person_h_each):
    usual = line_of(Task.SET, opening(36, 54), FLANGED)
    rated = line_of(Task.SET, opening(36, 54, operation=operation), FLANGED)
    assert rated.person_h == usual.person_h * person_h_each / 4
    assert f"operation as scheduled: {operation}" in rated.reason
    assert "Guild of Project Controls" in rated.source


def test_an_operation_that_nobody_rated_changes_nothing_and_says_so():
    rated = line_of(Task.SET, opening(36, 54, operation="awning"), FLANGED)
    assert rated.person_h == line_of(Task.SET, opening(36, 54), FLANGED).person_h
    assert "× 1 (operation without a rate of its own)" in rated.reason
    assert "operation as scheduled: awning" in rated.reason


def test_the_operation_changes_the_setting_alone():
    plain, fixed = (labor_of(opening(36, 54, operation=operation), CASED) for operation in ("", "fixed"))
    assert [new.task for old, new in zip(plain, fixed, strict=True) if old.person_h != new.person_h] == [Task.SET]


def test_a_shop_rates_an_operation_of_its_own():
    rates = replace(STARTING_RATES, operation_factors=(Factor("Awning", Decimal("1.2"), "own records"),))
    rated = line_of(Task.SET, opening(36, 54, operation="awning, top hung"), FLANGED, rates)
    assert rated.person_h == Decimal("0.6")
    assert "2 × 0.25 per person × 1.2 (Awning)" in rated.reason
    assert rated.source == "company default, editable (source not checked); own records"


def test_setting_takes_the_people_that_the_weight_asks_for():
    # 68 lb for two, 76.5 lb for three: HSE L23 with 51 lb each; rated by operation and weight, the factor stays.
    for weight_lb, people in (("68", 2), ("68.01", 3)):
        rated = line_of(Task.SET, opening(36, 54, weight_lb=Decimal(weight_lb), operation="fixed"), FLANGED)
        assert rated.quantity == people
        assert rated.person_h == people * Decimal("0.25") * Decimal("0.75")


# 1, 1.5 and 2 h for professional, experienced and first-time installers: JELD-WEN JII032.
@pytest.mark.parametrize(("experience", "hours"), [("professional", "1"), ("experienced", "1.5"), ("first time", "2")])
def test_a_crew_without_practice_takes_longer(experience, hours):
    lines = labor_of(opening(36, 54), CASED, conditions=Conditions(experience=Experience(experience)))
    for line, usual in zip(lines, labor_of(opening(36, 54), CASED), strict=True):
        assert line.person_h == usual.person_h * Decimal(hours)
        assert (f"× {hours} ({experience})" in line.reason) is (hours != "1")
        assert ("JELD-WEN JII032" in line.source) is (hours != "1")


def test_storeys_and_access_stretch_every_task():
    # 5 % a storey, 15 % for a ladder: from memory.
    conditions = Conditions(storeys_up=2, access=Access.LADDER)
    lines = labor_of(opening(36, 54), CASED, conditions=conditions)
    for line, usual in zip(lines, labor_of(opening(36, 54), CASED), strict=True):
        assert round(line.person_h, 12) == round(usual.person_h * Decimal("1.15") * Decimal("1.1"), 12)
        assert line.factor == Decimal("1.265")
        assert "× 1.15 (ladder) × 1.1 (2 stories up)" in line.reason


@pytest.mark.parametrize(("number", "part"), [(1, "1"), (2, "0.8"), (4, "0.64"), (8, "0.512")])
def test_a_crew_learns_from_units_alike(number, part):
    # 3000, 2400, 1920, 1536 h at a slope of 80 %: DoD Contract Pricing Reference Guide vol. 2 ch. 7.
    conditions = Conditions(repetition=Repetition(Decimal(80), number))
    lines = labor_of(opening(36, 54), CASED, conditions=conditions)
    for line, usual in zip(lines, labor_of(opening(36, 54), CASED), strict=True):
        assert round(line.person_h, 12) == round(usual.person_h * Decimal(part), 12)
        assert f"(unit {number} of its kind, learning 80%)" in line.reason


def test_ordinary_conditions_change_no_figure_and_no_word():
    lines = labor_of(opening(36, 54), CASED, STARTING_RATES, Conditions())
    assert lines == labor_of(opening(36, 54), CASED)
    assert all(line.factors == () and line.factor == 1 for line in lines)


@given(conditions=CONDITIONS, storeys=st.integers(0, 40))
def test_no_condition_makes_hours_negative_and_no_storey_makes_them_fewer(conditions, storeys):
    higher = replace(conditions, storeys_up=conditions.storeys_up + storeys)
    low, high = (labor_of(opening(36, 54, operation="F"), CASED, conditions=c) for c in (conditions, higher))
    assert all(0 < line.person_h <= up.person_h for line, up in zip(low, high, strict=True))


@given(
    times=st.decimals("0.01", 10, places=2), more=st.decimals(0, 10, places=2), experience=st.sampled_from(Experience)
)
def test_a_larger_factor_never_makes_fewer_hours(times, more, experience):
    def hours(factor: Decimal) -> Decimal:
        rates = replace(
            STARTING_RATES,
            access_factors=(Factor(Access.TIGHT, factor),),
            operation_factors=(Factor("fixed", factor),),
        )
        conditions = Conditions(access=Access.TIGHT, experience=experience)
        return total_person_h(labor_of(opening(36, 54, operation="fixed"), CASED, rates, conditions))

    assert 0 < hours(times) <= hours(times + more)


@given(parts=st.lists(SIDES, min_size=1, max_size=4), conditions=CONDITIONS)
def test_hours_of_openings_add_up(parts, conditions):
    lines = [labor_of(opening(side, side), FLANGED, conditions=conditions) for side in parts]
    exact = sum(line.person_h for one in lines for line in one)
    assert abs(total_person_h(line for one in lines for line in one) - exact) <= Decimal("0.005")
    assert abs(sum(total_person_h(one) for one in lines) - exact) <= Decimal("0.005") * len(parts)


def test_every_shimmed_point_is_counted_straps_locks_and_hinges_too():
    # 35 1/2 × 53 1/2 in: 4 on each jamb 24 in apart, 4 on the sill 16 in apart (JELD-WEN JII-90025 and trade pages);
    # 11 straps 16 in apart (common practice, no source), with shims behind them (from memory); 3 told by the maker.
    shim = line_of(Task.SHIM, opening(36, 54), replace(CASED, lock_hinge_shim_points=3))
    assert shim.quantity == 2 * 2 + 4 + 11 + 3
    assert "2 on each jamb, 4 on the sill, 11 at straps, 3 at locks and hinges; level" in shim.reason
    assert "straps" not in line_of(Task.SHIM, opening(36, 54), replace(CASED, has_straps=False)).reason


def test_a_detail_that_does_not_fit_the_opening_is_refused():
    # A pan of 6 in: common practice, no source; it cannot turn up higher than the opening is.
    with pytest.raises(BadDetail, match='the pan turn-up is 6"'):
        labor_of(opening(36, 6), CASED)


def test_metric_says_the_same_hours_by_the_meter():
    # 250 in = 6.35 m; 0.02 h/ft = 0.06562 h/m: foot of 0.3048 m, NIST Handbook 44 appendix C.
    detail = replace(FLANGED, strip_width_in=Decimal(9))
    flash = line_of(Task.FLASH, opening(36, 54), detail)
    assert "6.35 m × 0.06562 per m" in flash.reason_in(METRIC)
    assert round(Decimal("6.35") * Decimal("0.06562"), 3) == round(flash.person_h, 3)
    for line in labor_of(opening(36, 54, operation="F"), CASED):
        assert not {"lb", "ft", "in"} & set(line.reason_in(METRIC).replace(",", " ").split())


def test_conditions_that_cannot_be_are_refused_by_name():
    with pytest.raises(BadRate) as refused:
        Conditions(storeys_up=-1)
    assert [fault.field for fault in refused.value.faults] == ["storeys_up"]
