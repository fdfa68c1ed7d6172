"""Plane geometry worked by hand: no published source is needed."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest

from openings.calc.curve import curve_of


def november(day: int) -> date:
    return date(2026, 11, day)


def test_the_curve_climbs_in_steps_to_today_and_goes_straight_to_the_ending():
    curve = curve_of(done_by_day={november(2): 1, november(4): 2}, total=10, today=november(6), ending_on=november(11))
    assert (curve.first, curve.last) == (november(1), november(11))
    steps = [(0, 100), (10, 100), (10, 90), (30, 90), (30, 70), (50, 70)]
    assert [(at.x_pct, at.y_pct) for at in curve.done] == steps
    assert [(at.x_pct, at.y_pct) for at in curve.ahead] == [(50, 70), (100, 0)]


def test_nothing_lies_ahead_of_a_finished_job():
    curve = curve_of(done_by_day={november(2): 3}, total=3, today=november(6), ending_on=november(2))
    assert curve.ahead == ()
    assert curve.done[-1] == (Decimal(100), Decimal(0))


def test_a_job_without_openings_or_ending_has_a_flat_line():
    curve = curve_of(done_by_day={}, total=0, today=november(6), ending_on=None)
    assert {at.y_pct for at in curve.done} == {Decimal(100)}
    assert curve.ahead == ()


def test_what_was_done_after_today_is_on_the_picture():
    curve = curve_of(done_by_day={november(7): 1}, total=2, today=november(6), ending_on=november(9))
    assert all(0 <= at.x_pct <= 100 and 0 <= at.y_pct <= 100 for at in (*curve.done, *curve.ahead))


@pytest.mark.parametrize("today", [november(6), date.min, date.max], ids=["November", "first day", "last day"])
def test_dates_that_cannot_be_stay_on_the_picture(today):
    done = {date.min: 1, november(2): 1, date.max: 1}
    curve = curve_of(done_by_day=done, total=9, today=today, ending_on=None)
    assert curve.last - curve.first <= timedelta(days=8 * 366)  # five years back, two ahead, a day more
    assert all(0 <= at.x_pct <= 100 and 0 <= at.y_pct <= 100 for at in (*curve.done, curve.today))
