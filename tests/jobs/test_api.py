"""Signing in by token."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.db import connection
from django.utils import timezone
from rest_framework.test import APIClient

from jobs.models import Token
from tests.factories import PersonFactory
from tests.openings.api.clients import API, problem_of

TOKEN = f"{API}/auth/token/"
WORD = "sill pan and end dam"

pytestmark = pytest.mark.django_db


@pytest.fixture
def person():
    person = PersonFactory(username="ines", role="crew_lead")
    person.set_password(WORD)
    person.save()
    return person


def client(token: str = "") -> APIClient:
    client = APIClient(raise_request_exception=False)
    if token:
        client.credentials(HTTP_AUTHORIZATION=f"Token {token}")
    return client


def sign_in() -> dict:
    return client().post(TOKEN, {"username": "ines", "password": WORD}).json()


def test_a_token_opens_the_api_and_says_who_it_is_for(person):
    given = sign_in()
    assert given["user"]["role"] == "crew_lead"
    assert given["user"]["crew"] == person.crew_id
    assert "password" not in str(given["user"])
    assert client(given["token"]).get(f"{API}/openings/").status_code == 200


def test_only_the_hash_of_a_token_is_kept(person):
    token = sign_in()["token"]
    with connection.cursor() as cursor:
        cursor.execute("SELECT jobs_token::text FROM jobs_token")
        ((row,),) = cursor.fetchall()
    assert token not in row
    assert token[:9] not in row  # by its first 8 letters people know which it is; 56 stay unknown


@pytest.mark.parametrize(
    "credentials",
    [{"username": "ines", "password": "wrong"}, {"username": "nobody", "password": WORD}, {"username": "ines"}, {}],
    ids=["wrong password", "unknown", "no password", "nothing"],
)
def test_wrong_credentials_give_no_token(person, credentials):
    problem = problem_of(client().post(TOKEN, credentials), 400, "invalid")
    assert "wrong" not in str(problem)
    assert not Token.objects.exists()


def test_a_person_who_left_cannot_sign_in_and_keeps_no_way_in(person):
    token = sign_in()["token"]
    person.is_active = False
    person.save()
    problem_of(client(token).get(f"{API}/openings/"), 401, "authentication-failed")
    problem_of(client().post(TOKEN, {"username": "ines", "password": WORD}), 400, "invalid")


def test_a_token_ends(person):
    token = sign_in()["token"]
    Token.objects.update(expires_at=timezone.now() - timedelta(seconds=1))
    problem_of(client(token).get(f"{API}/openings/"), 401, "authentication-failed")


@pytest.mark.parametrize("token", ["a b", "0" * 64, "x", "é", "z" * 10_000])
def test_a_token_of_nobody_opens_nothing(person, token):
    problem_of(client(token).get(f"{API}/openings/"), 401, "authentication-failed")
