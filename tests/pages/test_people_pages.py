"""Who signs in, by the pages: invited by a link, welcomed by it, changed and deactivated."""

from __future__ import annotations

import re

import pytest
from django.core import mail
from django.test import Client
from django.urls import reverse

from jobs.models import Letter, Person
from jobs.services import add_person
from tests.factories import CrewFactory, PersonFactory
from tests.pages.html import html_of
from tests.pages.people import PASSWORD, person, signed_in

pytestmark = pytest.mark.django_db

PEOPLE = reverse("people-page")
ANN = {"act": "invite", "first_name": "Ann", "username": "ann", "role": "crew_lead"}


def invite(client: Client, **values) -> str:
    """Return the link by which somebody invited sets a password, as it is shown."""
    answer = client.post(PEOPLE, ANN | {"crew": CrewFactory().pk} | values, follow=True)
    return re.search(r'readonly value="http://testserver(/welcome/[^"]+)"', html_of(answer))[1]


def test_somebody_invited_sets_a_password_and_is_in(scheduler):
    link, ann = invite(scheduler), Client()
    assert "you sign in as <strong>ann</strong>" in html_of(ann.get(link))
    wrong = ann.post(link, {"password": PASSWORD, "again": "another"})
    assert (wrong.status_code, "the two are not the same" in html_of(wrong)) == (400, True)
    weak = ann.post(link, {"password": "ann", "again": "ann"})
    assert (weak.status_code, "too short" in html_of(weak)) == (400, True)
    entered = ann.post(link, {"password": PASSWORD, "again": PASSWORD}, follow=True)
    assert entered.redirect_chain[-1][0].startswith(reverse("crew-day-page"))
    assert Client().login(username="ann", password=PASSWORD)


def test_a_link_that_is_spent_says_whom_to_ask(scheduler):
    link = invite(scheduler)
    Client().post(link, {"password": PASSWORD, "again": PASSWORD})
    for method in ("get", "post"):
        answer = getattr(Client(), method)(link)
        assert (answer.status_code, "ask whoever sent it for a new one" in html_of(answer)) == (404, True)


def test_the_page_of_a_link_is_kept_by_nobody(scheduler):
    assert "no-store" in Client().get(invite(scheduler))["Cache-Control"]


def test_the_link_is_mailed_to_who_has_an_address(scheduler):
    link = invite(scheduler, email="ann@example.com")
    letter = Letter.objects.get()
    assert (letter.address, f"http://testserver{link}" in letter.text) == ("ann@example.com", True)
    assert not mail.outbox  # the minute sends it


def test_whoever_was_signed_in_with_the_password_before_is_out(scheduler):
    ann = PersonFactory()
    old = Client()
    old.force_login(ann)
    page = reverse("person-page", args=[ann.pk])
    shown = html_of(scheduler.post(page, {"act": "send_link"}, follow=True))
    link = re.search(r'readonly value="http://testserver(/welcome/[^"]+)"', shown)[1]
    assert old.get(PEOPLE).status_code == 200
    Client().post(link, {"password": PASSWORD, "again": PASSWORD})
    assert old.get(PEOPLE).status_code == 302


def test_who_is_deactivated_is_out_at_once(scheduler):
    lead = person(Person.Role.CREW_LEAD)
    inside = Client()
    inside.force_login(lead)
    scheduler.post(reverse("person-page", args=[lead.pk]), {"act": "deactivate", "sure": "yes"})
    assert inside.get(PEOPLE).status_code == 302
    assert not Client().login(username=lead.username, password=PASSWORD)


def test_a_scheduler_is_offered_no_owner_and_no_link_of_one(scheduler, owner):
    boss = add_person(invited_by=None, username="boss", role=Person.Role.OWNER)
    assert 'value="owner"' not in html_of(scheduler.get(PEOPLE))
    assert 'value="owner"' in html_of(owner.get(PEOPLE))
    page = reverse("person-page", args=[boss.pk])
    assert "/welcome/" not in html_of(scheduler.get(page))
    assert "/welcome/" in html_of(owner.get(page))
    answer = scheduler.post(PEOPLE, ANN | {"role": "owner"})
    assert answer.status_code == 400


@pytest.mark.parametrize("role", [Person.Role.WAREHOUSE, Person.Role.CREW_LEAD])
def test_addresses_and_links_are_for_the_office(role):
    ann = add_person(invited_by=None, username="ann", email="ann@example.com")
    client = signed_in(role)
    for page in (PEOPLE, reverse("person-page", args=[ann.pk])):
        shown = html_of(client.get(page))
        assert "ann@example.com" not in shown
        assert "/welcome/" not in shown


def test_the_list_takes_as_many_queries_for_many(scheduler, django_assert_max_num_queries):
    for n in range(20):
        add_person(invited_by=None, username=f"p{n}")
    with django_assert_max_num_queries(6):
        scheduler.get(PEOPLE)


def test_nobody_is_asked_whether_to_deactivate_themselves(scheduler):
    (me,) = Person.objects.filter(role=Person.Role.SCHEDULER)
    page = html_of(scheduler.post(reverse("person-page", args=[me.pk]), {"act": "deactivate"}))
    assert "you cannot deactivate yourself" in page.lower()
    assert f"Deactivate {me}?" not in page
