"""How far dates may lie. The reach of each horizon is our choice; its ends are worked out by hand."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from jobs.calc.horizon import COMING, EXPIRY, PAST, PLAN, Horizon

TODAY = date(2027, 3, 19)  # a Friday (ISO 8601 week 11)
DAY = timedelta(days=1)


@pytest.mark.parametrize(
    ("horizon", "first", "last"),
    [
        (PLAN, date(2022, 3, 19), date(2029, 3, 19)),
        (COMING, TODAY, date(2029, 3, 19)),
        (PAST, date(2022, 3, 19), TODAY),
        (EXPIRY, date(2022, 3, 19), date(2037, 3, 19)),
    ],
    ids=["plan", "coming", "past", "expiry"],
)
def test_both_ends_are_within_reach_and_the_days_beyond_are_not(horizon, first, last):
    assert (horizon.first(TODAY), horizon.last(TODAY)) == (first, last)
    for on, is_within in ((first, True), (last, True), (first - DAY, False), (last + DAY, False)):
        assert horizon.holds(on, today=TODAY) is is_within
        assert (horizon.refusal(on, today=TODAY) == "") is is_within


@pytest.mark.parametrize(
    ("horizon", "on", "what", "within"),
    [
        (PLAN, date.min, "Mon, Jan 1, 1 is too far back", "Sat, Mar 19, 2022 to Mon, Mar 19, 2029"),
        (PLAN, date.max, "Fri, Dec 31, 9999 is too far ahead", "Sat, Mar 19, 2022 to Mon, Mar 19, 2029"),
        (COMING, date(2027, 3, 18), "Thu, Mar 18 is past", "today, Fri, Mar 19 to Mon, Mar 19, 2029"),
        (PAST, date(2027, 3, 20), "Sat, Mar 20 has not come yet", "Sat, Mar 19, 2022 to today, Fri, Mar 19"),
        (EXPIRY, date(2040, 1, 1), "Sun, Jan 1, 2040 is too far ahead", "Sat, Mar 19, 2022 to Thu, Mar 19, 2037"),
    ],
)
def test_a_refusal_says_the_date_and_the_range(horizon, on, what, within):
    assert horizon.refusal(on, today=TODAY) == f"{what}: give a day from {within}"


def test_a_leap_day_reaches_the_end_of_february():
    assert PLAN.first(date(2028, 2, 29)) == date(2023, 2, 28)
    assert Horizon(years_back=4, years_ahead=4).last(date(2028, 2, 29)) == date(2032, 2, 29)


@pytest.mark.parametrize("today", [date.min, date.max], ids=["first", "last"])
@pytest.mark.parametrize("horizon", [PLAN, COMING, PAST, EXPIRY])
def test_a_horizon_ends_with_the_calendar(horizon, today):
    assert date.min <= horizon.first(today) <= today <= horizon.last(today) <= date.max
