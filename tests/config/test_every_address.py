"""Every address, by every method, by everybody: what is there or what is wrong, never our fault."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator

import pytest
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver
from rest_framework.test import APIClient

from jobs.models import Person
from tests.factories import CrewFactory, PersonFactory, make_openings
from tests.materials.crew_days import make_crew_day, request

METHODS = ("GET", "OPTIONS", "POST", "PATCH", "DELETE")
WRONG = '{"name": [[]], "leave": [["a"]], "apply": {"a": 1}, "on": {}, "openings": [{}], "mapping": [[]]}'
VALUES = {"format": ".json", "date": "2026-11-30", "name": "flange-fastener", "app_label": "jobs", "url": "x/"}


def addresses(patterns: list[URLPattern | URLResolver], before: str = "") -> Iterator[str]:
    """Yield an address for each route, its variables filled in."""
    for pattern in patterns:
        route = before + str(pattern.pattern)
        if isinstance(pattern, URLResolver):
            yield from addresses(pattern.url_patterns, route)
        else:
            yield "/" + filled(route)


def filled(route: str) -> str:
    route = re.sub(r"\(\?P<(\w+)>(?:\[[^]]*\]|[^()\[\]])*\)", lambda found: VALUES.get(found[1], "1"), route)
    route = re.sub(r"<(?:\w+:)?(\w+)>", lambda found: VALUES.get(found[1], "1"), route)
    return re.sub(r"[\^$]|\[Z]|\?", "", route).replace(r"\.", ".")


ADDRESSES = sorted(set(addresses(get_resolver().url_patterns)))
OURS = [address for address in ADDRESSES if not address.startswith("/admin/")]


def test_the_addresses_are_those_of_the_service():
    assert {"/api/docs/", "/api/v1/schedules/1/file/", "/health/live", "/boards/staging/", "/login/"} <= set(OURS)
    assert not [address for address in OURS if re.search(r"[<>()\[\]^$]", address)]


@pytest.fixture
def something(db):
    """One thing of most kinds, so that addresses lead somewhere."""
    make_openings(2)
    CrewFactory()
    request(make_crew_day())


def clients(role: str) -> tuple[Client, APIClient]:
    browser, caller = Client(raise_request_exception=False), APIClient(raise_request_exception=False)
    if role:
        person = PersonFactory(role=role, **({"crew": CrewFactory()} if role == Person.Role.CREW_LEAD else {}))
        browser.force_login(person)
        caller.force_authenticate(person)
    return browser, caller


@pytest.mark.usefixtures("something")
@pytest.mark.parametrize("method", METHODS)
@pytest.mark.parametrize("role", ["", *Person.Role.values], ids=lambda role: role or "nobody")
def test_every_address_is_answered(role, method):
    browser, caller = clients(role)
    for address in OURS if role else ADDRESSES:
        is_api = address.startswith("/api/")
        body = WRONG if is_api and method in ("POST", "PATCH") else ""
        answer = (caller if is_api else browser).generic(method, address, body, content_type="application/json")
        assert answer.status_code < 500, (method, address, answer.status_code)
        if is_api and answer.status_code >= 400:
            assert answer["Content-Type"] == "application/problem+json", (method, address)
            assert json.loads(answer.content)["status"] == answer.status_code


@pytest.mark.django_db
@pytest.mark.parametrize("method", ["OPTIONS", "POST", "DELETE"])
@pytest.mark.parametrize("address", ["/api/docs/", "/api/schema/"])
def test_the_document_of_the_api_is_read_and_nothing_else(method, address):
    answer = Client(raise_request_exception=False).generic(method, address)
    assert (answer.status_code, answer["Content-Type"]) == (405, "application/problem+json")
    assert "GET" in answer["Allow"]
    assert answer.json()["code"] == "method-not-allowed"
    assert Client().get(address).status_code == 200
