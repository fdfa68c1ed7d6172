"""Working days and cut-off instants against ISO 8601, dateutil's recurrence rules and the statutes."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest
from dateutil.rrule import DAILY, MO, SU, TH, YEARLY, rrule, rruleset, weekday

from jobs.calc.calendar import (
    LONGEST_SHUTDOWN,
    cutoff_instant,
    earliest_today,
    latest_today,
    local_date,
    next_working_day,
    previous_working_day,
    works_on,
)

DENVER, PHOENIX = "America/Denver", "America/Phoenix"


def whole(year: int) -> dict[str, datetime]:
    return {"dtstart": datetime(year, 1, 1, tzinfo=UTC), "until": datetime(year, 12, 31, tzinfo=UTC)}


YEAR = whole(2027)

# 5 U.S.C. 6103(a) names the days, (b)(1) moves a Saturday's to the Friday before; Executive Order 11582 moves a
# Sunday's to the Monday after.
HOLIDAYS_2027 = rruleset()
for month, nth in ((1, MO(3)), (2, MO(3)), (5, MO(-1)), (9, MO(1)), (10, MO(2)), (11, TH(4))):
    HOLIDAYS_2027.rrule(rrule(YEARLY, bymonth=month, byweekday=nth, **YEAR))
for month, day in ((1, 1), (6, 18), (7, 5), (11, 11), (12, 24), (12, 31)):
    HOLIDAYS_2027.rdate(datetime(2027, month, day, tzinfo=UTC))


def days_of(rule: rrule | rruleset) -> list[date]:
    return [instant.date() for instant in rule]


def working_days_2027(weekdays: set[int]) -> list[date]:
    """Return the working days of 2027 as dateutil counts them, federal holidays left out."""
    days = rruleset()
    days.rrule(rrule(DAILY, byweekday=[weekday(number - 1) for number in weekdays], **YEAR))
    for holiday in HOLIDAYS_2027:
        days.exdate(holiday)
    return days_of(days)


def works_in_2027(weekdays: set[int]):
    off = set(days_of(HOLIDAYS_2027))
    return lambda on: works_on(on, weekdays=weekdays, off=off)


@pytest.mark.parametrize("weekdays", [{1, 2, 3, 4, 5}, {2, 3, 4, 6}, {7}], ids=["Mo-Fr", "Tu-Th and Sa", "Su"])
def test_working_days_are_those_of_a_recurrence_rule_without_the_federal_holidays(weekdays):
    expected, works = working_days_2027(weekdays), works_in_2027(weekdays)
    assert [day for day in days_of(rrule(DAILY, **YEAR)) if works(day)] == expected
    assert [next_working_day(day, works=works) for day in expected[:-1]] == expected[1:]
    assert [previous_working_day(day, works=works) for day in expected[1:]] == expected[:-1]


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (date(2027, 11, 24), date(2027, 11, 26)),  # Thanksgiving: fourth Thursday of November
        (date(2027, 7, 2), date(2027, 7, 6)),  # 4 July 2027 is a Sunday, so Monday is off
        (date(2027, 6, 17), date(2027, 6, 21)),  # 19 June 2027 is a Saturday, so Friday is off
    ],
    ids=["Thanksgiving", "Independence Day", "Juneteenth"],
)
def test_a_sheet_for_the_day_after_a_holiday_is_cut_off_on_the_last_day_worked(before, after):
    works = works_in_2027({1, 2, 3, 4, 5})
    assert next_working_day(before, works=works) == after
    assert previous_working_day(after, works=works) == before


def test_weekdays_are_numbered_as_in_iso_8601():
    # ISO 8601: 2026-W53-7 is 2027-01-03, weekday 1 is Monday.
    assert [works_on(date.fromisocalendar(2026, 53, n), weekdays={n}, off=set()) for n in range(1, 8)] == [True] * 7
    assert date.fromisocalendar(2026, 53, 7) == date(2027, 1, 3)


@pytest.mark.parametrize(
    ("off", "extra", "worked"),
    [(set(), set(), False), (set(), {date(2027, 1, 3)}, True), ({date(2027, 1, 3)}, {date(2027, 1, 3)}, False)],
    ids=["a Sunday", "an extra Sunday", "off wins over extra"],
)
def test_a_single_day_differs_from_its_weekday(off, extra, worked):
    assert works_on(date(2027, 1, 3), weekdays={1, 2, 3, 4, 5}, off=off, extra=extra) is worked


def test_a_crew_that_never_works_ends_the_search():
    assert next_working_day(date(2027, 1, 1), works=lambda _day: False) == date(2027, 1, 2)
    last = date(2027, 1, 1) + LONGEST_SHUTDOWN
    assert next_working_day(date(2027, 1, 1), works=lambda day: day >= last) == last


def instant(on: date, at: time, time_zone: str) -> datetime:
    return cutoff_instant(on, cutoff=at, time_zone=time_zone).astimezone(UTC)


@pytest.mark.parametrize("year", range(2026, 2031))
def test_cutoffs_move_with_daylight_saving_time(year):
    # Energy Policy Act of 2005, sec. 110: from the second Sunday of March to the first Sunday of November.
    # Mountain time is UTC-7, in summer UTC-6 (IANA time zone database).
    (begins,) = days_of(rrule(YEARLY, bymonth=3, byweekday=SU(2), **whole(year)))
    (ends,) = days_of(rrule(YEARLY, bymonth=11, byweekday=SU(1), **whole(year)))
    for first, hour_before, hour_after in ((begins, 21, 20), (ends, 20, 21)):
        eve = first - timedelta(days=1)
        assert instant(eve, time(14), DENVER) == datetime(eve.year, eve.month, eve.day, hour_before, tzinfo=UTC)
        assert instant(first, time(14), DENVER) == datetime(first.year, first.month, first.day, hour_after, tzinfo=UTC)


@pytest.mark.parametrize(
    ("on", "at", "utc"),
    [
        (date(2026, 3, 8), time(2, 30), datetime(2026, 3, 8, 9, 30, tzinfo=UTC)),
        (date(2026, 11, 1), time(1, 30), datetime(2026, 11, 1, 7, 30, tzinfo=UTC)),
    ],
    ids=["skipped in spring", "repeated in autumn"],
)
def test_an_hour_that_the_clocks_skip_or_repeat_is_one_instant(on, at, utc):
    # PEP 495, fold=0: the offset before the change, UTC-7 on 8 March and UTC-6 on 1 November.
    assert instant(on, at, DENVER) == utc


def test_each_job_has_the_cutoff_of_its_own_zone():
    # Arizona keeps UTC-7 all year (15 U.S.C. 260a lets a state stay out; IANA zone America/Phoenix).
    for on, hours_apart in ((date(2026, 3, 6), 0), (date(2026, 3, 9), 1)):
        apart = instant(on, time(14), PHOENIX) - instant(on, time(14), DENVER)
        assert apart == timedelta(hours=hours_apart)


@pytest.mark.parametrize("on", [date.min, date.min + timedelta(days=1), date.max - timedelta(days=1), date.max])
def test_a_search_ends_with_the_calendar(on):
    def never(_day: date) -> bool:
        return False

    assert previous_working_day(on, works=never) == max(on, date.min + timedelta(days=1)) - timedelta(days=1)
    assert next_working_day(on, works=never) == min(on, date.max - timedelta(days=1)) + timedelta(days=1)


@pytest.mark.parametrize(
    ("at", "time_zone", "on"),
    [
        # Denver is seven hours behind UTC in winter, Kiritimati 14 ahead (IANA time zone database).
        (datetime(2027, 1, 5, 6, 59, tzinfo=UTC), DENVER, date(2027, 1, 4)),
        (datetime(2027, 1, 5, 7, 0, tzinfo=UTC), DENVER, date(2027, 1, 5)),
        (datetime(2027, 1, 5, 10, 0, tzinfo=UTC), "Pacific/Kiritimati", date(2027, 1, 6)),
        (datetime.max.replace(tzinfo=UTC), "Pacific/Kiritimati", date.max),
        (datetime.min.replace(tzinfo=UTC), DENVER, date.min),
    ],
)
def test_an_instant_has_a_date_in_every_zone(at, time_zone, on):
    assert local_date(at, time_zone=time_zone) == on


def test_today_differs_over_the_earth():
    noon = datetime(2027, 1, 5, 11, 30, tzinfo=UTC)
    assert (earliest_today(noon), latest_today(noon)) == (date(2027, 1, 4), date(2027, 1, 6))
