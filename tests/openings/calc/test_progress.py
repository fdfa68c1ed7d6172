"""When a job ends. The rule is ours and stands in `ending_of`; the cases are worked by hand."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from openings.calc.progress import PACE_DAYS, Ending, ending_of, pace_of

TODAY = date(2027, 3, 19)  # a Friday (ISO 8601 week 11)


def march(day: int) -> date:
    return date(2027, 3, day)


def monday_to_friday(day: date) -> bool:
    return day.isoweekday() <= 5


def ending(*, left: int, done=None, assigned=None, today=TODAY, works=monday_to_friday) -> Ending:
    done = done or {}
    return ending_of(
        openings=left + sum(done.values()),
        left=left,
        void=0,
        done_by_day=done,
        today=today,
        assigned_by_day=assigned or {},
        works=works,
    )


WEEK = {march(15): 3, march(18): 5}
"""8 done from Monday to Thursday: 2 a day."""


@pytest.mark.parametrize(
    ("left", "done", "assigned", "on"),
    [
        # Today takes 2 of 6, Monday and Tuesday the rest.
        (6, WEEK, {}, march(23)),
        # 7 take half a day more, so Wednesday is needed.
        (7, WEEK, {}, march(24)),
        # 2 are done today, so today has no room left: 4 more take Monday and Tuesday, as they did this morning.
        (4, WEEK | {TODAY: 2}, {}, march(23)),
        # 3 done today, one more than the pace: it has no room, and does not make tomorrow shorter.
        (3, WEEK | {TODAY: 3}, {}, march(23)),
        # All are assigned: their last day, whatever the pace.
        (6, WEEK, {march(22): 3, march(31): 3}, march(31)),
        (60, WEEK, {march(22): 60}, march(22)),
        # 4 of 10 are assigned to Monday, so it has no room; the others: 2 today, then 2 on Tuesday and on Wednesday.
        (10, WEEK, {march(22): 4}, march(24)),
        # One is assigned to Monday, so Monday has room for one more: today 2, Monday 1, Tuesday 2, Wednesday 1.
        (7, WEEK, {march(22): 1}, march(24)),
        # The rest is done long before the last assigned day.
        (6, WEEK, {march(31): 2}, march(31)),
        # 3 assigned to a day that is past count as assigned to none: 2 today, 1 on Monday.
        (3, WEEK, {march(17): 3}, march(22)),
        # So does one in the year 9999, which is no plan.
        (3, WEEK, {date.max: 1}, march(22)),
        # 5 on Saturday the 13th, and none on 4 working days since: 1 a day.
        (2, {march(13): 5}, {}, march(22)),
        # Done today alone: no whole day lies behind, so nothing says.
        (1, {TODAY: 1}, {}, None),
        (3, {}, {}, None),
        # What was done before the last ten working days gives no pace; what is assigned stands in.
        (3, {march(4): 9}, {date(2027, 4, 1): 3}, date(2027, 4, 1)),
        (4, {march(4): 9}, {}, None),
        # 4 on Monday and 2 on Tuesday are 3 a day; 7 more follow on Wednesday, Thursday and Friday.
        (13, {}, {march(22): 4, march(23): 2}, march(26)),
        (13, {TODAY: 4}, {march(22): 4, march(23): 2}, march(26)),
        # Assigned to past days alone, and none done.
        (3, {}, {march(1): 3}, None),
        (0, {march(15): 4, march(17): 6}, {}, march(17)),
        # A clock that ran ahead must not stop the page, nor dates at the ends of the calendar.
        (3, {march(20): 1}, {}, None),
        (3, {date.min: 1, date.max: 1}, {}, None),
    ],
    ids=[
        "at the pace", "rounded up", "some done today", "more done today", "all assigned",
        "more assigned than the pace", "partly assigned", "room beside what is assigned",
        "assigned later than the rest", "assigned to the past", "assigned beyond the horizon",
        "a Saturday", "today alone", "nothing says", "long ago",
        "long ago, none assigned", "partly assigned, no pace", "partly assigned, done today",
        "past days alone", "all done", "done tomorrow", "the ends of the calendar",
    ],
)  # fmt: skip
def test_the_ending_follows_from_pace_and_assignments(left, done, assigned, on):
    assert ending(left=left, done=done, assigned=assigned).on == on


def test_the_pace_counts_whole_working_days_that_are_over():
    pace = pace_of(WEEK | {TODAY: 40}, today=TODAY, works=monday_to_friday)
    assert (pace.done, pace.days, pace.since) == (8, 4, march(15))
    # The ten working days before Friday the 19th begin on Friday the 5th: what was done on the 4th is left out, and the
    # days without anything done count.
    pace = pace_of({march(4): 50, march(5): 1, march(18): 4}, today=TODAY, works=monday_to_friday)
    assert (pace.done, pace.days, pace.since) == (5, PACE_DAYS, march(5))


def test_the_crews_own_days_count():
    # Tuesday to Saturday: four working days before Friday the 19th since Saturday the 13th, 8 done on them.
    def tuesday_to_saturday(day: date) -> bool:
        return day.isoweekday() in {2, 3, 4, 5, 6}

    done = {march(13): 3, march(18): 5}
    assert pace_of(done, today=TODAY, works=tuesday_to_saturday).days == 4
    # 2 today, 2 on Saturday, 2 on Tuesday.
    assert ending(left=6, done=done, works=tuesday_to_saturday).on == march(23)


def test_days_off_ahead_are_left_out():
    def off_next_week(day: date) -> bool:
        return monday_to_friday(day) and not march(22) <= day <= march(26)

    assert ending(left=6, done=WEEK, works=off_next_week).on == march(30)


def test_work_at_its_pace_leaves_the_ending_where_it_is():
    done, left, endings = {march(15): 2, march(16): 2, march(17): 2, march(18): 2}, 12, set()
    for day in (march(19) + timedelta(days=number) for number in range(8)):
        endings.add(ending(left=left, done=done, today=day).on)  # at 12:05 AM
        if monday_to_friday(day):
            for _ in range(2):
                done, left = done | {day: done.get(day, 0) + 1}, left - 1
                endings.add(ending(left=left, done=done, today=day).on)  # at noon and at 11:55 PM
    # 2 a day from Friday the 19th on: 12 take that Friday and the whole week after.
    assert (endings, left) == ({march(26)}, 0)


@pytest.mark.parametrize("assigned", [{}, {march(24): 3}, {march(18): 2}])
def test_nothing_moves_over_days_off(assigned):
    # Saturday, Sunday and a holiday on Monday: the ending of each is that of the others, and of Tuesday morning.
    def works(day: date) -> bool:
        return monday_to_friday(day) and day != march(22)

    done = {march(day): 1 for day in range(1, 20)}
    endings = {ending(left=9, done=done, assigned=assigned, today=march(day), works=works) for day in (20, 21, 22, 23)}
    assert len({one.on for one in endings}) == 1


def test_a_working_day_without_work_puts_the_ending_off():
    # 8 done on 4 days leave 3 days for 6; 8 on 5 leave 3.75 for them, so 4, from Monday on.
    assert ending(left=6, done=WEEK).on == march(23)
    assert ending(left=6, done=WEEK, today=march(22)).on == march(25)


def test_what_is_assigned_is_not_forgotten_once_one_opening_is_done():
    assigned = {march(22): 2, march(23): 2, march(24): 2}
    before = ending(left=6, assigned=assigned)
    after = ending(left=6, done={march(18): 1}, assigned=assigned)
    assert before.on == after.on == march(24)


def test_a_pace_without_end_gives_no_date():
    slow = ending(left=5000, done={march(8): 1})
    assert slow.on is None
    assert slow.reason.endswith("no finish is in sight.")
    assert ending(left=5, done=WEEK, works=lambda _day: False).on is None


@pytest.mark.parametrize("today", [date.min, date.max], ids=["first", "last"])
def test_no_search_leaves_the_calendar(today):
    for done, assigned in ({}, {}), ({today: 1}, {}), ({date.min: 1}, {today: 1}), ({date.max: 1}, {date.max: 1}):
        ending(left=3, done=done, assigned=assigned, today=today)


LATELY = "8 openings done on 4 working days since Mon, Mar 15: at that pace"


@pytest.mark.parametrize(
    ("left", "done", "assigned", "reason"),
    [
        (
            6, WEEK, {},
            f"6 openings left, none assigned. {LATELY} the last of them will be done by Tue, Mar 23.",
        ),
        (
            10, WEEK, {march(22): 4},
            f"10 openings left, 4 assigned, the last to Mon, Mar 22. {LATELY} the other 6 will be done by Wed, Mar 24.",
        ),
        (
            6, WEEK, {march(31): 2},
            f"6 openings left, 2 assigned, the last to Wed, Mar 31. {LATELY} the other 4 will be done before that, "
            "by Mon, Mar 22.",
        ),
        (
            2, {march(18): 1}, {march(22): 1, march(17): 1},
            "2 openings left, 1 assigned, the last to Mon, Mar 22; 1 is still assigned to a past day. 1 opening "
            "done on 1 working day since Thu, Mar 18: at that pace the other one will be done before that, by Fri, "
            "Mar 19.",
        ),
        (6, WEEK, {march(22): 6}, "6 openings left, all assigned, the last to Mon, Mar 22."),
        (1, WEEK, {date(2028, 1, 3): 1}, "1 opening left, assigned to Mon, Jan 3, 2028."),
        (
            13, {}, {march(22): 4, march(23): 2},
            "13 openings left, 6 assigned, the last to Tue, Mar 23. No opening is done yet, so the other 7 follow "
            "at the "
            "pace of those assigned, 6 on 2 days: they will be done by Fri, Mar 26.",
        ),
        (
            2, {TODAY: 1}, {},
            "2 openings left, none assigned. The first was done today; a pace takes a full working day.",
        ),
        (
            1, {march(4): 9}, {date.max: 1},
            "1 opening left, not assigned; 1 is assigned too far ahead to plan. No opening was done in the last 10 "
            "working days.",
        ),
        (0, WEEK, {}, "Every opening is done."),
    ],
)  # fmt: skip
def test_the_reason_says_the_figures(left, done, assigned, reason):
    assert ending(left=left, done=done, assigned=assigned).reason == reason


@pytest.mark.parametrize(("void", "reason"), [(0, "No openings yet."), (3, "Every opening is void.")])
def test_a_job_without_openings_is_not_done(void, reason):
    found = ending_of(
        openings=0, left=0, void=void, done_by_day={}, today=TODAY, assigned_by_day={}, works=monday_to_friday
    )
    assert found == Ending(on=None, reason=reason)
