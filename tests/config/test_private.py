"""What browsers may keep, load and run, and what a form that has expired does with what was typed."""

from __future__ import annotations

import re

import pytest
from django.test import Client

from jobs.models import Person
from tests.factories import CrewFactory
from tests.pages.html import html_of
from tests.pages.people import PASSWORD, person, signed_in

pytestmark = pytest.mark.django_db
OURS = "http://testserver"


@pytest.fixture
def scheduler() -> Client:
    return signed_in(Person.Role.SCHEDULER)


def policy_of(answer) -> dict[str, list[str]]:
    """Return the directives of a policy, as CSP Level 3, 2.2.1 has them parsed."""
    directives = (one.split() for one in answer["Content-Security-Policy"].split(";"))
    return {name: sources for name, *sources in directives}


@pytest.mark.parametrize("address", ["/jobs/", "/login/", "/nowhere/", "/admin/login/", "/api/v1/jobs/", "/api/docs/"])
def test_no_page_runs_a_script_that_stands_in_it_or_comes_from_elsewhere(scheduler, address):
    answer = scheduler.get(address)
    policy = policy_of(answer)
    assert policy["default-src"] == ["'none'"]
    assert policy["script-src"] == ["'self'"]
    assert policy["frame-ancestors"] == policy["base-uri"] == ["'none'"]
    assert not re.search(rb"<script(?![^>]*\bsrc=)[^>]*>\s*\S|\son[a-z]+=\"|javascript:", answer.content)
    if "'unsafe-inline'" not in policy["style-src"]:
        assert not re.search(rb"<style|\sstyle=", answer.content)


# RFC 9111, 5.2.2.5: what is not to be stored.
@pytest.mark.parametrize("address", ["/jobs/", "/boards/crews/", "/api/v1/jobs/", "/api/v1/openings/1/", "/"])
def test_what_is_for_one_person_is_kept_nowhere(scheduler, address):
    assert "no-store" in scheduler.get(address)["Cache-Control"]
    assert "no-store" in Client().get(address)["Cache-Control"]


def test_what_is_the_same_for_everybody_may_be_kept():
    answer = Client().get("/static/sheet.css")
    answer.close()
    assert "no-store" not in answer.get("Cache-Control", "")


@pytest.fixture
def office() -> Client:
    client = Client(enforce_csrf_checks=True)
    client.force_login(person(Person.Role.SCHEDULER))
    return client


def again(answer) -> dict[str, str]:
    """Return what the button of the page sends."""
    fields = re.findall(r'type="hidden" name="([^"]+)" value="([^"]*)"', html_of(answer))
    return dict(fields)


def test_a_form_that_has_expired_is_sent_again_as_it_was_typed(office):
    crew = CrewFactory()
    typed = {"act": "set_day", "crew": crew.pk, "on": "", "off_reason": "“rain” & <wind>"}
    expired = office.post("/boards/crews/?days=7", typed, headers={"Origin": OURS})
    assert expired.status_code == 403
    page = html_of(expired)
    assert "This form has expired" in page
    assert 'action="/boards/crews/?days=7#answer"' in page
    assert "&lt;wind&gt;" in page
    sent = again(expired)
    assert sent.keys() == {"csrfmiddlewaretoken", "act", "crew", "on", "off_reason"}
    back = office.post("/boards/crews/?days=7", sent | {"off_reason": "rain"}, headers={"Origin": OURS})
    assert back.status_code == 400  # what the page itself says of the day that is missing
    assert "This form has expired" not in html_of(back)


def test_a_password_is_never_kept_and_the_name_is():
    ines = person(Person.Role.OWNER)
    client = Client(enforce_csrf_checks=True)
    typed = {"username": ines.username, "password": PASSWORD}
    expired = client.post("/login/", typed, headers={"Origin": OURS})
    assert PASSWORD not in html_of(expired)
    assert "Passwords and files are never kept" in html_of(expired)
    back = client.post("/login/", again(expired), headers={"Origin": OURS})
    assert f'value="{ines.username}"' in html_of(back)


# RFC 6454, 7: `Origin` says where a form came from; a browser lets no page say another.
@pytest.mark.parametrize("origin", ["https://elsewhere.example", "null", None])
def test_what_another_site_had_sent_is_not_offered_again(office, origin):
    headers = {"Origin": origin} if origin else {}
    refused = office.post("/boards/crews/", {"act": "set_day", "off_reason": "rain"}, headers=headers)
    assert refused.status_code == 403
    page = html_of(refused)
    assert "This was not sent from here" in page
    assert "rain" not in page
    assert again(refused).keys() == {"csrfmiddlewaretoken"}  # of signing out
