"""The pages of notices, calendars and webhooks."""

from __future__ import annotations

import re

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from jobs.calc.notice import EventKind
from jobs.models import NoticeChoice, Person, Webhook
from jobs.services import spread_events, tell_event
from tests.factories import CrewFactory
from tests.pages.html import html_of, texts_of
from tests.pages.people import signed_in
from tests.plain_words import require_plain

pytestmark = pytest.mark.django_db

NOTICES, INTEGRATIONS = reverse("notices-page"), reverse("integrations-page")


def test_a_person_reads_what_they_were_told_and_chooses_how():
    office = signed_in(Person.Role.SCHEDULER)
    tell_event(kind=EventKind.STRANDED, said="W3-01 is stranded.")
    spread_events(now=timezone.now())
    page = html_of(office.get(NOTICES))
    assert "W3-01 is stranded." in page
    assert "No e-mail address is entered for you" in page
    sent = {"act": "choose"} | dict.fromkeys(EventKind, "never")
    assert office.post(NOTICES, sent).status_code == 303
    assert set(NoticeChoice.objects.values_list("how", flat=True)) == {"never"}


def test_the_link_that_is_shown_once_can_be_read():
    office, crew = signed_in(Person.Role.OWNER), CrewFactory()
    sent = {"act": "make_link", "crew": crew.pk, "label": "Ines"}
    shown = html_of(office.post(INTEGRATIONS, sent, follow=True))
    path = re.search(r"http://testserver(/calendar/\w+\.ics)", shown)[1]
    assert Client().get(path).status_code == 200
    assert path not in html_of(office.get(INTEGRATIONS))


def test_the_secret_is_shown_once():
    office = signed_in(Person.Role.SCHEDULER)
    sent = {"act": "add_webhook", "name": "payroll", "address": "https://hooks.example.test/", "kinds": ["no_sheet"]}
    shown = html_of(office.post(INTEGRATIONS, sent, follow=True))
    webhook = Webhook.objects.get()
    assert webhook.secret in shown
    assert webhook.kinds == ["no_sheet"]
    answer = office.get(INTEGRATIONS)
    assert webhook.secret not in html_of(answer)
    for text in texts_of(answer):
        require_plain(text)


@pytest.mark.parametrize("role", [Person.Role.WAREHOUSE, Person.Role.CREW_LEAD])
def test_links_and_addresses_are_for_the_office(role):
    page = html_of(signed_in(role).get(INTEGRATIONS))
    assert "Only the office scheduler and the owner can do this" in page
    assert "<form" not in page.partition("<main")[2]
