"""The schedule of a job with its status, as it is downloaded."""

from __future__ import annotations

import csv
from io import BytesIO, StringIO
from typing import Any

import pytest
from openpyxl import load_workbook
from rest_framework.test import APIClient

from openings import services
from openings.models import Hold, Opening
from tests.factories import CrewFactory, JobFactory, make_openings, tomorrow
from tests.openings.api.clients import API, problem_of
from tests.openings.rows import finish, live, make_assigned, start

QUERIES = 3
KINDS = ["xlsx", "csv"]


def lines_of(client: APIClient, job_id: int, kind: str = "csv") -> list[dict[str, Any]]:
    """Return the rows of a download by heading, as text."""
    response = client.get(f"{API}/jobs/{job_id}/schedule.{kind}")
    assert response.status_code == 200
    if kind == "csv":
        return list(csv.DictReader(StringIO(response.content.decode("utf-8-sig"), newline="")))
    headings, *rows = load_workbook(BytesIO(response.content)).active.iter_rows(values_only=True)
    return [
        {heading: "" if cell is None else str(cell) for heading, cell in zip(headings, row, strict=True)}
        for row in rows
    ]


@pytest.mark.parametrize(
    ("kind", "media_type"),
    [("xlsx", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"), ("csv", "text/csv")],
)
@pytest.mark.parametrize("accept", ["*/*", "text/csv", "application/json", "image/png"])
def test_the_address_names_the_kind_of_file_whatever_is_accepted(kind, media_type, accept, scheduler):
    (opening,) = make_openings(1, job=JobFactory(code="heron-house"))
    response = scheduler.get(f"{API}/jobs/{opening.job_id}/schedule.{kind}", HTTP_ACCEPT=accept)
    assert (response.status_code, response["Content-Type"].partition(";")[0]) == (200, media_type)
    assert response["Content-Disposition"] == f'attachment; filename="heron-house-window-schedule.{kind}"'


@pytest.mark.parametrize("kind", KINDS)
def test_a_job_that_is_not_there_is_a_problem(kind, scheduler):
    refused = scheduler.get(f"{API}/jobs/987654321/schedule.{kind}", HTTP_ACCEPT="text/csv")
    assert "no job 987654321" in problem_of(refused, 404, "not-found")["detail"]


@pytest.mark.parametrize("kind", KINDS)
def test_a_job_without_openings_has_headings_alone(kind, scheduler):
    assert lines_of(scheduler, JobFactory().pk, kind) == []


@pytest.mark.parametrize("kind", KINDS)
def test_openings_stand_in_the_order_of_the_job_without_void_ones_and_those_of_others(kind, scheduler):
    make_openings(1)
    job = JobFactory()
    for place, mark in enumerate(["W9", "W1", "W5"]):
        make_openings(1, job=job, mark=mark, position=place)
    Opening.objects.filter(job=job, mark="W1").update(is_void=True, is_finished=True)
    assert [(line["Opening mark"], line["Quantity"]) for line in lines_of(scheduler, job.pk, kind)] == [
        ("W9", "1"),
        ("W5", "1"),
    ]


@pytest.mark.parametrize("kind", KINDS)
def test_each_opening_says_where_it_stands(kind, scheduler):
    job, crew = JobFactory(), CrewFactory(name="North", people_count=20)
    make_openings(1, job=job, mark="ready", position=1)
    (held,) = make_openings(1, job=job, mark="held", position=2)
    for hold in (Hold.Kind.NOT_MEASURED, Hold.Kind.ACCESS):
        services.place_hold(opening_id=held.pk, kind=hold, reason="it is", by=None)
    (assigned,) = make_assigned(job=job, mark="assigned", position=3, crew=crew)
    (done,) = make_assigned(job=job, mark="done", position=4, crew=crew)
    finish(start(done))
    found = {line.pop("Opening mark"): line for line in lines_of(scheduler, job.pk, kind)}
    day, hours = str(tomorrow()), f"{live(assigned).person_h.normalize():f}"
    assert {mark: line["Status"] for mark, line in found.items()} == {
        "ready": "ready", "held": "on hold", "assigned": "assigned", "done": "done",
    }  # fmt: skip
    assert [found["ready"][heading] for heading in ("Crew", "Crew day", "Hours planned", "Holds")] == [""] * 4
    assert found["held"]["Holds"] == "not measured, access"
    assert (found["assigned"]["Crew"], found["assigned"]["Crew day"][:10]) == ("North", day)
    assert found["assigned"]["Hours planned"] == hours


def test_released_holds_and_withdrawn_assignments_are_past(scheduler):
    (opening,) = make_assigned()
    opening.holds.create(
        kind="access", reason="stairs", released_at="2026-03-02T09:00Z", released_by=start(opening).started_by
    )
    opening.assignments.update(withdrawn_at="2026-03-02T09:00Z")
    (line,) = lines_of(scheduler, opening.job_id)
    assert (line["Crew"], line["Crew day"], line["Hours planned"], line["Holds"]) == ("", "", "", "")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("size", [1, 15])
def test_a_download_takes_three_queries_however_many_openings(kind, size, scheduler, django_assert_num_queries):
    openings = make_assigned(size)
    for opening in openings:
        services.place_hold(opening_id=opening.pk, kind=Hold.Kind.ACCESS, reason="stairs", by=None)
    make_openings(1, job=openings[0].job)
    with django_assert_num_queries(QUERIES):
        assert len(lines_of(scheduler, openings[0].job_id, kind)) == size + 1
