"""People over the API: who reads them, who changes whom, and links that are told by reading alone."""

from __future__ import annotations

import pytest
from rest_framework.test import APIClient

from jobs.models import FirstAnswer, Person
from tests.factories import PersonFactory
from tests.openings.api.clients import API, problem_of

pytestmark = pytest.mark.django_db


def client_of(role: str) -> APIClient:
    client = APIClient(raise_request_exception=False)
    client.force_authenticate(PersonFactory(role=role))
    return client


def test_who_is_added_is_invited_and_the_link_is_read():
    client = client_of("owner")
    key = {"Idempotency-Key": '"first"'}
    ann = client.post(f"{API}/people/", {"username": "ann", "role": "owner"}, headers=key).json()
    assert (ann["is_active"], ann["has_password"]) == (True, False)
    (told,) = client.get(f"{API}/invitations/?person={ann['id']}").json()["results"]
    assert told["link"].startswith("http://testserver/welcome/")
    again = client.post(f"{API}/invitations/", {"person": ann["id"]}, headers={"Idempotency-Key": '"second"'}).json()
    assert "link" not in again
    assert all(b"/welcome/" not in bytes(answer.body) for answer in FirstAnswer.objects.all())
    assert client.get(f"{API}/invitations/{told['id']}/").json()["link"] == ""
    assert client_of("scheduler").get(f"{API}/invitations/{again['id']}/").json()["link"] == ""


@pytest.mark.parametrize("role", ["warehouse", "crew_lead"])
@pytest.mark.parametrize("noun", ["people", "invitations"])
def test_people_are_read_by_the_office(noun, role):
    problem_of(client_of(role).get(f"{API}/{noun}/"), 403, "permission-denied")


def test_a_scheduler_changes_no_owner():
    boss, client = PersonFactory(role="owner"), client_of("scheduler")
    PersonFactory(role="owner")
    for path, body in (("", {"first_name": "Eve"}), ("deactivate/", {})):
        method = client.patch if body else client.post
        problem_of(method(f"{API}/people/{boss.pk}/{path}", body), 403, "not-allowed")
    problem_of(client.post(f"{API}/invitations/", {"person": boss.pk}), 403, "not-allowed")
    problem_of(client.post(f"{API}/people/", {"username": "eve", "role": "owner"}), 403, "not-allowed")


def test_the_only_owner_stays_one():
    boss = PersonFactory(role="owner")
    client = APIClient()
    client.force_authenticate(boss)
    problem = problem_of(client.patch(f"{API}/people/{boss.pk}/", {"role": "scheduler"}), 409, "last-owner")
    assert problem["conflicts"][0]["id"] == boss.pk
    assert Person.objects.get().role == "owner"
