"""Raised → HTTP, as RFC 9457 asks: type, title, status and detail, in application/problem+json."""

from __future__ import annotations

import psycopg
import pytest
from django.core.exceptions import PermissionDenied, RequestDataTooBig
from django.core.exceptions import ValidationError as ModelError
from django.db import DatabaseError, DataError, IntegrityError, InterfaceError, InternalError, OperationalError
from django.http import Http404
from psycopg.errors import (
    AdminShutdown,
    CannotConnectNow,
    CheckViolation,
    DeadlockDetected,
    IdleInTransactionSessionTimeout,
    LockNotAvailable,
    NumericValueOutOfRange,
    QueryCanceled,
    SerializationFailure,
    StatementTooComplex,
    TooManyConnections,
    UniqueViolation,
)
from rest_framework import exceptions
from rest_framework.test import APIClient

from config.errors import describe, page_of, wait_of
from jobs.errors import BadInput, Conflict, DayIsPast, DayOff, Fault, NotAllowed, NotFound
from jobs.models import Crew, Job
from materials.errors import NothingAssigned, PieceTooLong
from openings.errors import BadSchedule, ReadersBusy, StepOutOfOrder
from tests.factories import JobFactory, PersonFactory
from tests.pages.html import html_of


def integrity(cause: type[Exception]) -> IntegrityError:
    error = IntegrityError("constraint")
    error.__cause__ = cause()
    return error


@pytest.mark.parametrize(
    ("error", "status", "code"),
    [
        (BadInput("no"), 400, "bad-input"),
        (DayIsPast("no"), 400, "day-is-past"),
        (PieceTooLong("no"), 400, "piece-too-long"),
        (BadSchedule("no"), 400, "bad-schedule"),
        (NotAllowed("no"), 403, "not-allowed"),
        (NotFound("no"), 404, "not-found"),
        (Conflict("no"), 409, "conflict"),
        (DayOff("no"), 409, "day-off"),
        (NothingAssigned("no"), 409, "nothing-assigned"),
        (StepOutOfOrder("no"), 409, "step-out-of-order"),
        (ModelError("no"), 400, "invalid"),
        (ModelError({"name": ModelError("no", code="unique")}), 409, "duplicate"),
        (ModelError({"name": ModelError("no", code="unique"), "on": ModelError("no")}), 400, "invalid"),
        (exceptions.ValidationError({"on": ["no"]}), 400, "invalid"),
        (exceptions.ParseError(), 400, "parse-error"),
        (exceptions.NotAuthenticated(), 401, "not-authenticated"),
        (exceptions.PermissionDenied(), 403, "permission-denied"),
        (exceptions.MethodNotAllowed("PUT"), 405, "method-not-allowed"),
        (exceptions.UnsupportedMediaType("text/x"), 415, "unsupported-media-type"),
        (integrity(UniqueViolation), 409, "duplicate"),
        (Http404(), 404, "not-found"),
        (PermissionDenied(), 403, "not-allowed"),
        (RequestDataTooBig("no"), 413, "too-large"),
    ],
    ids=lambda value: type(value).__name__ if isinstance(value, Exception) else None,
)
def test_what_a_caller_can_mend_is_told(error, status, code):
    document = describe(error)
    assert set(document) == {"type", "title", "status", "detail", "code", "errors"}
    assert (document["status"], document["code"]) == (status, code)
    assert document["type"] == f"urn:weatherlap:problem:{code}"
    assert document["detail"]


def refused(cause: Exception, *, by: type[DatabaseError] = OperationalError) -> DatabaseError:
    error = by("refused")
    error.__cause__ = cause
    return error


# SQLSTATE: PostgreSQL 18 documentation, appendix A. Retry-After: RFC 9110, section 10.2.3.
@pytest.mark.parametrize(
    ("error", "code"),
    [
        (refused(DeadlockDetected()), "in-use"),
        (refused(SerializationFailure()), "in-use"),
        (refused(LockNotAvailable()), "in-use"),
        (refused(QueryCanceled()), "took-too-long"),
        (refused(AdminShutdown()), "database-away"),
        (refused(CannotConnectNow()), "database-away"),
        (refused(TooManyConnections()), "database-away"),
        (refused(psycopg.OperationalError("connection refused")), "database-away"),
        (refused(IdleInTransactionSessionTimeout(), by=InternalError), "database-away"),
        (InterfaceError("connection already closed"), "database-away"),
        (MemoryError(), "out-of-memory"),
        (ReadersBusy("other files are being read"), "readers-busy"),
    ],
    ids=lambda value: value if isinstance(value, str) else type(value.__cause__ or value).__name__,
)
def test_what_passes_by_itself_is_for_later(error, code):
    document = describe(error)
    assert (document["status"], document["code"]) == (503, code)
    assert int(wait_of(document)["Retry-After"]) > 0
    assert document["detail"]
    page = page_of(document)
    assert (page.status_code, page["Retry-After"]) == (503, wait_of(document)["Retry-After"])
    assert "try again in a moment" in html_of(page)


@pytest.mark.parametrize(
    "error", [refused(StatementTooComplex()), refused(NumericValueOutOfRange(), by=DataError), BadInput("no")]
)
def test_what_stays_wrong_is_not_for_later(error):
    document = describe(error)
    assert document is None or not wait_of(document)


@pytest.mark.parametrize("error", [ZeroDivisionError(), KeyError("x"), integrity(CheckViolation)])
def test_our_own_bugs_are_not_dressed_up_as_theirs(error):
    assert describe(error) is None


def test_every_wrong_row_is_told():
    faults = [Fault(field="width", row=7, value="wide", detail="write 3'-0\""), Fault(field="mark", detail="missing")]
    assert describe(BadSchedule("two rows", faults=faults))["errors"] == [
        {"field": "width", "row": 7, "value": "wide", "detail": "write 3'-0\""},
        {"field": "mark", "row": None, "value": "", "detail": "missing"},
    ]


@pytest.mark.parametrize(
    ("details", "fields"),
    [
        ({"on": ["no"]}, ["on"]),
        ({"readings": {"width_in": ["no"]}}, ["readings.width_in"]),
        ({"steps": [{}, {"lot": ["no"]}]}, ["steps[1].lot"]),
        ({"ids": ["no", "nor this"]}, ["ids", "ids"]),
        (["no"], [""]),
        ({"non_field_errors": ["no"]}, [""]),
    ],
    ids=["field", "nested", "in a list", "two on one", "bare", "of the whole"],
)
def test_a_fault_names_its_field(details, fields):
    assert [fault["field"] for fault in describe(exceptions.ValidationError(details))["errors"]] == fields


@pytest.fixture
def scheduler() -> APIClient:
    client = APIClient(raise_request_exception=False)
    client.force_authenticate(PersonFactory())
    return client


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("body", "status", "field", "value"),
    [
        ({"name": "Alder", "truck": "1", "people_count": 0}, 400, "people_count", "0"),
        ({"name": "Alder", "truck": "1", "people_count": -3}, 400, "people_count", "-3"),
        ({"name": "Alder", "truck": "1", "people_count": 21}, 400, "people_count", "21"),
        ({"name": "Alder", "truck": "1", "people_count": 3, "weekdays": "0"}, 400, "weekdays", "0"),
        ({"name": "Alder", "truck": "1", "people_count": 3, "weekdays": "11"}, 400, "weekdays", "11"),
        ({"name": "x" * 500, "truck": "1", "people_count": 3}, 400, "name", "x" * 200),
        ({}, 400, "name", ""),
    ],
    ids=["no people", "fewer than none", "a crowd", "weekday 0", "Monday twice", "long name", "empty"],
)
def test_a_wrong_field_is_told_with_what_was_sent(scheduler, body, status, field, value):
    answer = scheduler.post("/api/v1/crews/", body)
    assert (answer.status_code, answer["Content-Type"]) == (status, "application/problem+json")
    assert {"field": field, "value": value}.items() <= answer.json()["errors"][0].items()
    assert not Crew.objects.exists()


@pytest.mark.django_db
def test_a_duplicate_is_a_conflict(scheduler):
    JobFactory(code="weir")
    answer = scheduler.post("/api/v1/jobs/", {"code": "weir", "name": "Weir", "address": "2 Weir Lane"})
    assert (answer.status_code, answer.json()["code"]) == (409, "duplicate")


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("body", "media_type", "status"),
    [
        (b"{", "application/json", 400),
        (b'{"name": "Alder\\u0000"}', "application/json", 400),
        (b"\xff\xfe", "application/json", 400),
        (b"[" * 100_000, "application/json", 400),
        (b'{"people_count": 1' + b"0" * 5_000 + b"}", "application/json", 400),
        (b"<x/>", "application/xml", 415),
        (b"x" * (6 * 2**20), "application/json", 413),
    ],
    ids=["half", "null character", "no text", "deep", "a number of 5000 digits", "another kind", "6 MB"],
)
def test_a_body_that_cannot_be_read_is_told(scheduler, body, media_type, status):
    answer = scheduler.generic("POST", "/api/v1/crews/", body, content_type=media_type)
    assert (answer.status_code, answer["Content-Type"]) == (status, "application/problem+json"), answer.content[:300]


@pytest.mark.django_db
def test_an_address_without_anything_is_a_problem_too(scheduler):
    answer = scheduler.get("/api/v1/nothing/here/")
    assert (answer.status_code, answer["Content-Type"]) == (404, "application/problem+json")


@pytest.mark.django_db
@pytest.mark.parametrize("slash", ["", "/"])
def test_the_last_slash_is_optional_for_a_post_too(scheduler, slash):
    answer = scheduler.post(f"/api/v1/jobs{slash}", {"code": "weir", "name": "Weir", "address": "2 Weir Lane"})
    assert answer.status_code == 201
    assert Job.objects.count() == 1
