"""The OpenAPI document: valid, and naming every address that clients rely on."""

from __future__ import annotations

from collections.abc import Iterator
from urllib.parse import urlsplit

import pytest
from django.http import QueryDict
from openapi_schema_validator import OAS30Validator
from openapi_spec_validator import validate
from rest_framework.test import APIClient

from tests.factories import make_openings
from tests.openings.api.clients import API

PROBLEM = "application/problem+json"

NOUNS = [
    "jobs",
    "crews",
    "people",
    "invitations",
    "crew-days",
    "company-days",
    "forecasts",
    "details",
    "schedules",
    "schedule-drafts",
    "schedule-layouts",
    "openings",
    "measurements",
    "holds",
    "units",
    "deliveries",
    "trades-before",
    "ready-rules",
    "assignments",
    "install-records",
    "callbacks",
    "products",
    "compatibilities",
    "places",
    "lots",
    "movements",
    "pull-sheets",
    "remnants",
]
READS = [
    "shortages",
    "rolls-to-settle",
    "boards/crews",
    "boards/staging",
    "boards/stranded",
    "boards/repairs",
    "boards/progress",
    "openings/{opening_id}/draw",
    "openings/{id}/labor",
    "openings/{id}/lift",
    "openings/{id}/lay-order",
    "openings/{id}/ways",
    "openings/{id}/readiness",
    "jobs/{job_id}/readiness",
    "details/{id}/ways",
    "jobs/{job_id}/schedule.xlsx",
    "jobs/{job_id}/schedule.csv",
]


def test_the_document_is_valid(document):
    # OpenAPI Specification 3.0, checked by openapi-spec-validator.
    validate(document)
    assert document["openapi"].startswith("3.")


def test_every_stable_address_stands_in_the_document(document):
    paths = document["paths"]
    for noun in NOUNS:
        assert "get" in paths[f"/api/v1/{noun}/"], noun
        assert "get" in paths[f"/api/v1/{noun}/{{id}}/"], noun
    assert {f"/api/v1/{read}/" for read in READS} <= paths.keys()
    assert "post" in paths["/api/v1/auth/token/"]


def test_every_operation_but_signing_in_needs_somebody(document):
    open_to_all = [
        f"{method} {path}"
        for path, methods in document["paths"].items()
        for method, operation in methods.items()
        if {} in operation.get("security", [{}])
    ]
    assert open_to_all == ["post /api/v1/auth/token/"]


@pytest.mark.django_db
def test_the_document_and_its_page_are_served():
    assert APIClient().get("/api/schema/").status_code == 200
    page = APIClient().get("/api/docs/")
    assert page.status_code == 200
    assert b"//cdn" not in page.content  # from this service, not from elsewhere


def operations(document: dict) -> Iterator[tuple[str, dict]]:
    for path, methods in document["paths"].items():
        for method, operation in methods.items():
            yield f"{method} {path}", operation


def test_every_refusal_has_the_one_shape(document):
    # RFC 9457, section 3: its media type and members.
    for name, operation in operations(document):
        refused = {status: answer for status, answer in operation["responses"].items() if status >= "4"}
        assert {"400", "503"} <= refused.keys(), name
        for answer in refused.values():
            assert answer["content"] == {PROBLEM: {"schema": {"$ref": "#/components/schemas/Problem"}}}, name


@pytest.mark.parametrize(
    ("operation", "refusals"),
    [
        ("get /api/v1/openings/", "400 401 404 406 503"),
        ("post /api/v1/openings/", "400 401 403 406 409 413 415 422 503"),
        ("get /api/v1/openings/{id}/", "400 401 404 406 503"),
        ("patch /api/v1/openings/{id}/", "400 401 403 404 406 409 412 413 415 422 503"),
        ("get /api/v1/boards/crews/", "400 401 406 503"),
        ("get /api/v1/pull-sheets/{id}/workbook/", "400 401 404 406 409 503"),
        ("post /api/v1/compute/draw/", "400 401 403 406 413 415 503"),
        ("post /api/v1/auth/token/", "400 406 409 413 415 429 503"),
        ("get /api/v1/sign-ins/", "400 401 403 404 406 503"),
    ],
)
def test_an_operation_describes_the_refusals_that_can_be(operation, refusals, document):
    described = dict(operations(document))[operation]["responses"]
    assert " ".join(sorted(status for status in described if status >= "4")) == refusals


def test_every_answer_has_a_shape(document):
    for name, operation in operations(document):
        for status, answer in operation["responses"].items():
            for media in answer.get("content", {}).values():
                assert "additionalProperties" not in media["schema"], (name, status)


@pytest.mark.parametrize(
    ("address", "shape"),
    [
        ("openings/{pk}/", "Opening"),
        ("openings/?page_size=1", "PaginatedOpeningList"),
        ("openings/{pk}/labor/", "Labor"),
        ("details/?page_size=1", "PaginatedDetailList"),
        ("boards/crews/", "CrewBoard"),
    ],
)
def test_what_is_answered_fits_the_shape_of_its_units(address, shape, document, scheduler):
    (opening,) = make_openings(1)
    asked = f"{API}/{address.format(pk=opening.pk)}"
    inches = scheduler.get(asked).json()
    metric = scheduler.get(asked, {**QueryDict(urlsplit(asked).query).dict(), "units": "metric"}).json()
    schemas = document["components"]["schemas"]
    fits = {
        name: OAS30Validator({"$ref": f"#/components/schemas/{name}", "components": document["components"]})
        for name in (shape, f"{shape}Metric")
        if name in schemas
    }
    assert fits[shape].is_valid(inches), list(fits[shape].iter_errors(inches))
    other = fits.get(f"{shape}Metric", fits[shape])
    assert other.is_valid(metric), list(other.iter_errors(metric))
    if "Opening" in shape:  # what has no unit in its name fits either
        assert not other.is_valid(inches)
        assert not fits[shape].is_valid(metric)
