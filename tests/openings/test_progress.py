"""The forecast of stored jobs: the crews' own days, what is assigned, and nothing that moves by itself.

The rule is ours and stands in `ending_of`; the cases are worked by hand.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from django.utils import timezone

from jobs.models import Crew, CrewDay, Job
from openings.models import Assignment, InstallRecord, Opening
from openings.queries import job_progress
from tests.factories import CrewFactory, JobFactory, PersonFactory, make_openings
from tests.openings.rows import mark_finished

pytestmark = pytest.mark.django_db

FRIDAY = date(2027, 3, 19)  # ISO 8601: 2027-W11-5


def march(day: int) -> date:
    return date(2027, 3, day)


@pytest.fixture
def clock(monkeypatch):
    """Return a function that sets the clock; it shows noon of Friday, March 19, in UTC."""

    def show(at: datetime) -> None:
        monkeypatch.setattr(timezone, "now", lambda: at)

    show(datetime(2027, 3, 19, 12, tzinfo=UTC))
    return show


@pytest.fixture(autouse=True)
def _friday(clock):
    """Every test begins on it."""


def finish(openings: list[Opening], crew: Crew, *, on: date) -> None:
    """Record openings as done by a crew at noon of a date."""
    by, at = PersonFactory(), datetime(on.year, on.month, on.day, 12, tzinfo=UTC)
    InstallRecord.objects.bulk_create(
        InstallRecord(opening=opening, crew=crew, started_by=by, started_at=at, done_by=by, done_at=at)
        for opening in openings
    )
    mark_finished()


def assign(openings: list[Opening], crew: Crew, *, on: date, off_reason: str = "") -> None:
    day, _ = CrewDay.objects.get_or_create(
        crew=crew, on=on, defaults={"capacity_person_h": 0 if off_reason else 24, "off_reason": off_reason}
    )
    Assignment.objects.bulk_create(Assignment(opening=opening, crew_day=day, person_h=3) for opening in openings)


def ending(job: Job):
    (progress,) = job_progress(job.pk)
    return progress.ending


def test_a_crew_that_works_on_saturdays_goes_on_then():
    crew = CrewFactory(weekdays="23456")
    openings = make_openings(10)
    # Tuesday to Thursday, 2 a day.
    for number, day in enumerate((16, 17, 18)):
        finish(openings[2 * number : 2 * number + 2], crew, on=march(day))
    # 4 left: 2 today, 2 on Saturday.
    assert ending(openings[0].job).on == march(20)


def test_the_days_off_and_the_extra_days_of_the_crew_count():
    crew = CrewFactory(weekdays="12345")
    openings = make_openings(10)
    CrewDay.objects.create(crew=crew, on=march(16), capacity_person_h=0, off_reason="snow")
    CrewDay.objects.create(crew=crew, on=march(22), capacity_person_h=0, off_reason="inventory")
    CrewDay.objects.create(crew=crew, on=march(20), capacity_person_h=24)
    finish(openings[:4], crew, on=march(15))
    finish(openings[4:6], crew, on=march(18))
    # 6 on Monday, Wednesday and Thursday, 2 a day; 4 left: 2 today, 2 on the extra Saturday.
    assert ending(openings[0].job).on == march(20)
    assert "6 openings done on 3 working days since Mon, Mar 15" in ending(openings[0].job).reason
    CrewDay.objects.filter(on=march(20)).update(capacity_person_h=0, off_reason="rain")
    # Monday is off too, so the last 2 are done on Tuesday.
    assert ending(openings[0].job).on == march(23)


def test_a_day_counts_when_one_of_the_crews_works():
    alder, birch = CrewFactory(weekdays="1234"), CrewFactory(weekdays="56")
    openings = make_openings(9)
    finish(openings[:2], alder, on=march(17))
    finish(openings[2:4], alder, on=march(18))
    assign(openings[4:5], birch, on=march(20))
    # Of 5 one is assigned to Saturday by Birch: 2 today, 1 more on Saturday, and 1 on Monday by Alder.
    assert ending(openings[0].job).on == march(22)


def test_crews_of_other_jobs_do_not_count():
    finish(make_openings(1), CrewFactory(weekdays="67"), on=march(13))
    openings = make_openings(3)
    finish(openings[:1], CrewFactory(weekdays="12345"), on=march(18))
    assert ending(openings[0].job).on == march(22)


def test_what_is_assigned_is_not_forgotten_once_one_opening_is_done():
    crew = CrewFactory(weekdays="12345")
    openings = make_openings(7)
    assign(openings[1:4], crew, on=march(22))
    assign(openings[4:], crew, on=march(24))
    before = ending(openings[0].job)
    finish(openings[:1], crew, on=march(18))
    after = ending(openings[0].job)
    # Without a pace the one that is not assigned follows; once it is done, the others end on their last day.
    assert (before.on, after.on) == (march(25), march(24))
    assert after.reason == "6 openings left, all assigned, the last to Wed, Mar 24."


def test_what_is_assigned_to_a_past_day_or_a_day_off_has_no_day():
    crew = CrewFactory(weekdays="12345")
    openings = make_openings(6)
    finish(openings[:2], crew, on=march(18))
    assign(openings[2:3], crew, on=march(17))
    assign(openings[3:4], crew, on=march(30), off_reason="off sick")
    found = ending(openings[0].job)
    # 4 are left, none with a coming day: 2 today, 2 on Monday.
    assert found.on == march(22)
    assert found.reason.startswith("4 openings left, none assigned; 1 is still assigned to a past day. ")


def test_the_forecast_is_the_same_at_every_hour_of_a_day(clock):
    crew = CrewFactory(weekdays="12345")
    openings = make_openings(12, job=JobFactory(time_zone="America/Denver"))
    for number, day in enumerate((15, 16, 17, 18)):
        finish(openings[number : number + 1], crew, on=march(day))
    assign(openings[4:6], crew, on=march(25))
    # One a day: 6 of 8 are left without a day, which takes today, Monday to Wednesday, Friday, and Monday the 29th.
    # Mountain daylight time is six hours behind UTC: 12:05 AM, noon and 11:55 PM of Friday there.
    for at in ((19, 6, 5), (19, 18, 0), (20, 5, 55)):
        clock(datetime(2027, 3, *at, tzinfo=UTC))
        assert ending(openings[0].job).on == march(29)
    finish(openings[6:7], crew, on=FRIDAY)
    for hours in range(48):  # from 11:55 PM on Friday to 10:55 PM on Sunday
        clock(datetime(2027, 3, 20, 5, 55, tzinfo=UTC) + timedelta(hours=hours))
        assert ending(openings[0].job).on == march(29)


@pytest.mark.parametrize(("is_void", "reason"), [(False, "No openings yet."), (True, "Every opening is void.")])
def test_a_job_without_openings_says_so(is_void, reason):
    job = JobFactory()
    if is_void:
        make_openings(3, job=job, is_void=True)
    (found,) = job_progress(job.pk)
    assert (found.ending.on, found.ending.reason, found.openings_count) == (None, reason, 0)


@pytest.mark.parametrize(("jobs", "openings"), [(1, 2), (4, 9)])
def test_progress_takes_as_many_queries_however_many(django_assert_num_queries, jobs, openings):
    for _ in range(jobs):
        made = make_openings(openings)
        assign(made[:1], CrewFactory(), on=march(22))
        finish(made[1:2], CrewFactory(), on=march(18))
    # Jobs, openings, their details, rates, hours, what is done, what is assigned, days of the crews, and the crews.
    with django_assert_num_queries(10):
        assert len(job_progress()) == jobs
