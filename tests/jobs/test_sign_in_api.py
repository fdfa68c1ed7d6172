"""One's own tokens and password over the API, and who reads who signed in."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone
from rest_framework.test import APIClient

from jobs import services
from jobs.models import Person, SignIn, Token
from tests.factories import PersonFactory, make_sign_in
from tests.openings.api.clients import API, problem_of, signed_in
from tests.pages.people import PASSWORD, person

pytestmark = pytest.mark.django_db
NEW = "head flashing over the casing"


@pytest.fixture
def ines() -> Person:
    return person(Person.Role.WAREHOUSE)


def with_token(secret: str) -> APIClient:
    client = APIClient(raise_request_exception=False)
    client.credentials(HTTP_AUTHORIZATION=f"Token {secret}")
    return client


def status_of(client: APIClient | Client) -> int:
    return client.get(f"{API}/jobs/").status_code


def test_a_token_is_named_and_lasts_as_long_as_was_asked(ines):
    asked = {"username": ines.username, "password": PASSWORD, "name": "Gate board", "days": 30}
    given = APIClient().post(f"{API}/auth/token/", asked).json()
    token = Token.objects.get()
    assert (token.name, given["token"][:8]) == ("Gate board", token.begins_with)
    assert abs(token.expires_at - timezone.now() - timedelta(days=30)) < timedelta(minutes=1)
    (listed,) = with_token(given["token"]).get(f"{API}/auth/tokens/").json()["results"]
    assert (listed["name"], listed["begins_with"]) == ("Gate board", given["token"][:8])
    assert given["token"] not in str(listed)


@pytest.mark.parametrize("days", [0, 366, -1, "week"])
def test_a_token_for_too_long_is_refused(ines, days):
    asked = {"username": ines.username, "password": PASSWORD, "days": days}
    assert problem_of(APIClient().post(f"{API}/auth/token/", asked), 400, "invalid")["errors"][0]["field"] == "days"


def test_nobody_has_more_tokens_than_fifty(ines):
    for _ in range(50):
        services.make_token(person=ines)
    asked = {"username": ines.username, "password": PASSWORD}
    problem_of(APIClient().post(f"{API}/auth/token/", asked), 409, "conflict")


def test_tokens_are_those_of_the_one_who_asks_and_revoked_by_them_alone(ines):
    token, secret = services.make_token(person=ines)
    other = signed_in(PersonFactory())
    assert other.get(f"{API}/auth/tokens/").json()["count"] == 0
    problem_of(other.delete(f"{API}/auth/tokens/{token.pk}/"), 404, "not-found")
    client = with_token(secret)
    assert client.delete(f"{API}/auth/tokens/{token.pk}/").status_code == 204
    assert status_of(client) == 401


def test_a_new_password_ends_every_token_and_every_other_session(ines):
    here, elsewhere = Client(), Client()
    for client in (here, elsewhere):
        client.force_login(ines)
    _, secret = services.make_token(person=ines, days=30)
    sent = {"old_password": PASSWORD, "new_password": NEW}
    assert here.post(f"{API}/auth/password/", sent, content_type="application/json").status_code == 204
    assert [status_of(client) for client in (here, elsewhere, with_token(secret))] == [200, 401, 401]
    assert Client().login(username=ines.username, password=NEW)


@pytest.mark.parametrize("by", ["the shell", "the admin", "a service"])
def test_by_whatever_door_a_password_is_set_its_tokens_end(ines, by):
    _, secret = services.make_token(person=ines, days=30)
    if by == "the admin":
        boss = Client()
        boss.force_login(PersonFactory(is_superuser=True, is_staff=True))
        boss.post(f"/admin/jobs/person/{ines.pk}/password/", {"password1": NEW, "password2": NEW})
    elif by == "the shell":
        ines.set_password(NEW)
        ines.save()
    else:
        services.set_password(person=ines, password=NEW)
    ines.refresh_from_db()
    assert ines.check_password(NEW)
    assert status_of(with_token(secret)) == 401


@pytest.mark.parametrize(
    ("old", "new", "field", "code"),
    [("wrong", NEW, "old_password", "bad-input"), (PASSWORD, "12345678", "new_password", "invalid")],
    ids=["another's", "easy to guess"],
)
def test_a_password_that_is_refused_stays_and_is_not_repeated(ines, old, new, field, code):
    sent = {"old_password": old, "new_password": new}
    problem = problem_of(signed_in(ines).post(f"{API}/auth/password/", sent), 400, code)
    assert {fault["field"] for fault in problem["errors"]} == {field}
    assert old not in str(problem)
    assert new not in str(problem)
    ines.refresh_from_db()
    assert ines.check_password(PASSWORD)


def test_guesses_at_the_old_password_are_slowed_too(ines):
    client = signed_in(ines)
    sent = {"old_password": "wrong", "new_password": NEW}
    for _ in range(3):
        problem_of(client.post(f"{API}/auth/password/", sent), 400, "bad-input")
    wait = problem_of(client.post(f"{API}/auth/password/", sent), 429, "too-often")["retry_after_s"]
    assert 1 <= wait <= 2


def test_signing_out_everywhere_ends_sessions_and_tokens_and_keeps_the_password(ines):
    sessions = [Client(), Client()]
    for client in sessions:
        client.force_login(ines)
    _, secret = services.make_token(person=ines)
    assert with_token(secret).post(f"{API}/auth/sign-out-everywhere/").status_code == 204
    assert [status_of(client) for client in (*sessions, with_token(secret))] == [401] * 3
    assert Client().login(username=ines.username, password=PASSWORD)


@pytest.mark.parametrize("role", Person.Role.values)
def test_sign_ins_are_read_and_unlocked_by_an_owner_alone(role):
    client, tried = signed_in(PersonFactory(role=role)), make_sign_in()
    listed = client.get(f"{API}/sign-ins/")
    unlocked = client.post(f"{API}/auth/unlock/", {"sign_in": tried.pk})
    if role != Person.Role.OWNER:
        assert "only the owner" in problem_of(listed, 403, "permission-denied")["detail"]
        problem_of(unlocked, 403, "permission-denied")
        return
    (one,) = listed.json()["results"]
    assert (one["name"], one["address"], one["outcome"]) == ("ines", "203.0.113.7", "wrong")
    assert unlocked.json()["outcome"] == SignIn.Outcome.UNLOCKED
    problem_of(client.post(f"{API}/auth/unlock/", {"sign_in": 10**6}), 404, "not-found")


@pytest.mark.parametrize("path", ["auth/tokens/", "sign-ins/"])
def test_nobody_else_reads_them(path):
    problem_of(APIClient().get(f"{API}/{path}"), 401, "not-authenticated")
