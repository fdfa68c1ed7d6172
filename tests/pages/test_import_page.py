"""A firm that starts imports its jobs and crews from a spreadsheet: all of a list, or nothing."""

from __future__ import annotations

import re
from datetime import time
from html import unescape
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from jobs.models import Crew, Job
from jobs.services import set_company
from tests.factories import CrewFactory, JobFactory, tomorrow
from tests.openings.schedules.files import xlsx
from tests.pages.html import html_of

pytestmark = pytest.mark.django_db

JOBS = ["Job name", "Code", "Address", "Starts on", "Promised for", "Cut-off", "Time zone", "Latitude", "Roof"]
CREWS = ["Crew", "Size", "Truck", "Payload", "Days", "Experience", "Training"]


def act(client: Client, verb: str, **values: Any) -> HttpResponse:
    return client.post(reverse("import-page"), {"act": verb, **values}, follow=True)


def said(response: HttpResponse) -> str:
    return unescape(html_of(response))


def look(client: Client, kind: str, *rows: list[Any]) -> HttpResponse:
    head = JOBS if kind == "jobs" else CREWS
    return act(client, "look", kind=kind, file=SimpleUploadedFile(f"{kind}.xlsx", xlsx([head, *rows])))


def take(client: Client, kind: str, looked_at: HttpResponse) -> HttpResponse:
    lines = unescape(re.search(r'name="lines" value="([^"]*)"', looked_at.content.decode())[1])
    return act(client, "take", kind=kind, lines=lines)


def test_jobs_are_shown_then_added_and_what_is_not_given_is_the_company_s(scheduler: Client):
    set_company(name="Weir Windows", us_state="CO", time_zone="America/Chicago", default_cutoff=time(15, 30))
    looked_at = look(
        scheduler,
        "jobs",
        [
            "Weir Cottage",
            "",
            "2 Weir Lane",
            tomorrow(9),
            f"{tomorrow(40):%m/%d/%Y}",
            "1:15 PM",
            "Mountain Time",
            "",
            "",
        ],
        ["Quarry Row", "q-row", "40 Quarry Row", "", "", "", "", "", "flat"],
    )
    page = said(looked_at)
    assert "2 jobs read" in page
    assert "The column “Roof” was not read." in page
    assert "Cut-off: 1:15 PM" in page
    assert "Cut-off: 3:30 PM; Time zone: Central Time" in page
    assert not Job.objects.exists()
    assert "2 jobs added" in said(take(scheduler, "jobs", looked_at))
    first, other = Job.objects.order_by("-code")
    assert (first.code, first.cutoff, first.time_zone) == ("weir-cottage", time(13, 15), "America/Denver")
    assert (first.starts_on, first.promised_on) == (tomorrow(9), tomorrow(40))
    assert (other.code, other.cutoff, other.time_zone) == ("q-row", time(15, 30), "America/Chicago")


def test_crews_are_shown_then_added(scheduler: Client):
    looked_at = look(
        scheduler,
        "crews",
        ["Alder", 3, "Truck 1", "3,500", "Mon to Thu, Sat", "First time", "boom lift, lead-safe work"],
        ["Birch", 2, "Truck 2", "", "", "", ""],
    )
    assert "Days: Mon to Thu and Sat" in said(looked_at)
    assert "2 crews added" in said(take(scheduler, "crews", looked_at))
    alder, birch = Crew.objects.all()
    assert (alder.payload_lb, alder.weekdays, alder.experience) == (3500, "12346", "first time")
    assert alder.skills == ["boom lift", "lead-safe work"]
    assert (birch.weekdays, birch.experience, birch.payload_lb) == ("12345", "professional", None)


def faults_in(response: HttpResponse) -> list[tuple[str, ...]]:
    cell = r"<t[hd][^>]*>(?:<code>)?(.*?)(?:</code>)?</t[hd]>\s*"
    table = said(response).partition("Wrong cells")[2].partition("</table>")[0].partition("<tbody>")[2]
    return re.findall(rf"<tr>\s*{cell * 4}</tr>", table)


def test_everything_wrong_in_a_list_of_jobs_is_named_by_row_and_column(scheduler: Client):
    JobFactory(code="mill")
    starts, before = str(tomorrow(9)), str(tomorrow(8))
    page = look(
        scheduler,
        "jobs",
        ["Mill", "", "1 Mill Lane", "", "", "", "", "", ""],
        ["Weir", "weir", "", starts, before, "noon", "", "", ""],
        ["Weir", "weir", "2 Weir Lane", "soon", "", "", "Moon", 95, ""],
        ["Quay", "quay", "=1+1", "", "", "", "", "", ""],
        ["Yard", "yard", "5 Yard Lane", "", "", "", "", "", ""],
    )
    found = faults_in(page)
    assert [(row, column, value) for row, column, value, _ in found] == [
        ("2", "Code", "mill"),
        ("3", "Address", ""),
        ("3", "Cut-off", "noon"),
        ("3", "Promised for", before),
        ("4", "Code", "weir"),
        ("4", "Starts on", "soon"),
        ("4", "Time zone", "Moon"),
        ("4", "Latitude", "95"),
        ("5", "Address", ""),
    ], found
    details = " ".join(detail for *_, detail in found)
    for words in (
        "“weir” stands in row 3 already",
        "such as 2:00 PM",
        "before the job starts",
        "such as Mountain Time",
    ):
        assert words in details
    assert 'value="take"' not in said(page)
    assert said(page).count("cannot be taken") == 4
    assert Job.objects.count() == 1


def test_two_crews_on_one_truck_are_named(scheduler: Client):
    CrewFactory(name="Alder", truck="Truck 1")
    page = look(
        scheduler,
        "crews",
        ["Birch", 2, "truck 1", "", "", "", ""],
        ["Cedar", 2, "Truck 3", "", "", "", ""],
        ["Elm", 40, "TRUCK 3", "a lot", "most days", "some", ""],
    )
    found = faults_in(page)
    assert [(row, column) for row, column, *_ in found] == [
        ("2", "Truck"), ("4", "Truck"), ("4", "Size"), ("4", "Payload"), ("4", "Days"), ("4", "Experience"),
    ], found  # fmt: skip
    assert "Another crew in service has this truck" in found[0][3]
    assert "stands in row 3 already" in found[1][3]


@pytest.mark.parametrize("kind", ["jobs", "crews"])
def test_the_example_is_taken_as_it_stands(scheduler: Client, kind):
    example = scheduler.get(reverse("import-page"), {"example": kind})
    assert example.headers["Content-Disposition"] == f'attachment; filename="{kind}.csv"'
    file = SimpleUploadedFile(f"{kind}.csv", example.content)
    looked_at = act(scheduler, "look", kind=kind, file=file)
    assert "nothing is wrong in it" in said(looked_at), faults_in(looked_at)
    assert f"2 {kind} added" in said(take(scheduler, kind, looked_at))


@pytest.mark.parametrize("lines", ["{}", "[1]", '[[1, {"name": 2}]]', "no json", '[[2, {"name": "Mill"}]]'])
def test_lines_that_nobody_looked_at_are_refused(scheduler: Client, lines):
    assert act(scheduler, "take", kind="crews", lines=lines).status_code == 400
    assert not Crew.objects.exists()


def test_what_was_added_meanwhile_stops_the_whole_list(scheduler: Client):
    looked_at = look(scheduler, "crews", ["Alder", 3, "Truck 1", *[""] * 4], ["Birch", 3, "Truck 2", *[""] * 4])
    CrewFactory(name="Someone", truck="Truck 2")
    refused = take(scheduler, "crews", looked_at)
    assert refused.status_code == 400
    assert "Another crew in service has this truck" in said(refused)
    assert Crew.objects.count() == 1


@pytest.mark.parametrize(
    ("asked", "status"), [({"example": "windows"}, 400), ({}, 200)], ids=["unknown example", "no example"]
)
def test_an_unknown_example_is_refused_in_words(scheduler: Client, asked, status):
    assert scheduler.get(reverse("import-page"), asked).status_code == status


def test_only_the_office_imports(warehouse: Client):
    assert "The office enters jobs and crews" in said(warehouse.get(reverse("import-page")))
    assert act(warehouse, "look", kind="crews").status_code == 403
