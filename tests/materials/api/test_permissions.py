from __future__ import annotations

import pytest
from rest_framework.test import APIClient

from jobs.models import Person
from tests.factories import DetailFactory, tomorrow

pytestmark = pytest.mark.django_db

ROLES = Person.Role.values
WRITES = {
    "details": {"scheduler", "owner"},
    "products": {"scheduler", "warehouse", "owner"},
    "detail-products": {"scheduler", "owner"},
    "compatibilities": {"scheduler", "warehouse", "owner"},
    "compatibility-evidence": {"scheduler", "warehouse", "owner"},
    "places": {"scheduler", "warehouse", "owner"},
    "lots": {"scheduler", "warehouse", "owner"},
    "movements": {"scheduler", "warehouse", "owner"},
    "pull-sheets": {"scheduler", "warehouse"},
    "remnants": {"scheduler", "warehouse"},
}
COMPUTES = ["compute/cuts", "compute/draw"]
READS = [
    *WRITES,
    "stock",
    "shortages",
    "rolls-to-settle",
    "boards/staging",
    "boards/progress",
]


@pytest.mark.parametrize("role", ROLES)
@pytest.mark.parametrize("path", READS)
def test_everybody_signed_in_reads(client_of, path, role):
    assert client_of(role).get(f"/api/v1/{path}/").status_code == 200


@pytest.mark.parametrize("path", READS)
def test_nobody_else_reads_or_writes(path):
    read, sent = APIClient().get(f"/api/v1/{path}/"), APIClient().post(f"/api/v1/{path}/", {})
    # RFC 9110, 15.5.6: what is not done here is not done for anybody, and `Allow` says what is.
    refused = 405 if "POST" not in sent.get("Allow", "POST") else 401
    for answer, status in ((read, 401), (sent, refused)):
        assert (answer.status_code, answer["Content-Type"]) == (status, "application/problem+json")


@pytest.mark.parametrize("role", ROLES)
@pytest.mark.parametrize(("path", "writers"), WRITES.items(), ids=WRITES)
def test_each_role_writes_what_is_its_own(client_of, path, writers, role):
    # An empty body: who may write is told what is wrong with it, who may not is refused before that.
    answer = client_of(role).post(f"/api/v1/{path}/", {})
    assert answer.status_code == (400 if role in writers else 403), answer.json()
    if role not in writers:
        assert f"you are signed in as {Person.Role(role).label.lower()}" in answer.json()["detail"]


@pytest.mark.parametrize("role", ROLES)
def test_a_detail_is_changed_by_the_office(client_of, role):
    answer = client_of(role).patch(f"/api/v1/details/{DetailFactory().pk}/", {"name": "bay"})
    assert answer.status_code == (200 if role in WRITES["details"] else 403), answer.json()


@pytest.mark.parametrize("role", ROLES)
@pytest.mark.parametrize("path", COMPUTES)
def test_everybody_signed_in_computes(client_of, path, role):
    assert client_of(role).post(f"/api/v1/{path}/", {}).status_code == 400
    assert client_of(role).get(f"/api/v1/{path}/").status_code == 405


@pytest.mark.parametrize("path", COMPUTES)
def test_nobody_else_computes(path):
    answer = APIClient().post(f"/api/v1/{path}/", {})
    assert (answer.status_code, answer["Content-Type"]) == (401, "application/problem+json")


@pytest.mark.parametrize("role", ["owner", "crew_lead"])
def test_loading_is_for_warehouse_and_scheduler(client_of, role):
    assert client_of(role).post("/api/v1/pull-sheets/1/load/", {}).status_code == 403


@pytest.mark.parametrize("role", ROLES)
def test_everybody_signed_in_reads_the_cautions_of_a_day(client_of, role):
    path = f"/api/v1/boards/cautions/?on={tomorrow()}"
    assert client_of(role).get(path).status_code == 200
    assert APIClient().get(path).status_code == 401
