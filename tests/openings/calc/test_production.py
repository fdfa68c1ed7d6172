from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.calc.production import (
    Working,
    capability,
    delay_factor,
    duration_days,
    man_day_equivalent,
    man_days,
    time_for,
    whole_days,
)
from openings.errors import BadRate

HOURS = st.decimals(0, 5000, places=2)


# 16,000 sq ft of drywall at 33 man-hours a 1000: 66 man-days; 70 with the delay factor of 1.06: NAVEDTRA 14045.
# 24 wood double-hung at 4 man-hours: arithmetic, 4 from the Guild of Project Controls compendium.
@pytest.mark.parametrize(
    ("quantity", "unit_size", "man_h_per_unit", "delay", "expected"),
    [(16000, 1000, 33, "1", "66"), (16000, 1000, 33, "1.06", "69.96"), (24, 1, 4, "1", "12")],
    ids=["drywall", "drywall delayed", "24 double-hung"],
)
def test_man_days_of_a_quantity(quantity, unit_size, man_h_per_unit, delay, expected):
    days = man_days(Decimal(quantity), Decimal(unit_size), Decimal(man_h_per_unit), Decimal(delay))
    assert days == Decimal(expected)


def test_drywall_at_63_pct_takes_70_man_days():
    # NAVEDTRA 14045 goes on with 70; the factor of 1.063, unrounded, leads there as well.
    days = man_days(Decimal(16000), Decimal(1000), Decimal(33), delay_factor(Decimal(63)))
    assert round(days) == 70


# 67 % is the average, factor 1: NAVEDTRA 14045. The others are arithmetic from 67 / efficiency, from memory.
@pytest.mark.parametrize(
    ("efficiency_pct", "places", "expected"),
    [(67, 3, "1"), (63, 3, "1.063"), (100, 2, "0.67"), (80, 2, "0.84"), (50, 2, "1.34")],
    ids=["average", "63 %", "100 %", "80 %", "50 %"],
)
def test_delay_factor_is_the_average_over_the_efficiency(efficiency_pct, places, expected):
    assert round(delay_factor(Decimal(efficiency_pct)), places) == Decimal(expected)


@pytest.mark.parametrize("efficiency_pct", ["0", "24.9", "100.1"])
def test_an_efficiency_that_no_average_reaches_is_refused(efficiency_pct):
    with pytest.raises(BadRate, match="must be 25% to 100%"):
        delay_factor(Decimal(efficiency_pct))


# Ten hours less lunch 1, travel 1, breaks 1/2: NAVEDTRA 14045. Nine hours, nothing taken off: NAVEDTRA 14233.
@pytest.mark.parametrize(("worked_h", "expected"), [("7.5", "0.9375"), ("9", "1.125")], ids=["14045", "14233"])
def test_man_day_equivalent_of_a_workday(worked_h, expected):
    assert man_day_equivalent(Decimal(worked_h)) == Decimal(expected)


def test_capability_is_people_days_equivalent_and_availability():
    # Formula: NAVEDTRA 14045 and 14233. The numbers are arithmetic: 12 × 20 × 1.125 × 0.75.
    assert capability(12, 20, Decimal("1.125"), Decimal("0.75")) == Decimal("202.5")


# 70 / 12 / 0.75 / 0.9375 = 8.3, so 9 workdays: NAVEDTRA 14045. 12 man-days for a crew of 3: arithmetic by its formula.
@pytest.mark.parametrize(
    ("days_of_men", "crew_size", "places", "exact", "whole"),
    [(70, 12, 3, "8.296", 9), (12, 3, 2, "5.69", 6)],
    ids=["printed example", "24 double-hung"],
)
def test_duration_is_rounded_up_to_workdays(days_of_men, crew_size, places, exact, whole):
    days = duration_days(Decimal(days_of_men), crew_size, Decimal("0.75"), Decimal("0.9375"))
    assert round(days, places) == Decimal(exact)
    assert whole_days(days) == whole


@pytest.mark.parametrize(("days", "whole"), [("0", 0), ("0.001", 1), ("3", 3), ("3.000001", 4)])
def test_a_begun_day_is_a_day(days, whole):
    assert whole_days(Decimal(days)) == whole


def test_time_for_24_double_hung():
    # 24 × 4 = 96 person-hours (Guild of Project Controls), crew of 3, ten hours less 2.5: 5.69, so 6 days, arithmetic
    # by the formula of NAVEDTRA 14045. The clock shows 96 / 3 = 32 hours.
    time = time_for(Decimal(96), Working(people=3, workday_h=Decimal(10), lost_h=Decimal("2.5")))
    assert (time.crew_h, round(time.days_exact, 2), time.days) == (32, Decimal("5.69"), 6)
    assert time.reason == (
        "96 labor hours / 3 people = 32 crew-hours; 96 / 8 = 12 man-days / 3 people / 0.75 available / "
        "0.9375 man-days a workday (7.5 h worked of 10 h) = 5.69 days, 6 begun"
    )
    assert "NAVEDTRA 14045" in time.source


def test_a_crew_of_which_all_are_there_takes_a_whole_day_for_a_day_of_work():
    # 3 people × 8 h = 24 person-hours: arithmetic; no noise of division begins a second day.
    time = time_for(Decimal(24), Working(people=3, availability=Decimal(1)))
    assert (time.crew_h, time.days_exact, time.days) == (8, 1, 1)


def test_availability_is_that_of_a_main_body_unless_told():
    # 0.75 main body, 0.85 detail: NAVEDTRA 14233.
    assert Working(people=2).availability == Decimal("0.75")


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"people": 0}, "people"),
        ({"availability": Decimal(0)}, "availability"),
        ({"availability": Decimal("1.01")}, "availability"),
        ({"workday_h": Decimal(0)}, "workday_h"),
        ({"workday_h": Decimal(25)}, "workday_h"),
        ({"lost_h": Decimal(8)}, "lost_h"),
        ({"lost_h": Decimal(-1)}, "lost_h"),
    ],
    ids=["nobody", "nobody there", "more than all", "no day", "more than a day", "all lost", "less than nothing lost"],
)
def test_work_that_cannot_be_is_refused_by_name(change, field):
    with pytest.raises(BadRate) as refused:
        Working(**{"people": 2} | change)
    assert [fault.field for fault in refused.value.faults] == [field]


@given(
    person_h=HOURS,
    more_h=HOURS,
    people=st.integers(1, 12),
    availability=st.decimals("0.05", 1, places=2),
    lost_h=st.decimals(0, "7.5", places=2),
)
def test_more_work_never_takes_less_time_and_more_people_never_take_longer(
    person_h, more_h, people, availability, lost_h
):
    working = Working(people=people, availability=availability, lost_h=lost_h)
    crew = Working(people=people + 1, availability=availability, lost_h=lost_h)
    time = time_for(person_h, working)
    assert 0 <= time.days_exact <= time_for(person_h + more_h, working).days_exact
    assert time_for(person_h, crew).days_exact <= time.days_exact <= time.days < time.days_exact + 1
    # Availability and losses can only add to the hours that the crew is at it.
    assert round(time.days_exact * 8, 9) >= round(time.crew_h, 9)


@given(hours=st.lists(HOURS, min_size=2, max_size=5), people=st.integers(1, 12))
def test_time_adds_up(hours, people):
    working = Working(people=people)
    together = time_for(sum(hours, Decimal(0)), working)
    assert round(sum(time_for(h, working).days_exact for h in hours), 9) == round(together.days_exact, 9)
