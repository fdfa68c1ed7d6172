from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils import timezone

from jobs.calc.notice import EventKind, How
from jobs.models import Event, Letter, Notice, Person
from jobs.queries import choices_of
from jobs.services import choose_notices, forget_old_events, spread_events, tell_event, write_letters
from tests.factories import CrewFactory, PersonFactory

pytestmark = pytest.mark.django_db


def _lead(**values: object) -> Person:
    return PersonFactory(role=Person.Role.CREW_LEAD, email="ines@weir.example.test", **values)


def _told(crew=None, kind: EventKind = EventKind.DAY_CHANGED, **values: object) -> Event | None:
    return tell_event(kind=kind, said="The day changed.", crew=crew, **values)


def test_a_crew_lead_is_told_of_their_own_crew_and_of_what_others_did():
    lead, other = _lead(), _lead()
    _told(lead.crew)
    _told(other.crew, by=other)
    assert spread_events(now=timezone.now()) == 2
    assert [notice.person for notice in Notice.objects.all()] == [lead]
    assert spread_events(now=timezone.now()) == 0


@pytest.mark.parametrize("how", How)
def test_a_person_is_told_as_chosen(how):
    lead = _lead()
    choose_notices(person=lead, how={EventKind.DAY_CHANGED: how})
    _told(lead.crew)
    spread_events(now=timezone.now())
    written = write_letters(now=timezone.now())
    assert (Notice.objects.count(), written) == {How.AT_ONCE: (1, 1), How.DAILY: (1, 0), How.NEVER: (0, 0)}[how]
    assert {(one.how, one.is_own) for one in choices_of(lead) if one.kind == EventKind.DAY_CHANGED} == {(how, True)}


def test_a_choice_is_changed_and_not_kept_twice():
    lead = _lead()
    for how in (How.NEVER, How.DAILY):
        choose_notices(person=lead, how={EventKind.DAY_CHANGED: how})
    assert [one.how for one in choices_of(lead) if one.is_own] == [How.DAILY]


def test_a_morning_of_changes_is_one_letter_and_then_another():
    lead, now = _lead(), timezone.now() + timedelta(minutes=1)
    for minute in (0, 1, 5, 11):
        _told(lead.crew)
        spread_events(now=now)
        write_letters(now=now + timedelta(minutes=minute))
    assert [letter.notices.count() for letter in Letter.objects.all()] == [1, 3]
    assert Letter.objects.last().subject == "Weatherlap: A crew’s day changed"


def test_who_has_no_address_is_told_on_the_page():
    lead = _lead()
    Person.objects.update(email="")
    _told(lead.crew)
    spread_events(now=timezone.now())
    assert write_letters(now=timezone.now()) == 0
    assert Notice.objects.get().letter is None


def test_what_waited_for_days_is_not_mailed_any_more():
    lead = _lead()
    _told(lead.crew)
    spread_events(now=timezone.now())
    assert write_letters(now=timezone.now() + timedelta(days=3)) == 0


def test_old_events_are_forgotten_but_not_those_of_days_to_come():
    crew, later = CrewFactory(), timezone.now() + timedelta(days=200)
    _told(crew)
    kept = _told(crew, on=later.date())
    forget_old_events(now=later)
    assert list(Event.objects.all()) == [kept]


def test_spreading_takes_so_many_queries_for_any_number_of_events_and_people(django_assert_max_num_queries):
    leads = [_lead() for _ in range(5)]
    for lead in leads:
        _told(lead.crew)
        _told(lead.crew)
    with django_assert_max_num_queries(10):
        spread_events(now=timezone.now())
    assert Notice.objects.count() == 10
