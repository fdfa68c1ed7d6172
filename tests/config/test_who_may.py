"""Who may do what to whose object: every address as everybody, held against the table in DEVELOPERS.md."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver
from rest_framework.test import APIClient

from jobs.models import Person
from jobs.page import Page
from tests.config.test_every_address import filled
from tests.factories import PersonFactory

EVERYBODY = frozenset(Person.Role.values)
WRITES = ("POST", "PUT", "PATCH", "DELETE")
REFUSED = (401, 403)
NOT_DONE_HERE = 405


@dataclass(frozen=True, kw_only=True)
class Row:
    """One row of the table; of those whose address a route begins with, the longest counts."""

    reads: str
    writes: str
    acts: dict[str, str] = field(default_factory=dict)

    def writers(self, act: str = "") -> frozenset[str]:
        return roles_in(self.acts.get(act, self.writes))


def roles_in(said: str) -> frozenset[str]:
    """Return the roles that a cell names."""
    if said in ("everybody", "anybody"):
        return EVERYBODY
    named = frozenset(word.strip().replace(" ", "_") for word in said.split(",") if word.strip() != "nobody")
    assert named <= EVERYBODY, said
    return named


@cache
def table() -> dict[str, Row]:
    document = (Path(settings.BASE_DIR) / "DEVELOPERS.md").read_text()
    part = document.partition("## Who may do what to whose object\n")[2].partition("\n## ")[0]
    rows = {}
    for addresses, reads, writes, _whose in re.findall(r"^\| (`.*) \| (.*) \| (.*) \| (.*) \|$", part, re.MULTILINE):
        usual, *others = writes.split("; ")
        acts = {act: who for one in others for act, who in re.findall(r"`(\w+)` (.+)", one)}
        for address in re.findall(r"`([^`]*)`", addresses):
            rows[address] = Row(reads=reads, writes=usual, acts=acts)
    return rows


def routes(patterns: list[Any], before: str = "") -> Iterator[tuple[str, URLPattern]]:
    for pattern in patterns:
        route = before + str(pattern.pattern)
        if isinstance(pattern, URLResolver):
            yield from routes(pattern.url_patterns, route)
        elif "(?P<format>" not in route and "drf_format_suffix" not in route:
            yield "/" + re.sub(r"\(\?P<\w+>[^)]*\)|<[^>]+>", "*", route).replace("^", "").replace("$", ""), pattern


ROUTES = dict(routes(get_resolver().url_patterns))


def row_of(route: str) -> Row:
    found = [address for address in table() if address == route or (address != "/" and route.startswith(address))]
    assert found, f"{route} is in no row of the table in DEVELOPERS.md"
    return table()[max(found, key=len)]


def address_of(route: str, pattern: URLPattern) -> str:
    return filled(route.replace("*", "1")).replace("//", "/")


@pytest.fixture
def everybody(db: None) -> dict[str, tuple[Client, APIClient]]:
    """A browser and a program of each role, and of nobody."""
    clients = {}
    for role in ("", *Person.Role.values):
        browser, caller = Client(raise_request_exception=False), APIClient(raise_request_exception=False)
        if role:
            person = PersonFactory(role=role)
            browser.force_login(person)
            caller.force_authenticate(person)
        clients[role] = (browser, caller)
    return clients


def test_every_row_is_about_some_address():
    unused = {address for address in table() if not any(route.startswith(address) for route in ROUTES)}
    assert table()
    assert not unused


API_ROUTES = [route for route in ROUTES if route.startswith("/api/v1/")]
PAGE_ROUTES = [route for route, pattern in ROUTES.items() if isinstance(pattern.callback, Page)]
ADMIN = [route for route in ROUTES if route.startswith("/admin/") and route not in ("/admin/login/", "/admin/logout/")]


def test_the_api_is_read_and_written_by_whom_the_table_says(everybody):
    wrong = []
    for route in API_ROUTES:
        row, address = row_of(route), address_of(route, ROUTES[route])
        for method in ("GET", *WRITES):
            statuses = {role: ask(caller, method, address) for role, (_, caller) in everybody.items()}
            wrong += [f"{method} {route}: {one}" for one in faults(statuses, row, method)]
    assert not wrong, "\n".join(wrong)


def ask(caller: APIClient, method: str, address: str) -> int:
    body = None if method == "GET" else "{}"
    return caller.generic(method, address, body or "", content_type="application/json").status_code


def faults(statuses: dict[str, int], row: Row, method: str) -> Iterator[str]:
    said = row.reads if method == "GET" else row.writes
    if set(statuses.values()) == {NOT_DONE_HERE}:
        return
    for role, status in statuses.items():
        may = said == "anybody" or (role in roles_in(said) if role else False)
        if may and status in REFUSED:
            yield f"{role or 'nobody'} may, and is answered {status}"
        if not may and status != (403 if role else 401):
            yield f"{role or 'nobody'} may not, and is answered {status}"


def test_pages_are_seen_and_acted_on_by_whom_the_table_says(everybody):
    wrong = []
    for route in PAGE_ROUTES:
        row, address = row_of(route), address_of(route, ROUTES[route])
        for role, (browser, _) in everybody.items():
            seen = browser.get(address).status_code
            if (seen == 302 and not role) is bool(role) or (seen == 403) is (role in roles_in(row.reads) or not role):
                wrong.append(f"GET {route} by {role or 'nobody'}: {seen}")
            for act in ROUTES[route].callback.acts:
                done = browser.post(address, {"act": act}).status_code
                right = done == 302 if not role else (done != 403) is (role in row.writers(act))
                if not right:
                    wrong.append(f"{act} on {route} by {role or 'nobody'}: {done}")
    assert not wrong, "\n".join(wrong)


def test_what_is_open_to_everybody_is_said(everybody):
    """Of the rest, what answers a stranger with anything but the way to the sign-in."""
    browser, _ = everybody[""]
    rest = ROUTES.keys() - {*API_ROUTES, *PAGE_ROUTES, *ADMIN}
    for route in rest:
        answer = browser.get(address_of(route, ROUTES[route]))
        is_open = answer.status_code not in REFUSED and not answer.get("Location", "").startswith("/login/")
        assert is_open is (row_of(route).reads == "anybody"), (route, answer.status_code)


def test_the_admin_is_for_nobody_with_a_role(everybody):
    for route in ADMIN:
        address = address_of(route, ROUTES[route])
        for role, (browser, _) in everybody.items():
            for answer in (browser.get(address), browser.post(address)):
                assert answer.status_code in (301, 302, 404, 405), (route, role, answer.status_code)
