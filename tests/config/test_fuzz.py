"""Every operation of the OpenAPI document, asked by everybody with what schemathesis makes up, right and wrong.

Source: the document itself (OpenAPI Specification 3.0), RFC 9457 for refusals, RFC 9110, sections 10.2.1 and 15.5.6,
for `Allow` and 405. What is made up is the same each time; `FUZZ_EXAMPLES=100` goes deeper, by hand.
"""

from __future__ import annotations

import logging
import os
import re
from collections.abc import Callable, Iterator
from threading import Thread
from typing import Any

import pytest
import schemathesis
from django.core.servers.basehttp import WSGIRequestHandler, WSGIServer
from rest_framework.test import APIClient
from schemathesis.config import SchemathesisConfig
from schemathesis.engine import events, from_schema

from jobs.models import Person
from jobs.services import make_token
from materials.serializers.cuts import LONGEST_LIMIT_S
from tests.factories import CrewFactory, PersonFactory, make_catalogue, make_openings, make_remnant, make_stock
from tests.materials.crew_days import make_crew_day
from tests.materials.crew_days import request as request_sheet

FEW = 1
EXAMPLES = int(os.environ.get("FUZZ_EXAMPLES", FEW))
"""Made up of each operation, right and wrong. With more than these few, which are all that a commit waits for, each is
also asked with what lies at the bounds of its shapes and beyond; that takes minutes."""

ANSWERED = ["2xx", "400", "401", "403", "404", "409", "412", "422"]
"""What a body that fits its shape may be answered with. A shape says nothing of what is stored nor of who asks: 400 is
for a row that is not there and for figures that do not go together, 412 and 422 are for a made-up version or key."""


def settings_of(address: str, token: str) -> SchemathesisConfig:
    """Return what is done: each operation by what its shapes have at their bounds and beyond, and by some made up."""
    return SchemathesisConfig.from_dict(
        {
            "seed": 1,
            "workers": 1,
            "continue-on-failure": True,
            "base-url": address,
            "headers": {"Authorization": token} if token else {},
            "generation": {"max-examples": EXAMPLES, "deterministic": True, "database": "none", "no-shrink": True},
            "checks": {"positive_data_acceptance": {"expected-statuses": ANSWERED}},
            "phases": {"coverage": {"enabled": EXAMPLES > FEW}, "stateful": {"enabled": False}},
        }
    )


@pytest.mark.parametrize("role", ["", *Person.Role.values], ids=lambda role: role or "nobody")
def test_what_is_answered_is_what_is_described(role, document, address):
    fill()
    api = schemathesis.openapi.from_dict(document, config=settings_of(address, token_of(role)))
    api.hook(map_body)
    wrong = list(failures(from_schema(api).execute()))
    assert not wrong, "\n".join(wrong)


def map_body(_context: Any, body: Any) -> Any:
    """Return a body that lets nobody search for half a minute."""
    limit = body.get("time_limit_s") if isinstance(body, dict) else None
    return body | {"time_limit_s": 0.5} if isinstance(limit, int | float) and 1 < limit <= LONGEST_LIMIT_S else body


@pytest.mark.django_db
def test_what_is_not_described_is_not_done(document):
    for path, described in document["paths"].items():
        allowed = {method.upper() for method in described} | ({"HEAD"} if "get" in described else set())
        address = re.sub(r"{\w+}", "1", path)
        for method in {"GET", "POST", "PUT", "PATCH", "DELETE", "TRACE"} - allowed:
            answer = APIClient().generic(method, address)
            assert (answer.status_code, answer["Content-Type"]) == (405, "application/problem+json"), (method, path)
            assert set(answer["Allow"].split(", ")) - {"OPTIONS"} == allowed, (method, path)


@pytest.fixture
def address(service: Callable[..., Any]) -> Iterator[str]:
    """Where the service is asked by HTTP; one request at a time."""
    server = WSGIServer(("127.0.0.1", 0), WSGIRequestHandler)
    server.set_app(service)
    logging.getLogger("django.server").setLevel(logging.CRITICAL)
    thread = Thread(target=server.serve_forever)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    thread.join()
    server.server_close()


def fill() -> None:
    """Make something of most kinds, so that addresses lead somewhere."""
    make_openings(2)
    strip = next(iter(make_catalogue().values()))
    make_stock(strip, 3)
    make_remnant(strip, 60)
    request_sheet(make_crew_day())


def token_of(role: str) -> str:
    """Return the header of somebody of that role, empty for nobody."""
    if not role:
        return ""
    crew = {"crew": CrewFactory()} if role == Person.Role.CREW_LEAD else {}
    return f"Token {make_token(person=PersonFactory(role=role, **crew))[1]}"


def failures(happened: Iterator[Any]) -> Iterator[str]:
    """Yield what was answered otherwise than it is described."""
    for event in happened:
        if isinstance(event, events.NonFatalError | events.FatalError):
            yield str(getattr(event, "info", None) or event.exception)
        elif isinstance(event, events.ScenarioFinished):
            for checks in event.recorder.checks.values():
                yield from (said(event.label, check) for check in checks if check.failure_info)


def said(label: str | None, check: Any) -> str:
    failure = check.failure_info
    return f"{label}: {check.name}: {failure.failure.title}: {failure.failure.message}\n    {failure.code_sample}"
