"""Links of calendars, webhooks and choices of notices over the API."""

from __future__ import annotations

import pytest
from rest_framework.test import APIClient

from jobs.models import CalendarLink, Person, Webhook
from tests.factories import CrewFactory, JobFactory, PersonFactory
from tests.openings.api.clients import API

pytestmark = pytest.mark.django_db


def client(role: Person.Role = Person.Role.SCHEDULER) -> APIClient:
    found = APIClient()
    found.force_authenticate(PersonFactory(role=role))
    return found


def test_a_calendar_link_is_made_and_its_address_is_drawn():
    office = client()
    made = office.post(f"{API}/calendar-links/", {"label": "the builder", "job": JobFactory().pk})
    assert made.status_code == 201
    assert "token" not in str(made.json())
    drawn = [office.post(f"{API}/calendar-links/{made.json()['id']}/address/").json()["address"] for _ in range(2)]
    reader = APIClient()
    assert [reader.get(address).status_code for address in drawn] == [404, 200]
    office.post(f"{API}/calendar-links/{made.json()['id']}/revoke/")
    assert reader.get(drawn[1]).status_code == 404


@pytest.mark.parametrize("both", [True, False])
def test_a_link_is_of_a_crew_or_a_job(both):
    of = {"crew": CrewFactory().pk, "job": JobFactory().pk} if both else {}
    answer = client().post(f"{API}/calendar-links/", {"label": "Ines"} | of)
    assert answer.status_code == 400
    assert "choose one of them" in str(answer.json())
    assert not CalendarLink.objects.exists()


def test_a_webhook_is_added_and_its_secret_is_drawn():
    office = client()
    made = office.post(f"{API}/webhooks/", {"name": "payroll", "address": "https://hooks.example.test/"})
    assert (made.status_code, made.json()["kinds"]) == (201, [])
    assert Webhook.objects.get().secret not in str(made.json())
    secret = office.post(f"{API}/webhooks/{made.json()['id']}/secret/").json()["secret"]
    assert secret == Webhook.objects.get().secret
    wrong = office.patch(f"{API}/webhooks/{made.json()['id']}/", {"address": "https://10.0.0.1/"})
    assert (wrong.status_code, wrong.json()["errors"][0]["field"]) == (400, "address")


@pytest.mark.parametrize("role", [Person.Role.WAREHOUSE, Person.Role.CREW_LEAD])
@pytest.mark.parametrize("noun", ["webhooks", "calendar-links"])
def test_what_leaves_the_office_is_read_by_the_office_alone(role, noun):
    assert client(role).get(f"{API}/{noun}/").status_code == 403


def test_a_person_chooses_for_the_kinds_that_are_named():
    lead = client(Person.Role.CREW_LEAD)
    before = lead.get(f"{API}/notice-choices/").json()
    assert before["day_changed"] == "at once"
    after = lead.patch(f"{API}/notice-choices/", {"day_changed": "never"}).json()
    assert after == before | {"day_changed": "never"}
    assert lead.patch(f"{API}/notice-choices/", {"day_changed": "sometimes"}).status_code == 400
