"""The OpenAPI document: valid, and naming every address that clients rely on."""

from __future__ import annotations

import json

import pytest
from drf_spectacular.generators import SchemaGenerator
from drf_spectacular.renderers import OpenApiJsonRenderer
from openapi_spec_validator import validate
from rest_framework.test import APIClient

NOUNS = [
    "jobs",
    "crews",
    "crew-days",
    "forecasts",
    "details",
    "schedules",
    "schedule-drafts",
    "schedule-layouts",
    "openings",
    "measurements",
    "holds",
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
    "boards/progress",
    "openings/{opening_id}/draw",
    "openings/{id}/labor",
    "openings/{id}/lift",
    "openings/{id}/lay-order",
    "jobs/{job_id}/schedule.xlsx",
    "jobs/{job_id}/schedule.csv",
]


@pytest.fixture(scope="module")
def document() -> dict:
    """The document as clients read it: what Python has as Decimal is a number there."""
    return json.loads(OpenApiJsonRenderer().render(SchemaGenerator().get_schema(public=True)))


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
