"""`ETag` and `If-Match`: nobody undoes what somebody else did since.

Source: RFC 9110, sections 8.8.3 (ETag), 13.1.1 (If-Match, strong comparison) and 15.5.13 (412).
"""

from __future__ import annotations

import pytest
from drf_spectacular.generators import SchemaGenerator

from jobs.models import Crew, CrewDay
from tests.api.writes import WRITES, caller, touch
from tests.factories import CrewFactory
from tests.materials.at_once import at_once
from tests.openings.api.clients import API, problem_of

OF_ONE_ROW = [name for name in WRITES if "{id}" in name]
TABLES = {
    "people": "jobs_person", "invitations": "jobs_invitation",
    "jobs": "jobs_job", "crews": "jobs_crew", "crew-days": "jobs_crewday", "company-days": "jobs_companyday",
    "forecasts": "jobs_siteforecast", "calendar-links": "jobs_calendarlink", "webhooks": "jobs_webhook",
    "details": "openings_installationdetail", "openings": "openings_opening", "holds": "openings_hold",
    "measurements": "openings_fieldmeasurement", "units": "openings_unit", "deliveries": "openings_delivery",
    "ready-rules": "openings_readyrules", "trades-before": "openings_tradebefore",
    "assignments": "openings_assignment", "install-records": "openings_installrecord",
    "callbacks": "openings_callback", "schedule-drafts": "openings_scheduledraft", "products": "materials_product",
    "detail-products": "materials_detailproduct", "compatibilities": "materials_compatibility",
    "places": "materials_place", "lots": "materials_lot", "pull-sheets": "materials_pullsheet",
    "remnants": "materials_remnant",
}  # fmt: skip


READS_ONE_ROW = {"POST /openings/{id}/copy/"}
"""What makes others of a row, and leaves the row itself."""


def address_of(operation: str, pk: int) -> str:
    return f"{API}/{operation.split('/')[1]}/{pk}/"


def test_every_operation_on_one_row_takes_a_version_and_the_document_says_so():
    paths = SchemaGenerator().get_schema(public=True)["paths"]
    found = {
        f"{method.upper()} {path.removeprefix(API)}": operation
        for path, methods in paths.items()
        for method, operation in methods.items()
        if "If-Match" in [parameter["name"] for parameter in operation.get("parameters", [])]
    }
    assert found.keys() == set(OF_ONE_ROW)
    assert all("412" in operation["responses"] for operation in found.values())
    for noun in TABLES:
        assert "ETag" in paths[f"{API}/{noun}/{{id}}/"]["get"]["responses"]["200"]["headers"], noun


@pytest.mark.django_db
@pytest.mark.parametrize("operation", OF_ONE_ROW)
def test_what_was_changed_since_it_was_read_is_not_written(operation):
    client, write = caller(), WRITES[operation]()
    address, table = address_of(operation, write.of), TABLES[operation.split("/")[1]]
    read = client.get(address)
    assert read["ETag"] == f'"{read.json()["updated_at"]}"'
    touch(table, write.of)
    changed = client.get(address)
    assert changed["ETag"] != read["ETag"]
    problem = problem_of(write.send(client, operation, **{"If-Match": read["ETag"]}), 412, "changed-meanwhile")
    assert problem["updated_at"] == changed.json()["updated_at"]
    assert problem["conflicts"][0]["id"] == write.of
    assert client.get(address).content == changed.content  # nothing of it was written
    done = write.send(client, operation, **{"If-Match": f'"other", {changed["ETag"]}'})
    assert 200 <= done.status_code < 300, done.content
    now = client.get(address)
    assert now.status_code == 404 or (now["ETag"] == changed["ETag"]) == (operation in READS_ONE_ROW)
    if done.content and "updated_at" in done.json() and done.json()["id"] == write.of:
        assert done["ETag"] == now["ETag"]


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("tag", "status"),
    [("*", 200), ("{}", 200), ('"x", {}', 200), ("W/{}", 412), ('"x"', 412), ("x", 400), ("", 400)],
    ids=["any", "this", "one of", "weak", "another", "no quotes", "empty"],
)
def test_a_tag_is_compared_strongly(tag, status):
    client, crew = caller(), CrewFactory()
    address = f"{API}/crews/{crew.pk}/"
    match = tag.replace("{}", client.get(address)["ETag"])
    assert client.patch(address, {"truck": "T9"}, headers={"If-Match": match}).status_code == status
    crew.refresh_from_db()
    assert (crew.truck == "T9") is (status == 200)


@pytest.mark.django_db
def test_what_changes_nothing_is_no_new_version_and_units_make_none():
    client, crew = caller(), CrewFactory(truck="T1")
    address = f"{API}/crews/{crew.pk}/"
    first = client.get(address)["ETag"]
    assert client.patch(address, {"truck": "T1"})["ETag"] == first
    assert client.get(f"{address}?units=metric")["ETag"] == first
    assert client.patch(address, {"truck": "T2"})["ETag"] != first


@pytest.mark.django_db
def test_a_row_that_is_not_there_is_not_found_whatever_is_to_match():
    problem_of(caller().patch(f"{API}/crews/1/", {"truck": "T"}, headers={"If-Match": '"x"'}), 404, "not-found")


@pytest.mark.django_db(transaction=True)
def test_of_two_who_change_the_same_version_at_once_one_is_told():
    client, crew = caller(), CrewFactory()
    address = f"{API}/crews/{crew.pk}/"
    match = {"If-Match": client.get(address)["ETag"]}
    works = [lambda truck=truck: client.patch(address, {"truck": truck}, headers=match) for truck in ("T1", "T2", "T3")]
    answers = at_once(*works)
    assert sorted(answer.status_code for answer in answers) == [200, 412, 412]
    (done,) = [answer for answer in answers if answer.status_code == 200]
    assert Crew.objects.get().truck == done.json()["truck"]
    assert client.get(address)["ETag"] == done["ETag"]


@pytest.mark.django_db(transaction=True)
def test_a_verb_with_locks_of_its_own_checks_the_version_after_them():
    client = caller()
    write = WRITES["POST /assignments/{id}/withdraw/"]()
    match = {"If-Match": client.get(f"{API}/assignments/{write.of}/")["ETag"]}
    answers = at_once(*[lambda: write.send(client, "POST /assignments/{id}/withdraw/", **match)] * 3)
    assert sorted(answer.status_code for answer in answers) == [200, 412, 412]
    assert CrewDay.objects.count() == 1
