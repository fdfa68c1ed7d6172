from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.calc.facts import HeadFlashing, OpeningFacts
from openings.calc.labor import STARTING_RATES, Task, labor_of, total_person_h
from openings.calc.starting_details import STARTING_DETAILS

CASED = STARTING_DETAILS["casing, paper after"]
FLANGED = STARTING_DETAILS["flange over, wrap after"]
REPLACEMENT = STARTING_DETAILS["box frame replacement"]


def opening(width: Decimal | int, height: Decimal | int, *, weight_lb: Decimal | None = None) -> OpeningFacts:
    return OpeningFacts(
        ro_width_in=Decimal(width),
        ro_height_in=Decimal(height),
        unit_width_in=width - Decimal("0.5"),
        unit_height_in=height - Decimal("0.5"),
        weight_lb=weight_lb,
    )


# 4 person-hours for a wood double-hung or casement: Guild of Project Controls, window installation.
# 16 person-hours for 8 to 12 replacements, 1.33 to 2 each: trade press; ours straps and pans, so up to 2.5.
@pytest.mark.parametrize(
    ("detail", "width", "height", "least", "most"),
    [(FLANGED, 36, 54, "2", "2.5"), (CASED, 72, 60, "4", "5"), (REPLACEMENT, 36, 54, "1.33", "2.5")],
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
    flash = next(line for line in labor_of(opening(36, 54), detail) if line.task is Task.FLASH)
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
    lines = labor_of(opening(Decimal("36.5"), Decimal("54.5")), detail)
    seal = next(line for line in lines if line.task is Task.SEAL)
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


@given(width=st.decimals(6, 460, places=3), height=st.decimals(6, 460, places=3), more=st.decimals(0, 20, places=3))
def test_a_larger_opening_never_takes_less_time(width, height, more):
    hours = total_person_h(labor_of(opening(width, height), CASED))
    assert 0 < hours <= total_person_h(labor_of(opening(width + more, height + more), CASED))


def test_total_is_rounded_half_up_once():
    # The lines are unrounded: two of 0.005 make 0.01, not 0.02.
    line = labor_of(opening(36, 54), FLANGED)[0]
    half = line._replace(person_h=Decimal("0.005"))
    assert total_person_h([half]) == Decimal("0.01")
    assert total_person_h([half, half]) == Decimal("0.01")
