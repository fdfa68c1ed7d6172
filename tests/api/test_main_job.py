"""The main job from end to end, over HTTP: a schedule file in, progress out."""

from __future__ import annotations

from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from openpyxl import load_workbook
from rest_framework.test import APIClient

from jobs.models import Person
from materials import services as materials
from tests.factories import CrewFactory, JobFactory, PersonFactory, make_catalogue, make_stock, tomorrow


@pytest.fixture
def scheduler() -> APIClient:
    return signed_in(PersonFactory(role=Person.Role.SCHEDULER))


def signed_in(person: Person) -> APIClient:
    client = APIClient()
    client.force_authenticate(person)
    return client


def schedule_file() -> SimpleUploadedFile:
    text = 'Mark,Qty,RO width,RO height,Detail\nW3,2,36,54,"flange over, wrap before"\n'
    return SimpleUploadedFile("windows.csv", text.encode())


@pytest.mark.django_db
def test_a_schedule_becomes_a_pull_sheet_an_install_and_progress(scheduler):
    job, crew = JobFactory(), CrewFactory()
    catalogue = make_catalogue(strip_width_in=12)
    make_stock(catalogue["sill strip"], 4)

    taken = scheduler.post("/api/v1/schedules/", {"job": job.pk, "file": schedule_file()}, format="multipart")
    assert taken.status_code == 201, taken.json()
    openings = scheduler.get(f"/api/v1/openings/?job={job.pk}").json()["results"]
    assert [opening["mark"] for opening in openings] == ["W3-01", "W3-02"]
    first = openings[0]["id"]

    draw = scheduler.get(f"/api/v1/openings/{first}/draw").json()
    # AAMA 2400-10 note 3: rough-opening width + 2 × strip width.
    assert [line["quantity"] for line in draw["lines"] if line["part"] == "sill strip"] == [36 + 2 * 12]
    assert scheduler.get(f"/api/v1/openings/{first}/labor").json()["total_person_h"] > 1

    asked = {"opening": first, "crew": crew.pk, "on": tomorrow()}
    assert scheduler.post("/api/v1/assignments/", asked).status_code == 201
    again = scheduler.post("/api/v1/assignments/", asked)
    assert again.status_code == 409, again.json()
    assert again["Content-Type"] == "application/problem+json"

    sheet = scheduler.post("/api/v1/pull-sheets/", {"crew": crew.pk, "on": tomorrow()})
    assert sheet.status_code == 202, sheet.json()
    materials.write_pull_sheet(sheet_id=sheet.json()["id"])
    written = scheduler.get(f"/api/v1/pull-sheets/{sheet.json()['id']}/").json()
    assert written["state"] == "written", written
    workbook = load_workbook(BytesIO(scheduler.get(f"/api/v1/pull-sheets/{written['id']}/workbook/").content))
    assert workbook.sheetnames[:6] == ["Cover", "Staging", "Tools", "Roll cuts", "Cuts", "Openings"]
    line = next(line for line in written["lines"] if line["product"]["code"] == "sill-strip")
    loaded = scheduler.post(f"/api/v1/pull-sheets/{written['id']}/load/", {"line": line["id"], "packages": 1})
    assert loaded.status_code == 200, loaded.json()

    lead = signed_in(PersonFactory(role=Person.Role.CREW_LEAD, crew=crew))
    ahead = {"opening": first, "other_day": True}
    record = lead.post("/api/v1/install-records/", ahead).json()
    steps = lead.get(f"/api/v1/openings/{first}/lay-order/").json()["steps"]
    refused = lead.post(f"/api/v1/install-records/{record['id']}/steps/", {"step": "head-strip"})
    assert refused.status_code == 409
    for step in steps:
        done = lead.post(f"/api/v1/install-records/{record['id']}/steps/", {"step": step["step"]})
        assert done.status_code == 201, done.json()
    hours = {"person": "Ines", "on": tomorrow(0), "person_h": 2.5}
    assert lead.post(f"/api/v1/install-records/{record['id']}/hours/", hours).status_code == 201
    assert lead.post(f"/api/v1/install-records/{record['id']}/done/").json()["done_at"]

    (progress,) = scheduler.get("/api/v1/boards/progress/").json()
    assert (progress["done_count"], progress["openings_count"]) == (1, 2)
    assert progress["recorded_person_h"] == 2.5
    for board in ("boards/crews", "boards/staging", "shortages", "stock"):
        assert scheduler.get(f"/api/v1/{board}/").status_code == 200
