"""Pull sheets by the clock. Zones and their changes: the IANA time zone database; weekdays: ISO 8601."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest
from django.utils import timezone

from jobs.models import CrewDay
from materials import services
from materials.models import PullSheet
from materials.services import request
from materials.services.request import SEND_AGAIN_AFTER
from openings.models import Assignment, Opening
from tests.factories import CrewFactory, JobFactory, make_openings, tomorrow
from tests.materials.at_once import at_once
from tests.materials.crew_days import make_crew_day

OFFICE_WEEK = "12345"
TUESDAY = date(2027, 3, 9)
A_MINUTE = timedelta(minutes=1)


def make_day(
    on: date, *, zone: str = "America/Denver", cutoff: time = time(14), weekdays: str = OFFICE_WEEK
) -> CrewDay:
    job = JobFactory(time_zone=zone, cutoff=cutoff)
    return make_crew_day(on=on, job=job, crew=CrewFactory(weekdays=weekdays))


def utc(*when: int) -> datetime:
    return datetime(*when, tzinfo=UTC)


def tick(now: datetime) -> list[int]:
    """Let the clock strike, and return what was sent."""
    return services.request_due_pull_sheets(now=now)


def write_all() -> None:
    for sheet in PullSheet.objects.filter(state="pending"):
        services.write_pull_sheet(sheet_id=sheet.pk)


# The crew sets on the first date; the sheet is due at the second, 14:00 of the working day before. Mountain time is
# UTC−7, from March 14, 2027 UTC−6; Central an hour ahead of it; Arizona keeps UTC−7 (IANA: America/Phoenix).
@pytest.mark.django_db
@pytest.mark.parametrize(
    ("on", "zone", "due"),
    [
        (TUESDAY, "America/Denver", utc(2027, 3, 8, 21)),
        (TUESDAY, "America/Chicago", utc(2027, 3, 8, 20)),
        (date(2027, 3, 15), "America/Denver", utc(2027, 3, 12, 21)),
        (date(2027, 3, 16), "America/Denver", utc(2027, 3, 15, 20)),
        (date(2027, 3, 16), "America/Phoenix", utc(2027, 3, 15, 21)),
        (date(2027, 11, 9), "America/Denver", utc(2027, 11, 8, 21)),
    ],
    ids=["Mountain", "Central", "Friday for Monday", "after the spring change", "Arizona", "after the autumn change"],
)
def test_a_sheet_is_due_from_the_cutoff_of_the_working_day_before(on, zone, due):
    make_day(on, zone=zone)
    assert tick(due - A_MINUTE) == []
    assert not PullSheet.objects.exists()
    assert tick(due) == [PullSheet.objects.get().pk]


@pytest.mark.django_db
def test_jobs_in_two_zones_are_due_an_hour_apart():
    mountain, central = (make_day(TUESDAY, zone=zone) for zone in ("America/Denver", "America/Chicago"))
    tick(utc(2027, 3, 8, 20, 30))
    assert PullSheet.objects.get().crew_day == central
    tick(utc(2027, 3, 8, 21))
    assert PullSheet.objects.filter(crew_day=mountain).count() == 1


@pytest.mark.django_db
def test_a_day_off_before_moves_the_cutoff_to_the_day_worked_before_it():
    # Thanksgiving 2027 is Thursday, November 25: the fourth Thursday of November (5 U.S.C. 6103).
    friday = make_day(date(2027, 11, 26))
    CrewDay.objects.create(crew=friday.crew, on=date(2027, 11, 25), off_reason="Thanksgiving", capacity_person_h=0)
    assert tick(utc(2027, 11, 24, 20, 59)) == []
    assert len(tick(utc(2027, 11, 24, 21))) == 1


@pytest.mark.django_db
def test_a_saturday_worked_for_once_takes_its_sheet_on_friday_and_gives_mondays_on_saturday():
    saturday = make_day(date(2027, 3, 13))
    monday = make_crew_day(on=date(2027, 3, 15), crew=saturday.crew)
    tick(utc(2027, 3, 12, 21))
    assert PullSheet.objects.get().crew_day == saturday
    tick(utc(2027, 3, 13, 21))
    assert PullSheet.objects.filter(crew_day=monday).count() == 1


@pytest.mark.django_db
def test_a_day_called_off_after_it_was_planned_has_no_sheet():
    make_day(TUESDAY)
    CrewDay.objects.update(off_reason="storm", capacity_person_h=0)
    assert tick(utc(2027, 3, 8, 22)) == []
    assert not PullSheet.objects.exists()


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("now", "count"),
    [(utc(2027, 3, 9, 13), 1), (utc(2027, 3, 10, 6, 59), 1), (utc(2027, 3, 10, 7), 0)],
    ids=["next morning", "last minute of the day", "when the day is past"],
)
def test_a_worker_that_was_down_makes_the_sheet_until_its_day_is_past(now, count):
    make_day(TUESDAY)
    assert len(tick(now)) == count


@pytest.mark.django_db
def test_a_sheet_nobody_wrote_is_sent_again_after_a_while_and_not_before():
    make_day(TUESDAY)
    due = utc(2027, 3, 8, 21)
    sent = tick(due)
    assert tick(due) == []
    assert tick(due + SEND_AGAIN_AFTER) == []
    assert tick(due + SEND_AGAIN_AFTER + A_MINUTE) == sent
    assert PullSheet.objects.count() == 1


@pytest.mark.django_db
def test_a_written_sheet_is_not_sent_again():
    make_day(TUESDAY)
    tick(utc(2027, 3, 8, 21))
    write_all()
    assert tick(utc(2027, 3, 8, 22)) == []


@pytest.mark.django_db(transaction=True)
def test_two_clocks_at_once_send_a_sheet_once():
    make_day(TUESDAY)
    due = utc(2027, 3, 8, 21)
    sent = at_once(*[lambda: tick(due)] * 3)
    assert sorted(sent) == [[], [], [PullSheet.objects.get().pk]]


@pytest.mark.django_db
def test_what_changes_after_issue_is_due_by_itself():
    crew_day = make_day(TUESDAY)
    tick(utc(2027, 3, 8, 21))
    write_all()
    Opening.objects.update(remarks="tempered")
    (sent,) = tick(utc(2027, 3, 8, 22))
    sheet = PullSheet.objects.get(pk=sent)
    assert (sheet.crew_day, sheet.revision) == (crew_day, 2)
    write_all()
    assert tick(utc(2027, 3, 8, 23)) == []


@pytest.mark.django_db
def test_what_changes_after_issue_does_not_wait_for_the_cutoff():
    crew_day = make_day(tomorrow(7), weekdays="1234567")
    services.request_pull_sheet(crew_id=crew_day.crew_id, on=crew_day.on, by=None)
    write_all()
    Opening.objects.update(remarks="tempered")
    (sent,) = tick(timezone.now())
    assert PullSheet.objects.get(pk=sent).revision == 2


@pytest.mark.django_db
def test_an_issued_sheet_whose_openings_are_all_withdrawn_is_due():
    make_day(TUESDAY)
    tick(utc(2027, 3, 8, 21))
    write_all()
    Assignment.objects.update(withdrawn_at=timezone.now())
    assert len(tick(utc(2027, 3, 8, 22))) == 1
    write_all()
    assert PullSheet.objects.get(revision=2).changes


@pytest.mark.django_db
def test_what_is_assigned_after_the_cutoff_has_its_sheet_at_the_next_tick():
    crew = CrewFactory(weekdays=OFFICE_WEEK)
    assert tick(utc(2027, 3, 8, 21)) == []
    make_crew_day(on=TUESDAY, crew=crew)
    assert len(tick(utc(2027, 3, 8, 21, 1))) == 1


@pytest.mark.django_db
def test_a_crew_day_that_cannot_be_put_together_keeps_no_other_waiting(monkeypatch, caplog):
    broken, sound = make_day(TUESDAY), make_day(TUESDAY)
    compose = request.compose

    def fail_for_one(crew_day: CrewDay) -> object:
        if crew_day == broken:
            raise ArithmeticError("a bug of ours")
        return compose(crew_day)

    monkeypatch.setattr(request, "compose", fail_for_one)
    assert len(tick(utc(2027, 3, 8, 21))) == 1
    assert PullSheet.objects.get().crew_day == sound
    assert f"No pull sheet for {broken}" in caplog.text


@pytest.mark.django_db
def test_openings_without_a_day_are_never_due():
    make_openings(3)
    assert tick(utc(2027, 3, 8, 21)) == []
