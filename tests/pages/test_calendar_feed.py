"""Calendars as a program reads them from their link."""

from __future__ import annotations

from datetime import timedelta

import icalendar
import pytest
from django.test import Client
from django.urls import reverse

from jobs.models import CalendarLink
from jobs.services import NewLink, make_calendar_link, revoke_calendar_link
from openings import services as openings
from tests.factories import CrewFactory, JobFactory, PersonFactory, make_openings, tomorrow

pytestmark = pytest.mark.django_db


def read(new: NewLink) -> list[icalendar.Event]:
    answer = Client().get(reverse("calendar-feed", args=[new.token]))
    assert (answer.status_code, answer["Content-Type"]) == (200, "text/calendar; charset=utf-8")
    return icalendar.Calendar.from_ical(answer.content).events


def test_a_crews_days_follow_what_becomes_of_them():
    by, crew, many = PersonFactory(), CrewFactory(name="Blue"), make_openings(2)
    new = make_calendar_link(crew=crew, label="Ines", by=by)
    assert read(new) == []
    given = openings.assign(opening_ids=[one.pk for one in many], crew_id=crew.pk, on=tomorrow(), by=by)
    (before,) = read(new)
    assert (before["SUMMARY"], before["STATUS"]) == ("2 openings, Weir Cottage", "CONFIRMED")
    assert before["LOCATION"] == "2 Weir Lane"
    assert before.start.date() == tomorrow()
    assert before.end - before.start == timedelta(hours=8)
    openings.unassign(assignment_ids=[one.pk for one in given], by=by)
    (after,) = read(new)
    assert (after["UID"], after["STATUS"]) == (before["UID"], "CANCELLED")
    assert after["SEQUENCE"] > before["SEQUENCE"]
    assert after["LAST-MODIFIED"].dt >= before["LAST-MODIFIED"].dt


def test_a_job_shows_every_crew_and_nothing_of_other_jobs():
    by, job = PersonFactory(), JobFactory()
    ours, theirs = make_openings(2, job=job), make_openings(1)
    for one, name in zip([*ours, *theirs], ("Blue", "Red", "Green"), strict=True):
        openings.assign(opening_ids=[one.pk], crew_id=CrewFactory(name=name).pk, on=tomorrow(), by=by)
    shown = {str(event["SUMMARY"]) for event in read(make_calendar_link(job=job, label="the builder", by=by))}
    assert shown == {"Blue: 1 opening, Weir Cottage", "Red: 1 opening, Weir Cottage"}


def test_a_crew_that_is_off_is_cancelled():
    by, crew, (one,) = PersonFactory(), CrewFactory(), make_openings(1)
    openings.assign(opening_ids=[one.pk], crew_id=crew.pk, on=tomorrow(), by=by)
    openings.set_crew_day(crew=crew, on=tomorrow(), off_reason="sick", capacity_person_h=None, is_sure=True)
    (event,) = read(make_calendar_link(crew=crew, label="Ines", by=by))
    assert (event["SUMMARY"], event["STATUS"]) == ("off, sick", "CANCELLED")


def test_a_revoked_link_and_a_guess_lead_nowhere():
    by = PersonFactory()
    new = make_calendar_link(crew=CrewFactory(), label="Ines", by=by)
    revoke_calendar_link(link_id=new.link.pk)
    assert Client().get(reverse("calendar-feed", args=[new.token])).status_code == 404
    assert Client().get(reverse("calendar-feed", args=["guess"])).status_code == 404
    assert new.token not in str(CalendarLink.objects.values())


def test_a_calendar_takes_so_many_queries_for_any_number_of_days(django_assert_max_num_queries):
    by, crew = PersonFactory(), CrewFactory()
    for number, one in enumerate(make_openings(6)):
        openings.assign(opening_ids=[one.pk], crew_id=crew.pk, on=tomorrow(1 + number), by=by)
    new = make_calendar_link(crew=crew, label="Ines", by=by)
    with django_assert_max_num_queries(6):
        assert len(read(new)) == 6
