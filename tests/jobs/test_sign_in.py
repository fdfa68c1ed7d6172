"""Signing in on the open net: wrong passwords are slowed and locked, hashing is bounded, all of it is kept."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from threading import Event, Lock

import pytest
from django.test import Client, RequestFactory
from django.utils import timezone
from rest_framework.test import APIClient

from jobs import hashing, services
from jobs.address import address_of
from jobs.calc.sign_in import LOG_KEPT_FOR
from jobs.errors import SignInsBusy, TooOften
from jobs.models import Person, SignIn
from tests.factories import PersonFactory, make_sign_in
from tests.openings.api.clients import API
from tests.pages.html import html_of
from tests.pages.people import PASSWORD

HERE, THERE = "203.0.113.7", "198.51.100.9"  # RFC 5737
Outcome = SignIn.Outcome


@pytest.fixture
def ines(db: None) -> Person:
    person = PersonFactory(username="ines", role=Person.Role.OWNER)
    person.set_password(PASSWORD)
    person.save()
    return person


def attempt(password: str = "wrong", *, name: str = "ines", address: str = HERE) -> int:
    """Return the status of the API to a name and a password."""
    sent = {"username": name, "password": password}
    path = f"{API}/auth/token/"
    return Client().post(path, sent, content_type="application/json", REMOTE_ADDR=address).status_code


def pass_by(time: timedelta) -> None:
    """Let all tries be so much older."""
    for one in SignIn.objects.all():
        SignIn.objects.filter(pk=one.pk).update(at=one.at - time)


@pytest.mark.parametrize(
    ("door", "refused", "client"),
    [("/login/", 200, Client()), ("/admin/login/", 200, Client()), (f"{API}/auth/token/", 400, APIClient())],
)
def test_every_door_refuses_a_name_that_was_wrong_too_often(ines, door, refused, client):
    wrong = {"username": "ines", "password": "wrong"}
    for _ in range(3):
        assert client.post(door, wrong).status_code == refused
    locked = client.post(door, wrong | {"password": PASSWORD})
    assert locked.status_code == 429
    # RFC 6585, section 4: Retry-After may say how long to wait.
    assert 1 <= int(locked["Retry-After"]) <= 2
    assert "too many wrong passwords; try again in" in locked.content.decode()
    assert [one.outcome for one in SignIn.objects.all()] == [Outcome.WRONG] * 3
    assert SignIn.objects.first().refused_count == 1


def test_the_sign_in_page_says_it_and_keeps_the_name(ines):
    for _ in range(3):
        attempt()
    page = html_of(Client(REMOTE_ADDR=HERE).post("/login/", {"username": "ines", "password": PASSWORD}))
    assert 'value="ines"' in page
    assert PASSWORD not in page
    assert "Wait a moment, then try again" in page


def test_a_name_is_locked_from_everywhere_but_where_its_person_signs_in(ines):
    assert attempt(PASSWORD, address=THERE) == 200
    for number in range(10):
        attempt(address=f"203.0.113.{number}")
        pass_by(timedelta(minutes=2))
    assert attempt(PASSWORD, address=HERE) == 429
    assert attempt(PASSWORD, address=THERE) == 200


def test_after_its_wait_the_right_password_forgives_the_wrong_ones(ines):
    for _ in range(3):
        attempt()
    pass_by(timedelta(seconds=2))
    assert attempt(PASSWORD) == 200
    assert attempt() == 400


def test_an_address_that_tries_many_names_is_locked_and_nobody_elsewhere(ines):
    for number in range(20):
        attempt(name=f"person-{number}")
    assert attempt(PASSWORD, address=HERE) == 429
    assert attempt(PASSWORD, address=THERE) == 200


def test_capitals_and_names_of_nobody_count_the_same(ines):
    for name in ("ines", "Ines", "INES"):
        attempt(name=name)
    for _ in range(3):
        attempt(name="nobody", address=THERE)
    assert attempt(name="ines") == attempt(name="nobody", address=THERE) == 429


def test_what_came_of_each_try_is_kept_with_name_and_address(ines):
    PersonFactory(username="gone", is_active=False)
    attempt(PASSWORD)
    attempt("wrong")
    attempt(name="nobody")
    attempt(name="gone")
    kept = [(one.name, one.address, one.outcome) for one in SignIn.objects.order_by("pk")]
    outcomes = (Outcome.RIGHT, Outcome.WRONG, Outcome.UNKNOWN, Outcome.LEFT)
    assert kept == [(name, HERE, of) for name, of in zip(("ines", "ines", "nobody", "gone"), outcomes, strict=True)]


def test_an_owner_unlocks_name_and_address(ines):
    for _ in range(3):
        attempt()
    assert attempt(PASSWORD) == 429
    services.unlock_sign_in(sign_in_id=SignIn.objects.first().pk)
    assert attempt(PASSWORD) == 200


def test_sign_ins_are_kept_for_ninety_days(db):
    kept = make_sign_in()
    assert services.forget_old_sign_ins(now=kept.at + LOG_KEPT_FOR) == 0
    assert services.forget_old_sign_ins(now=kept.at + LOG_KEPT_FOR + timedelta(seconds=1)) == 1


def test_many_at_once_are_looked_at_in_turn_and_the_rest_told_to_come_again():
    lock, go_on, at_once, most = Lock(), Event(), 0, 0

    def look() -> str:
        nonlocal at_once, most
        try:
            with hashing.turn(), hashing.turn():
                with lock:
                    at_once += 1
                    most = max(most, at_once)
                go_on.wait(20)
                with lock:
                    at_once -= 1
        except SignInsBusy:
            return "busy"
        return "done"

    with ThreadPoolExecutor(12) as threads:
        asked = [threads.submit(look) for _ in range(12)]
        busy = 12 - hashing.AT_ONCE - hashing.MAY_WAIT
        while sum(one.done() for one in asked) < busy:
            pass
        go_on.set()
        came = [one.result() for one in asked]
    assert most == hashing.AT_ONCE
    assert came.count("busy") == busy


def test_a_password_that_is_not_looked_at_is_not_wrong(ines, monkeypatch):
    def busy() -> None:
        raise SignInsBusy("busy")

    monkeypatch.setattr("jobs.services.sign_in.turn", busy)
    assert attempt(PASSWORD) == 503
    assert not SignIn.objects.exists()


def test_a_try_counts_as_wrong_while_it_is_looked_at(ines):
    def check() -> Person:
        assert SignIn.objects.get().outcome == Outcome.WRONG
        return ines

    assert services.try_password(name="ines", address=HERE, check=check) == ines
    assert SignIn.objects.get().outcome == Outcome.RIGHT


def test_nothing_is_looked_at_while_a_name_waits(ines):
    for _ in range(3):
        make_sign_in()
    with pytest.raises(TooOften) as refused:
        services.try_password(name="ines", address=THERE, check=lambda: pytest.fail("it was looked at"))
    assert refused.value.members == {"retry_after_s": 2}
    assert SignIn.objects.filter(at__gt=timezone.now()).count() == 0


# `X-Forwarded-For`: a proxy appends whom it heard; what stands before is what the caller wrote (RFC 7239, 5.2 and 8.1).
@pytest.mark.parametrize(
    ("behind_proxy", "forwarded", "address"),
    [
        (False, "198.51.100.9", HERE),
        (True, "198.51.100.9", THERE),
        (True, "192.0.2.1, 198.51.100.9", THERE),
        (True, "", HERE),
        (True, "unknown", HERE),
    ],
)
def test_the_address_is_what_the_proxy_says_and_never_what_the_caller_says(settings, behind_proxy, forwarded, address):
    settings.BEHIND_PROXY = behind_proxy
    assert address_of(RequestFactory().get("/", REMOTE_ADDR=HERE, HTTP_X_FORWARDED_FOR=forwarded)) == address
    assert address_of(RequestFactory().get("/", REMOTE_ADDR="")) == ""
