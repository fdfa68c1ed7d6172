"""When a job ends. The rule is ours (pace of the last 14 days over its working days); the cases are worked by hand."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from openings.calc.progress import LOOK_BACK_DAYS, ending_of

TODAY = date(2027, 3, 19)  # a Friday (ISO 8601 week 11)


def ending(*, left: int, done: dict[date, int] | None = None, assigned: dict[date, int] | None = None):
    return ending_of(
        left=left,
        done_by_day=done or {},
        today=TODAY,
        assigned_by_day=assigned or {},
        works=lambda day: day.isoweekday() <= 5,
    )


@pytest.mark.parametrize(
    ("left", "done", "assigned", "on"),
    [
        # 10 done from Monday to Friday: 2 a day, so 6 more take 3 working days: Mo, Tu, We.
        (6, {date(2027, 3, 15): 4, date(2027, 3, 19): 6}, None, date(2027, 3, 24)),
        # 7 more at 2 a day take 3.5, so the fourth day is needed.
        (7, {date(2027, 3, 15): 4, date(2027, 3, 19): 6}, None, date(2027, 3, 25)),
        # Done today only: the day counts whole, Monday ends it.
        (1, {TODAY: 1}, None, date(2027, 3, 22)),
        # Done on a Sunday only: Sunday to Friday has 5 working days, 5 done.
        (1, {date(2027, 3, 14): 5}, None, date(2027, 3, 22)),
        # What was done before the last 14 days gives no pace; what is assigned stands in.
        (3, {TODAY - timedelta(days=LOOK_BACK_DAYS): 9}, {date(2027, 4, 1): 3}, date(2027, 4, 1)),
        (3, {}, {date(2027, 3, 1): 3}, TODAY),
        # 4 on Monday and 2 on Tuesday are 3 a day; 7 more take 3 days after Tuesday: We, Th, Fr.
        (13, {}, {date(2027, 3, 22): 4, date(2027, 3, 23): 2}, date(2027, 3, 26)),
        (3, {}, None, None),
        (0, {date(2027, 3, 15): 4, date(2027, 3, 17): 6}, None, date(2027, 3, 17)),
        (0, {}, None, None),
        # A clock that ran ahead must not stop the page.
        (3, {TODAY + timedelta(days=1): 1}, None, None),
    ],
    ids=[
        "whole days", "rounded up", "one day", "a Sunday", "long ago", "assigned before today", "partly assigned",
        "nothing says", "all done", "no openings", "done tomorrow",
    ],
)  # fmt: skip
def test_the_ending_follows_from_the_pace(left, done, assigned, on):
    assert ending(left=left, done=done, assigned=assigned).on == on


def test_a_pace_without_end_gives_no_date():
    assert ending(left=5000, done={TODAY - timedelta(days=13): 1}).on is None


def test_the_reason_says_the_figures():
    reason = ending(left=7, done={date(2027, 3, 15): 4, date(2027, 3, 19): 6}).reason
    assert "7 openings left" in reason
    assert "10 openings in 5 working days since 2027-03-15" in reason
    assert "4 more working days" in reason
