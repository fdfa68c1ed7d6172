"""Uploading window schedules: taken, looked at first, refused."""

from __future__ import annotations

import hashlib
from datetime import UTC, datetime
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from openpyxl import Workbook

from openings.models import Opening, WindowSchedule
from tests.factories import DetailFactory
from tests.openings.api.clients import API, problem_of
from tests.openings.rows import schedule_of

SCHEDULES = f"{API}/schedules/"
GOOD = schedule_of("W1,2,36,54,", "W2,1,3'-0\",4'-6\",")


@pytest.fixture
def job(db):
    return DetailFactory(name="wall type 1").job


def upload(client, job, content: bytes, *, name: str = "windows.csv", **values):
    body = {"job": job.pk, "file": SimpleUploadedFile(name, content), **values}
    return client.post(SCHEDULES, body, format="multipart")


def workbook(*rows: list) -> bytes:
    book, file = Workbook(), BytesIO()
    for row in rows:
        book.active.append(row)
    book.save(file)
    return file.getvalue()


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("windows.csv", GOOD),
        ("WINDOWS.XLSX", workbook(["Mark", "Qty", "RO W", "RO H"], ["W1", 2, 36, 54], ["W2", 1, "3'-0\"", "4/6"])),
    ],
)
def test_a_schedule_is_taken_and_given_back_byte_for_byte(name, content, job, scheduler):
    taken = upload(scheduler, job, content, name=name)
    assert taken.status_code == 201, taken.json()
    schedule = taken.json()
    assert (schedule["revision"], schedule["openings_count"], schedule["filename"]) == (1, 3, name)
    assert schedule["sha256"] == hashlib.sha256(content).hexdigest()  # FIPS 180-4
    file = scheduler.get(f"{SCHEDULES}{schedule['id']}/file/")
    assert (file.content, file["Content-Disposition"]) == (content, f'attachment; filename="{name}"')
    found = scheduler.get(f"{API}/openings/?schedule={schedule['id']}").json()["results"]
    assert {(one["ro_width_in"], one["ro_height_in"]) for one in found} == {(36, 54)}


def test_a_dry_run_shows_what_the_real_run_makes_and_writes_nothing(job, scheduler):
    shown = upload(scheduler, job, GOOD, dry_run="true").json()
    assert not WindowSchedule.objects.exists()
    assert not Opening.objects.exists()
    upload(scheduler, job, GOOD)
    made = scheduler.get(f"{API}/openings/?job={job.pk}").json()["results"]
    same = ["mark", "ro_width_in", "ro_height_in", "unit_width_in", "unit_height_in", "operation", "floor", "remarks"]
    assert [[one[key] for key in same] for one in shown["openings"]] == [[one[key] for key in same] for one in made]
    assert [one["detail"] for one in shown["openings"]] == [one["detail_name"] for one in made]
    assert (shown["openings_count"], shown["new_details"]) == (3, [])
    assert shown["columns"]["ro_width_in"] == "RO width (column C)"


@pytest.mark.parametrize("dry_run", ["true", "false"])
def test_every_wrong_row_is_told_with_its_column_its_value_and_what_would_be_right(dry_run, job, scheduler):
    content = schedule_of("W1,1,36,54,", "W2,0,36,54,", "W3,1,wide,54,", "W1,1,36,481,", "W4,1,36,54,wall type 9")
    problem = problem_of(upload(scheduler, job, content, dry_run=dry_run), 400, "bad-schedule")
    assert [(fault["row"], fault["field"], fault["value"]) for fault in problem["errors"]] == [
        (3, "Qty", "0"),
        (4, "RO width", "wide"),
        (5, "Mark", "W1"),
        (5, "RO height", "481"),
        (6, "Detail", "wall type 9"),
    ]
    assert "from 1 to 999" in problem["errors"][0]["detail"]
    assert "wall type 1" in problem["errors"][4]["detail"]
    assert not Opening.objects.exists()


def test_the_same_file_is_a_conflict_in_both_runs(job, scheduler):
    upload(scheduler, job, GOOD)
    for dry_run in ("true", "false"):
        assert "windows.csv" in problem_of(upload(scheduler, job, GOOD, dry_run=dry_run), 409, "conflict")["detail"]


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("windows.csv", b" ", "Mark"),
        ("windows.xlsx", GOOD, "not a workbook"),
        ("windows.csv", workbook(["Mark"]), "zip or a workbook"),
        ("windows.pdf", b"%PDF-1.7", "PDF"),
        ("windows.csv", b"%PDF-1.7", "PDF"),
        ("windows.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "old .xls"),
        ("windows", GOOD, "neither .xlsx nor .csv"),
        ("windows.xlsx", b"PK\x03\x04" + b"\0" * 100, "damaged"),
        ("windows.csv", b"\0\xff" * 500, ""),
    ],
)
def test_a_file_that_is_no_schedule_is_refused_with_what_to_do(name, content, said, job, scheduler):
    assert said in problem_of(upload(scheduler, job, content, name=name), 400, "bad-schedule")["detail"]


def test_an_empty_file_and_a_missing_one_are_refused(job, scheduler):
    for body in ({"file": SimpleUploadedFile("windows.csv", b"")}, {"file": "windows.csv"}, {}):
        problem = problem_of(scheduler.post(SCHEDULES, {"job": job.pk, **body}, format="multipart"), 400, "invalid")
        assert [fault["field"] for fault in problem["errors"]] == ["file"]


@pytest.mark.parametrize("job_id", ["0", "9" * 30, "x"])
def test_a_schedule_needs_a_job(job_id, scheduler):
    file = SimpleUploadedFile("windows.csv", GOOD)
    response = scheduler.post(SCHEDULES, {"job": job_id, "file": file}, format="multipart")
    problem_of(response, *((400, "invalid") if job_id == "x" else (404, "not-found")))


class Unread(BytesIO):
    """A body that must not be read."""

    def read(self, *_args):
        raise AssertionError("the body was read")


def test_an_upload_of_200_mb_is_refused_by_its_size_before_it_is_read(scheduler):
    response = scheduler.generic(
        "POST",
        SCHEDULES,
        content_type="multipart/form-data; boundary=b",
        CONTENT_LENGTH=200_000_000,
        **{"wsgi.input": Unread()},
    )
    assert "190.7 MiB; at most 60 MiB" in problem_of(response, 413, "too-large")["detail"]


@pytest.mark.parametrize("media", ["application/json", "text/csv", "application/octet-stream"])
def test_a_schedule_comes_as_a_form(media, scheduler):
    problem_of(scheduler.generic("POST", SCHEDULES, GOOD, content_type=media), 415, "unsupported-media-type")


@pytest.mark.parametrize("name", ['a"b.csv', "größe.csv", "窗.csv", "a;b\\c.csv"])
def test_a_file_keeps_its_name_whatever_letters_it_has(name, job, scheduler):
    schedule = upload(scheduler, job, GOOD, name=name).json()
    disposition = scheduler.get(f"{SCHEDULES}{schedule['id']}/file/")["Content-Disposition"]
    # RFC 6266, section 4.3 and appendix D: quoted where ASCII will do, else percent-encoded UTF-8.
    assert disposition.startswith("attachment; filename")
    assert disposition.isascii()
    assert disposition.count('"') - disposition.count('\\"') in (0, 2)


def test_a_date_is_never_taken_for_a_size(job, scheduler):
    # A spreadsheet program turns 3/0 into a date; read as a size it would be a wrong window.
    content = workbook(["Mark", "Width", "Height"], ["W1", datetime(2027, 3, 1, tzinfo=UTC).replace(tzinfo=None), 54])
    (fault,) = problem_of(upload(scheduler, job, content, name="w.xlsx"), 400, "bad-schedule")["errors"]
    assert (fault["row"], fault["field"]) == (2, "Width")
    assert "format the column as text" in fault["detail"]
