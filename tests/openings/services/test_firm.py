"""Days of the whole company, days off of a crew, retiring crews and closing jobs.

Source of the holidays: 5 USC 6103(a): Thanksgiving Day is the fourth Thursday in November, Christmas Day December 25.
"""

from __future__ import annotations

from datetime import date, time, timedelta
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError

from jobs.calc.calendar import cutoff_instant, previous_working_day
from jobs.calc.public_holidays import public_holidays
from jobs.errors import BadInput, Conflict, CrewRetired, DayOff
from jobs.models import CompanyDay, Crew, CrewDay, Job
from jobs.queries import calendar, days_off_of, is_worked
from jobs.services import change, find_crew_day
from openings import services
from openings.errors import OffAlready, WouldStrand
from openings.queries import crews_by_day
from tests.factories import CrewFactory, JobFactory, PersonFactory, make_openings, tomorrow
from tests.openings.rows import make_assigned

pytestmark = pytest.mark.django_db


def set_company_day(shift_h: int | None, *, on: date | None = None, name: str = "Thanksgiving Day", **values):
    hours = None if shift_h is None else Decimal(shift_h)
    return services.set_company_day(on=on or tomorrow(), name=name, shift_h=hours, by=PersonFactory(), **values)


@pytest.mark.parametrize(
    ("on", "name"), [(date(2026, 11, 26), "Thanksgiving Day"), (date(2026, 12, 25), "Christmas Day")]
)
def test_federal_holidays_are_found_whatever_the_state(on, name):
    assert {public_holidays(2026, us_state=state)[on] for state in ("", "CO", "TX", "HI")} == {name}


def test_a_day_off_of_the_company_is_worked_by_no_crew_but_one_with_a_day_of_its_own():
    crew, other = CrewFactory(), CrewFactory()
    set_company_day(0)
    with pytest.raises(DayOff, match=r"the company is off on .*: Thanksgiving Day"):
        find_crew_day(crew_id=crew.pk, on=tomorrow())
    services.set_crew_day(crew=other, on=tomorrow(), off_reason="", capacity_person_h=None, is_sure=True)
    assert find_crew_day(crew_id=other.pk, on=tomorrow()).capacity_person_h == 24
    off = days_off_of([crew.pk, other.pk])
    assert [is_worked(one, tomorrow(), off[one.pk]) for one in (crew, other)] == [False, True]
    (shown,) = crews_by_day(first=tomorrow(), days=1)
    assert {cell.crew: cell.off_reason for cell in shown.cells} == {crew: "Thanksgiving Day", other: ""}


def test_the_cutoff_is_on_the_last_day_that_the_company_works():
    crew = CrewFactory()
    set_company_day(0, on=tomorrow(3))
    off = days_off_of([crew.pk])[crew.pk]
    eve = previous_working_day(tomorrow(4), works=lambda on: is_worked(crew, on, off))
    assert eve == tomorrow(2)


@pytest.mark.parametrize(
    ("cutoff", "on", "utc"),
    [
        (time(2, 30), date(2026, 3, 8), "2026-03-08T09:30:00+00:00"),
        (time(1, 30), date(2026, 11, 1), "2026-11-01T07:30:00+00:00"),
    ],
    ids=["skipped in spring", "twice in fall"],
)
def test_a_cutoff_in_the_hour_that_the_clocks_change_is_one_instant(cutoff, on, utc):
    """Source: 15 USC 260a(a): 2 o'clock of the second Sunday of March and the first of November; PEP 495."""
    at = cutoff_instant(on, cutoff=cutoff, time_zone="America/Denver")
    assert at - at.utcoffset() == at.replace(tzinfo=at.tzinfo).fromisoformat(utc).replace(tzinfo=at.tzinfo)


@pytest.mark.parametrize(("shift_h", "expected"), [(4, 12), (10, 24), (None, 24)])
def test_a_part_day_bounds_the_hours_of_a_crew(shift_h, expected):
    crew = CrewFactory(people_count=3)
    set_company_day(shift_h)
    assert find_crew_day(crew_id=crew.pk, on=tomorrow()).capacity_person_h == expected


def test_days_that_crews_have_follow_and_come_back():
    plain, sick, fewer = (CrewFactory(people_count=3) for _ in range(3))
    find_crew_day(crew_id=plain.pk, on=tomorrow())
    CrewDay.objects.create(crew=sick, on=tomorrow(), capacity_person_h=0, off_reason="sick")
    CrewDay.objects.create(crew=fewer, on=tomorrow(), capacity_person_h=10)

    def days() -> list[tuple[str, Decimal]]:
        return list(CrewDay.objects.order_by("crew").values_list("off_reason", "capacity_person_h"))

    day, _ = set_company_day(4)
    assert days() == [("", 12), ("sick", 0), ("", 10)]
    set_company_day(0)
    assert days() == [("Thanksgiving Day", 0), ("sick", 0), ("Thanksgiving Day", 0)]
    services.unset_company_day(company_day_id=day.pk)
    assert days() == [("", 24), ("sick", 0), ("", 24)]
    assert not CompanyDay.objects.exists()


def test_a_day_off_that_strands_openings_is_asked_about_first():
    (opening,) = make_assigned()
    with pytest.raises(WouldStrand, match=rf"1 opening would be without a crew on .*: {opening.mark}"):
        set_company_day(0, is_sure=False)
    _, stranded = set_company_day(0)
    assert [one.assignment.opening for one in stranded] == [opening]


def test_days_off_leave_out_what_is_not_worked_and_do_not_overlap():
    crew = CrewFactory(weekdays="12345")
    monday = tomorrow() + timedelta(days=7 - tomorrow().weekday())
    friday, next_tuesday = monday + timedelta(days=4), monday + timedelta(days=8)
    services.set_days_off(crew=crew, first=friday, last=next_tuesday, off_reason="vacation")
    assert list(crew.days.values_list("on", flat=True)) == [friday, monday + timedelta(days=7), next_tuesday]
    with pytest.raises(OffAlready, match=r"is off already on Fri, .* \(vacation\)"):
        services.set_days_off(crew=crew, first=monday, last=friday, off_reason="training")
    assert crew.days.count() == 3


@pytest.mark.parametrize(
    ("days", "match"), [(-1, "is before the first"), (400, "at most 366 days")], ids=["turned round", "too many"]
)
def test_days_off_that_cannot_be_are_refused(days, match):
    with pytest.raises(BadInput, match=match):
        services.set_days_off(crew=CrewFactory(), first=tomorrow(2), last=tomorrow(2 + days), off_reason="leave")


def test_a_crew_is_retired_once_nothing_is_planned_for_it():
    crew = CrewFactory(people_count=20)
    make_assigned(crew=crew)
    with pytest.raises(Conflict, match=f"has openings assigned for {tomorrow():%a}"):
        services.retire_crew(crew_id=crew.pk)
    idle = services.retire_crew(crew_id=CrewFactory().pk)
    with pytest.raises(CrewRetired, match="is retired"):
        find_crew_day(crew_id=idle.pk, on=tomorrow())
    (shown,) = crews_by_day(first=tomorrow(), days=1)
    assert [cell.crew for cell in shown.cells] == [crew]


def test_a_truck_is_free_once_its_crew_is_retired():
    services.retire_crew(crew_id=CrewFactory(truck="truck 4").pk)
    CrewFactory(truck="Truck 4")
    with pytest.raises(IntegrityError, match="truck_once_among_crews_in_service"):
        Crew.objects.bulk_create([Crew(name="Elm", truck="TRUCK 4", people_count=2)])


def test_a_crew_comes_back_only_where_its_truck_is_free():
    old = services.retire_crew(crew_id=CrewFactory(truck="Truck 4").pk)
    CrewFactory(truck="truck 4")
    with pytest.raises(ValidationError, match="truck of its own"):
        services.return_crew(crew_id=old.pk)
    assert not services.return_crew(crew_id=services.retire_crew(crew_id=CrewFactory().pk).pk).is_retired


def test_a_closed_job_takes_no_work_until_it_is_reopened():
    (opening,) = make_openings(1)
    job, crew = opening.job, CrewFactory(people_count=20)
    with pytest.raises(Conflict, match="close it first"):
        services.archive_job(job_id=job.pk)
    services.close_job(job_id=job.pk)
    services.archive_job(job_id=job.pk)
    assert list(Job.objects.in_sight()) == []
    give = {"opening_ids": [opening.pk], "crew_id": crew.pk, "on": tomorrow(), "by": None}
    with pytest.raises(Conflict, match="is closed; reopen the job"):
        services.assign(**give)
    services.reopen_job(job_id=job.pk)
    services.assign(**give)
    with pytest.raises(Conflict, match=r"1 opening of .* assigned to a crew"):
        services.close_job(job_id=job.pk)


def test_a_job_is_not_promised_before_it_starts():
    job = JobFactory(starts_on=tomorrow(5))
    with pytest.raises(ValidationError, match="before the job starts"):
        change(job, promised_on=tomorrow(4))


@pytest.mark.parametrize(
    ("on", "match"),
    [
        (date(2026, 12, 25), "is Christmas Day, a public holiday"),
        (date(2026, 12, 26), "is on a weekend"),
        (date(2026, 12, 28), "the company is off: inventory"),
        (date(2026, 11, 26), ""),
        (date(2026, 12, 29), ""),
    ],
    ids=["holiday", "Saturday", "off", "worked on a holiday", "ordinary"],
)
def test_a_day_promised_on_which_nobody_works_is_warned_of(on, match):
    set_company_day(0, on=date(2026, 12, 28), name="inventory")
    set_company_day(None, on=date(2026, 11, 26))
    said = calendar().warning(on)
    assert match in said
    assert bool(said) is bool(match)
