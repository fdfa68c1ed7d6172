"""The first account of an empty service, and the way on from there."""

from __future__ import annotations

import io
import re

import pytest
from django.core.management import CommandError, call_command
from django.test import Client
from django.urls import reverse

from jobs.models import Company, Person
from tests.factories import CrewFactory, JobFactory, OpeningFactory
from tests.pages.html import html_of
from tests.pages.people import PASSWORD, signed_in

pytestmark = pytest.mark.django_db


def link_of(username: str = "ann") -> str:
    said = io.StringIO()
    call_command("first_owner", username, "--name", "Ann", "--address", "https://office.example/", stdout=said)
    return re.search(r"https://office\.example(/welcome/\S+)", said.getvalue())[1]


def test_whoever_opens_the_link_is_the_owner_and_is_led_to_the_first_step():
    first, link, ann = link_of(), link_of(), Client()
    assert Client().get(first).status_code == 404  # the second took its place
    entered = ann.post(link, {"password": PASSWORD, "again": PASSWORD}, follow=True)
    assert entered.redirect_chain[-1][0] == reverse("first-steps-page")
    assert Person.objects.get().role == Person.Role.OWNER
    assert "Next: Company" in html_of(entered)


def test_the_page_to_sign_in_at_says_how_the_first_account_is_made_until_it_is():
    hint = "manage.py first_owner NAME"
    assert hint in html_of(Client().get(reverse("login")))
    Client().post(link_of(), {"password": PASSWORD, "again": PASSWORD})
    assert hint not in html_of(Client().get(reverse("login")))


def test_a_service_that_has_an_owner_gives_itself_to_nobody_else():
    Client().post(link_of(), {"password": PASSWORD, "again": PASSWORD})
    with pytest.raises(CommandError, match="ann owns this service"):
        link_of("eve")
    assert Person.objects.count() == 1


@pytest.mark.parametrize("username", ["", "two words", "x" * 151])
def test_a_name_that_is_none_is_refused(username):
    with pytest.raises(CommandError):
        link_of(username)
    assert not Person.objects.exists()


def test_what_is_done_is_said_and_the_next_step_with_it():
    owner = signed_in(Person.Role.OWNER)
    page = reverse("first-steps-page")
    for enter, following in (
        (lambda: Company.objects.create(pk=1, name="Tern & Daughters", us_state="CO"), "Crews"),
        (CrewFactory, "People"),
        (lambda: signed_in(Person.Role.WAREHOUSE), "Catalog"),
    ):
        enter()
        assert f"Next: {following}" in html_of(owner.get(page))


def test_the_office_begins_there_until_there_is_an_opening():
    owner, lead = signed_in(Person.Role.OWNER), signed_in(Person.Role.CREW_LEAD)
    JobFactory()
    assert owner.get("/")["Location"] == reverse("first-steps-page")
    assert lead.get("/")["Location"] == reverse("crew-day-page")
    OpeningFactory()
    assert owner.get("/")["Location"] == reverse("progress-page")
