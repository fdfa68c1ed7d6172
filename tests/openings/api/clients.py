"""Clients of the API, and what every refusal of it looks like."""

from __future__ import annotations

from http import HTTPStatus
from typing import Any

from rest_framework.response import Response
from rest_framework.test import APIClient

from jobs.models import Person

API = "/api/v1"


def signed_in(person: Person | None) -> APIClient:
    """Return a client of that person, to whom our bugs come back as 500 as they do to anybody else."""
    client = APIClient(raise_request_exception=False)
    client.force_authenticate(person)
    return client


def problem_of(response: Response, status: int, code: str) -> dict[str, Any]:
    """Return the problem document of a refusal, once its shape is checked.

    Source:
        RFC 9457, sections 3.1 and 3.2: media type, `type`, `title`, `status`, `detail`, and members of our own
        (`schedule` says how a file was understood, `conflicts` which rows it is about).
    """
    problem = response.json()
    assert response.status_code == status, problem
    assert response["Content-Type"] == "application/problem+json"
    assert set(problem) - {"schedule", "conflicts", "updated_at", "retry_after_s"} == {
        "type",
        "title",
        "status",
        "detail",
        "code",
        "errors",
    }
    assert (problem["status"], problem["code"]) == (status, code), problem
    assert problem["title"] == HTTPStatus(status).phrase
    assert problem["type"].endswith(code)
    assert problem["detail"]
    assert all(set(fault) - {"item"} == {"field", "row", "value", "detail"} for fault in problem["errors"])
    for conflict in problem.get("conflicts", []):
        assert set(conflict) == {"type", "id", "name", "detail"}
    return problem
