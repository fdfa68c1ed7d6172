from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from jobs.calc.notice import EventKind
from jobs.models import Event
from openings import services as openings
from openings.models import Assignment, Delivery
from tests.factories import CrewFactory, JobFactory, PersonFactory, make_openings, tomorrow

pytestmark = pytest.mark.django_db


def said(kind: EventKind = EventKind.DAY_CHANGED) -> list[str]:
    return [event.said.replace(event.job.code if event.job else "", "JOB") for event in Event.objects.filter(kind=kind)]


def test_what_becomes_of_a_day_is_told_to_the_day():
    by, (one, other) = PersonFactory(), make_openings(2)
    blue, red = CrewFactory(name="Blue"), CrewFactory(name="Red")
    given = openings.assign(opening_ids=[one.pk, other.pk], crew_id=blue.pk, on=tomorrow(), by=by)
    (moved,) = openings.move(assignment_ids=[given[0].pk], crew_id=red.pk, on=tomorrow(2), by=by)
    openings.unassign(assignment_ids=[moved.pk], by=by)
    events = list(Event.objects.order_by("pk"))
    assert [(event.crew, event.on) for event in events] == [
        (blue, tomorrow()),
        (blue, tomorrow()),
        (red, tomorrow(2)),
        (red, tomorrow(2)),
    ]
    assert {event.by for event in events} == {by}
    code = one.job.code
    assert [event.said.partition(": ")[2] for event in events] == [
        f"2 openings of {code} ({one.mark}, {other.mark}) added.",
        f"1 opening of {code} ({one.mark}) removed.",
        f"1 opening of {code} ({one.mark}) added.",
        f"1 opening of {code} ({one.mark}) removed.",
    ]
    assert events[0].about[0]["type"] == "crew_day"


def test_what_is_refused_is_not_told():
    (one,) = make_openings(1)
    crew = CrewFactory(weekdays="7" if tomorrow().isoweekday() != 7 else "1")
    with pytest.raises(Exception, match="does not work"):
        openings.assign(opening_ids=[one.pk], crew_id=crew.pk, on=tomorrow(), by=None)
    assert not Event.objects.exists()


def test_an_undone_move_is_told_too():
    by, (one,) = PersonFactory(), make_openings(1)
    (given,) = openings.assign(opening_ids=[one.pk], crew_id=CrewFactory().pk, on=tomorrow(), by=by)
    openings.undo(act_id=given.given_in_id, by=by)
    assert said()[-1].endswith("1 opening of JOB (" + one.mark + ") removed.")


def test_a_crew_that_is_off_is_told_and_the_same_again_is_not():
    crew = CrewFactory(name="Blue")
    for _ in range(2):
        openings.set_crew_day(crew=crew, on=tomorrow(), off_reason="sick", capacity_person_h=None, is_sure=True)
    (event,) = Event.objects.all()
    assert event.said.endswith(": off, sick.")


def test_stranded_openings_are_told_once_a_crew_and_day():
    crew, many = CrewFactory(), make_openings(3)
    openings.assign(opening_ids=[one.pk for one in many[:2]], crew_id=crew.pk, on=tomorrow(), by=None)
    assert openings.tell_stranded() == 0
    openings.set_crew_day(crew=crew, on=tomorrow(), off_reason="sick", capacity_person_h=None, is_sure=True)
    assert (openings.tell_stranded(), openings.tell_stranded()) == (1, 0)
    (event,) = Event.objects.filter(kind=EventKind.STRANDED)
    assert "2 openings of" in event.said
    assert "are stranded, since the day is off" in event.said
    day = Assignment.objects.first().crew_day
    Assignment.objects.create(opening=many[2], crew_day=day, person_h=Decimal(2))
    assert openings.tell_stranded() == 1
    assert "1 opening of" in Event.objects.filter(kind=EventKind.STRANDED).last().said


def test_a_late_delivery_is_told_once_for_each_day_it_was_promised_for():
    job = JobFactory()
    late = Delivery.objects.create(job=job, supplier="Alder Glass", expected_on=tomorrow(-1))
    Delivery.objects.create(job=job, supplier="Alder Glass", expected_on=tomorrow(1))
    now = timezone.now()
    assert (openings.tell_late_deliveries(now=now), openings.tell_late_deliveries(now=now)) == (1, 0)
    assert said(EventKind.DELIVERY_LATE)[0].startswith("Alder Glass for JOB")
    late.expected_on -= timedelta(days=1)
    late.save()
    assert openings.tell_late_deliveries(now=now) == 1
