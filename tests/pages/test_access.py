"""Who sees a page, and who may act from it."""

from __future__ import annotations

import pytest
from django.test import Client
from django.urls import reverse

from jobs.models import Person
from tests.factories import CrewFactory, OpeningFactory
from tests.pages.html import html_of
from tests.pages.people import PASSWORD, assign_form, person, signed_in
from tests.pages.schedules import address_of, make_draft, make_outcome, make_revision

PAGES = ("crew-board-page", "crew-day-page", "jobs-page", "staging-page", "remnants-page", "progress-page")
PAGES_OF_A_JOB = ("job-page", "schedule-page", "job-draw-page", "job-takeoff-page")
START = {
    Person.Role.SCHEDULER: "crew-board-page",
    Person.Role.WAREHOUSE: "staging-page",
    Person.Role.CREW_LEAD: "crew-day-page",
    Person.Role.OWNER: "progress-page",
}


def addresses() -> list[str]:
    opening = OpeningFactory()
    return [
        *(reverse(page) for page in PAGES),
        *(reverse(page, args=[opening.job_id]) for page in PAGES_OF_A_JOB),
        reverse("opening-page", args=[opening.pk]),
        address_of(make_draft(job=opening.job, outcome=make_outcome())),
        reverse("schedule-revision-page", args=[opening.job_id, make_revision(opening.job).revision]),
    ]


@pytest.mark.django_db
@pytest.mark.parametrize("role", list(Person.Role))
def test_every_role_sees_every_page(role):
    client = signed_in(role)
    for address in addresses():
        assert client.get(address).status_code == 200, address


@pytest.mark.django_db
def test_a_page_asks_a_stranger_to_sign_in_and_leads_back():
    for address in addresses():
        response = Client().get(address)
        assert (response.status_code, response["Location"]) == (302, f"/login/?next={address}")


@pytest.mark.django_db
def test_an_act_of_a_stranger_leads_to_the_sign_in():
    client = Client()
    response = client.post(reverse("crew-board-page"), {"act": "assign"})
    assert (response.status_code, response["Location"]) == (302, "/login/?next=/boards/crews/")
    assert "nothing was saved" in html_of(client.get(response["Location"]))


@pytest.mark.django_db
@pytest.mark.parametrize("role", list(Person.Role))
def test_signing_in_leads_to_where_the_days_of_a_role_start(role):
    OpeningFactory()
    somebody = person(role)
    response = Client().post("/login/", {"username": somebody.username, "password": PASSWORD}, follow=True)
    assert response.redirect_chain[-1][0] == reverse(START[role])
    assert str(somebody) in html_of(response)


@pytest.mark.django_db
def test_a_wrong_password_is_said_at_the_form():
    response = Client().post("/login/", {"username": person(Person.Role.OWNER).username, "password": "wrong"})
    assert 'role="alert"' in html_of(response)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("page", "act", "role"),
    [
        ("crew-board-page", "assign", Person.Role.WAREHOUSE),
        ("crew-board-page", "assign", Person.Role.CREW_LEAD),
        ("crew-board-page", "withdraw", Person.Role.CREW_LEAD),
        ("crew-board-page", "move", Person.Role.CREW_LEAD),
        ("crew-board-page", "set_day", Person.Role.WAREHOUSE),
        ("crew-board-page", "release", Person.Role.WAREHOUSE),
        ("staging-page", "load", Person.Role.CREW_LEAD),
        ("staging-page", "ask", Person.Role.OWNER),
        ("remnants-page", "settle", Person.Role.CREW_LEAD),
        ("remnants-page", "enter", Person.Role.OWNER),
        ("remnants-page", "scrap", Person.Role.CREW_LEAD),
        ("schedule-page", "send", Person.Role.WAREHOUSE),
        ("schedule-draft-page", "settle", Person.Role.CREW_LEAD),
        ("schedule-draft-page", "take", Person.Role.WAREHOUSE),
        ("schedule-draft-page", "discard", Person.Role.WAREHOUSE),
        ("opening-page", "start", Person.Role.OWNER),
        ("opening-page", "step", Person.Role.WAREHOUSE),
        ("opening-page", "measure", Person.Role.OWNER),
        ("opening-page", "release", Person.Role.WAREHOUSE),
    ],
)
def test_an_act_that_is_for_other_roles_is_refused(page, act, role):
    opening = OpeningFactory()
    arguments = {
        "schedule-page": [opening.job_id],
        "schedule-draft-page": [opening.job_id, make_draft(job=opening.job).pk],
        "opening-page": [opening.pk],
    }.get(page, [])
    response = signed_in(role).post(reverse(page, args=arguments), {"act": act})
    assert response.status_code == 403
    assert "can do this; you are signed in as" in html_of(response)


@pytest.mark.django_db
def test_a_crew_lead_does_not_record_for_another_crew(scheduler):
    opening, crew = OpeningFactory(), CrewFactory()
    scheduler.post(reverse("crew-board-page"), assign_form([opening], crew))
    lead = signed_in(Person.Role.CREW_LEAD)
    response = lead.post(reverse("opening-page", args=[opening.pk]), {"act": "start"})
    assert response.status_code == 403
    assert "another crew" in html_of(response)


@pytest.mark.django_db
@pytest.mark.parametrize("method", ["put", "patch", "delete"])
def test_pages_know_no_other_methods(scheduler, method):
    assert getattr(scheduler, method)(reverse("crew-board-page")).status_code == 405


@pytest.mark.django_db
def test_a_page_whose_thing_is_gone_says_so_to_an_act_too(scheduler):
    response = scheduler.post(reverse("opening-page", args=[10**6]), {"act": "start"})
    assert response.status_code == 404
    assert "there is no opening" in html_of(response)


@pytest.mark.django_db
def test_a_page_without_acts_takes_no_post(scheduler):
    assert scheduler.post(reverse("progress-page")).status_code == 405


@pytest.mark.django_db
def test_forms_are_guarded_against_other_sites():
    client = Client(enforce_csrf_checks=True)
    client.force_login(person(Person.Role.SCHEDULER))
    assert client.post(reverse("crew-board-page"), {"act": "assign"}).status_code == 403
