"""Weekdays and the 12-hour clock: ISO 8601 names the weekdays, NIST names noon and midnight (Times of Day FAQ)."""

from __future__ import annotations

from datetime import UTC, date, datetime, time

import pytest

from jobs.calc.say import day, moment, time_of, weekdays


@pytest.mark.parametrize(
    ("on", "today", "said"),
    [
        # ISO 8601: 2026-W49-1 is Monday, 30 November 2026.
        (date.fromisocalendar(2026, 49, 1), None, "Mon, Nov 30"),
        (date.fromisocalendar(2026, 49, 1), date(2026, 1, 1), "Mon, Nov 30"),
        (date.fromisocalendar(2026, 49, 1), date(2027, 1, 1), "Mon, Nov 30, 2026"),
        (date.fromisocalendar(2026, 53, 7), date(2026, 12, 31), "Sun, Jan 3, 2027"),
        (date.min, date(2026, 1, 1), "Mon, Jan 1, 1"),
        (date.max, date(2026, 1, 1), "Fri, Dec 31, 9999"),
    ],
)
def test_a_day_is_said_with_its_year_where_that_is_another(on, today, said):
    assert day(on, today) == said


@pytest.mark.parametrize(
    ("at", "said"),
    [
        (time(14, 0), "2:00 PM"),
        (datetime(2026, 11, 30, 9, 5, tzinfo=UTC), "9:05 AM"),
        # NIST: 12:01 AM follows midnight, 12:01 PM follows noon.
        (time(0, 1), "12:01 AM"),
        (time(12, 1), "12:01 PM"),
        (time(23, 59, 59), "11:59 PM"),
    ],
)
def test_a_time_is_said_by_the_12_hour_clock(at, said):
    assert time_of(at) == said


def test_a_moment_is_a_day_and_a_time():
    assert moment(datetime.fromisocalendar(2026, 49, 1).replace(hour=14, tzinfo=UTC)) == "Mon, Nov 30 at 2:00 PM"


@pytest.mark.parametrize(
    ("numbers", "said"),
    [
        # ISO 8601: weekday 1 is Monday, 7 is Sunday.
        ([1, 2, 3, 4, 5], "Mon to Fri"),
        ([1, 2, 3, 4, 5, 6, 7], "Mon to Sun"),
        ([7], "Sun"),
        ([1, 2], "Mon and Tue"),
        ([1, 3, 5], "Mon, Wed and Fri"),
        ([1, 2, 4, 5, 6], "Mon, Tue and Thu to Sat"),
    ],
)
def test_weekdays_are_said_by_their_names(numbers, said):
    assert weekdays(numbers) == said
