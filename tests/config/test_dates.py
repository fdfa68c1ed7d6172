"""Dates from outside: in the address of every page and endpoint, in bodies and forms, and rows from before."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import UTC, date, datetime
from html import unescape
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone
from drf_spectacular.generators import SchemaGenerator
from rest_framework.test import APIClient

from jobs.calc.horizon import PLAN
from jobs.models import CrewDay, Job, Person, SiteForecast
from materials.models import Lot, Product, PullSheet
from materials.tasks import send_due_pull_sheets
from materials.urls import pages as pages_of_materials
from openings.models import Assignment, Callback, HourRecord, InstallRecord, Opening
from openings.urls import pages as pages_of_openings
from tests.factories import CrewFactory, JobFactory, PersonFactory, make_catalogue, make_openings, tomorrow
from tests.materials.crew_days import make_crew_day, written
from tests.old_rows import rewrite
from tests.openings.api.clients import API, problem_of
from tests.openings.api.clients import signed_in as api_client
from tests.openings.rows import make_assigned, mark_finished, start
from tests.pages.html import html_of
from tests.pages.people import assign_form, signed_in

pytestmark = pytest.mark.django_db

ENDS = ("0001-01-01", "0001-01-07", "9999-12-25", "9999-12-31")
NASTY = (*ENDS, "10000-01-01", "-0001-01-01", "2027-02-29", "soon", "", "9" * 400, "9999-12-31T23:59:59-12:00", "%00")
IN_REACH = timezone.now().date()


PAGES = [str(pattern.pattern) for pattern in (*pages_of_openings, *pages_of_materials)]


@pytest.fixture(scope="module")
def date_parameters() -> list[tuple[str, str]]:
    """Path and name of every query parameter that the OpenAPI document calls a date or an instant."""
    document = SchemaGenerator().get_schema(public=True)
    return [
        (path, parameter["name"])
        for path, methods in document["paths"].items()
        for parameter in methods.get("get", {}).get("parameters", ())
        if parameter["in"] == "query" and parameter["schema"].get("format") in ("date", "date-time")
    ]


def address_of(route: str, named: Mapping[str, int | str]) -> str:
    """Return the address of a page of what is named in it."""
    return "/" + re.sub("<[a-z]+:([a-z_]+)>", r"{\1}", route).format_map(named)


@pytest.fixture
def rows() -> dict[str, int | str]:
    """One of everything that an address names, by the name that it has there."""
    make_catalogue()
    sheet = written(make_crew_day())
    opening = sheet.openings.get()
    return {
        "job_id": opening.job_id,
        "opening_id": opening.pk,
        "detail_id": opening.detail_id,
        "crew_id": sheet.crew_day.crew_id,
        "product_id": Product.objects.first().pk,
        "draft_id": 1,
        "revision": 1,
        "token": "none",
    }


def test_no_date_in_the_address_of_an_endpoint_is_our_fault(date_parameters, rows):
    assert {(f"{API}/boards/crews/", "first"), (f"{API}/crew-days/", "on__gte")} <= set(date_parameters)
    client = api_client(PersonFactory(role=Person.Role.OWNER))
    for path, name in date_parameters:
        for text in (*NASTY, IN_REACH.isoformat()):
            answer = client.get(path.format_map(rows), {name: text})
            assert answer.status_code in (200, 400), (path, name, text, answer.content)
            if answer.status_code == 400:
                code = "bad-input" if name == "changed_since" else "invalid"
                if text in ENDS and name in ("on", "first"):
                    code = "day-out-of-reach"
                (fault,) = problem_of(answer, 400, code)["errors"]
                assert fault["field"] == name


@pytest.mark.parametrize("route", PAGES)
def test_no_date_in_the_address_of_a_page_is_our_fault(route, date_parameters, rows):
    client = signed_in(Person.Role.OWNER)
    client.raise_request_exception = False
    address = address_of(route, rows)
    shown = client.get(address).status_code
    for name in sorted({name for _, name in date_parameters if "__" not in name}):
        for text in NASTY:
            answer = client.get(address, {name: text})
            assert answer.status_code in (shown, 400), (name, text)


@pytest.fixture
def scheduler() -> APIClient:
    return api_client(PersonFactory(role=Person.Role.SCHEDULER))


FAR, OLD, AHEAD = "9999-12-31", "0001-01-01", "too far ahead"
IN_3_YEARS, IN_11_YEARS, IN_3_DAYS = (str(tomorrow(days)) for days in (3 * 366, 11 * 366, 3))


@pytest.mark.parametrize(
    ("noun", "field", "on", "said"),
    [
        ("jobs", "starts_on", FAR, AHEAD),
        ("jobs", "starts_on", OLD, "too far back"),
        ("crew-days", "on", FAR, AHEAD),
        ("crew-days", "on", IN_3_YEARS, AHEAD),
        ("crew-days", "on", "1900-01-01", "too far back"),
        ("forecasts", "on", FAR, AHEAD),
        ("assignments", "on", FAR, AHEAD),
        ("assignments", "on", IN_3_YEARS, AHEAD),
        ("assignments", "on", "2019-05-06", "is past"),
        ("assignments/many", "on", FAR, AHEAD),
        ("pull-sheets", "on", FAR, AHEAD),
        ("pull-sheets", "on", OLD, "is past"),
        ("lots", "received_on", IN_3_DAYS, "has not come yet"),
        ("lots", "received_on", str(tomorrow(1)), "has not come yet"),
        ("lots", "received_on", OLD, "too far back"),
        ("lots", "expires_on", IN_11_YEARS, AHEAD),
        ("callbacks", "reported_on", str(tomorrow(1)), "has not come yet"),
        ("callbacks", "reported_on", FAR, "has not come yet"),
        ("callbacks", "resolved_on", IN_3_DAYS, "has not come yet"),
        ("install-records/{record}/hours", "on", str(tomorrow(1)), "has not come yet"),
        ("install-records/{record}/hours", "on", "1969-12-31", "too far back"),
    ],
)
def test_a_date_beyond_its_horizon_is_refused_with_field_value_and_range(noun, field, on, said, scheduler):
    bodies = bodies_of_everything()
    body = bodies[noun] | {field: on}
    counts = row_counts()
    answer = scheduler.post(f"{API}/{noun.format(record=InstallRecord.objects.get().pk)}/", body)
    problem = problem_of(answer, 400, "day-is-past" if said == "is past" else "day-out-of-reach")
    (fault,) = problem["errors"]
    assert (fault["field"], fault["value"]) == (field, on)
    assert said in fault["detail"]
    assert "give a day from " in fault["detail"]
    assert row_counts() == counts


def test_dates_within_their_horizon_are_taken(scheduler):
    record = {}
    for noun, body in bodies_of_everything().items():
        record = record or {"record": InstallRecord.objects.get().pk}
        answer = scheduler.post(f"{API}/{noun.format(**record)}/", body)
        assert answer.status_code in (201, 202), (noun, answer.json())


def bodies_of_everything() -> dict[str, dict[str, Any]]:
    """Return by noun a body that is taken; there is one install record."""
    product = make_catalogue()["sill strip"]
    (started,) = make_assigned(on=tomorrow(0))
    start(started)
    (one,), (two,), (three,) = make_openings(1), make_openings(1), make_assigned()
    crew = CrewFactory(people_count=20)
    today, last_year = str(tomorrow(0)), str(tomorrow(-365))
    return {
        "jobs": {"code": "new", "name": "New", "address": "1 Weir Lane", "starts_on": str(tomorrow(700))},
        "crew-days": {"crew": crew.pk, "on": str(tomorrow(20))},
        "forecasts": {"job": one.job_id, "on": str(tomorrow(3)), "low_f": 40, "high_f": 60},
        "assignments": {"opening": one.pk, "crew": crew.pk, "on": str(tomorrow(400))},
        "assignments/many": {"openings": [two.pk], "crew": crew.pk, "on": str(tomorrow(700))},
        "pull-sheets": {"crew": three.assignments.get().crew_day.crew_id, "on": str(tomorrow())},
        "lots": {"product": product.pk, "code": "L1", "received_on": last_year, "expires_on": str(tomorrow(3000))},
        "callbacks": {
            "opening": one.pk, "reported_on": last_year, "complaint": "it leaks", "resolved_on": today,
            "resolution": "dry",
        },
        "install-records/{record}/hours": {"person": "Ines", "on": today, "person_h": 2},
    }  # fmt: skip


def row_counts() -> list[int]:
    return [
        model.objects.count()
        for model in (Job, CrewDay, SiteForecast, Assignment, PullSheet, Lot, Callback, HourRecord)
    ]


@pytest.mark.parametrize("on", [FAR, IN_3_YEARS, "2019-05-06", "0001-01-01", "10000-01-01", "soon"])
def test_the_crew_board_says_what_is_wrong_with_a_day(on):
    client, crew = signed_in(Person.Role.SCHEDULER), CrewFactory()
    answer = client.post("/boards/crews/", assign_form(make_openings(1), crew) | {"on": on})
    assert answer.status_code == 400
    assert "give a day from" in html_of(answer) or "no day of the calendar" in html_of(answer)
    assert not Assignment.objects.exists()


@pytest.mark.parametrize("on", [FAR, "0001-01-01", "10000-01-01", "soon"])
def test_a_pull_sheet_of_a_day_beyond_the_horizon_cannot_be_asked_for(on):
    make_crew_day()
    client, crew = signed_in(Person.Role.WAREHOUSE), CrewFactory()
    answer = client.post("/boards/staging/", {"act": "ask", "crew": crew.pk, "on": on})
    assert answer.status_code == 400
    with pytest.raises(CommandError, match=r"give a day from|give year-month-day"):
        call_command("pull_sheets", f"--on={on}")


@pytest.mark.parametrize("address", ["/boards/crews/?first=9999-12-31", "/boards/staging/?on=0001-01-01"])
def test_a_page_that_shows_no_such_day_says_which_it_shows_and_leads_back(address):
    answer = signed_in(Person.Role.OWNER).get(address)
    page = html_of(answer)
    assert answer.status_code == 400
    assert "give a day from" in page
    assert f'href="{address.partition("?")[0]}"' in page


@pytest.mark.parametrize(("path", "name"), [("/boards/crews/", "first"), ("/boards/staging/", "on")])
def test_the_last_day_that_a_page_shows_leads_to_no_page_that_is_refused(path, name):
    client, today = signed_in(Person.Role.OWNER), timezone.now().date()
    for on in (PLAN.first(today), PLAN.last(today)):
        answer = client.get(path, {name: on})
        assert answer.status_code == 200
        led_to = re.findall(rf'href="([^"]*\?[^"]*{name}=\d[^"]*)"', html_of(answer))
        assert led_to
        assert {client.get(path + unescape(link)).status_code for link in led_to} == {200}


ENDS_OF_TIME = [date(1, 1, 1), date(9999, 12, 31)]


@pytest.fixture(params=ENDS_OF_TIME, ids=["year 1", "year 9999"])
def old_rows(request) -> Job:
    """Rows from before dates had bounds: every date that a row can have lies at an end of the calendar."""
    on = request.param
    at = datetime(on.year, 6, 1, 12, tzinfo=UTC)
    catalogue, by = make_catalogue(), PersonFactory()
    job = JobFactory()
    crew_day = make_crew_day(openings=3, job=job)
    sheet = written(crew_day)
    done, begun, _ = sheet.openings.order_by("pk")
    record = InstallRecord.objects.create(
        opening=done, crew=crew_day.crew, started_by=by, started_at=at, done_by=by, done_at=at
    )
    InstallRecord.objects.create(opening=begun, crew=crew_day.crew, started_by=by, started_at=at)
    mark_finished()
    HourRecord.objects.create(record=record, person="Ines", on=on, person_h=2)
    Callback.objects.create(opening=done, reported_on=on, complaint="it leaks")
    Lot.objects.create(product=catalogue["sill strip"], code="L1", received_on=on, expires_on=on)
    SiteForecast.objects.create(job=job, on=on, low_f=40, high_f=60)
    Job.objects.filter(pk=job.pk).update(starts_on=on)
    rewrite(CrewDay.objects.filter(pk=crew_day.pk), on=on)
    make_crew_day(on=on, crew=CrewFactory(weekdays="1"), job=job)
    make_openings(2, job=job)
    return job


def test_no_row_from_before_takes_a_page_away(old_rows):
    client = signed_in(Person.Role.OWNER)
    opening = Opening.objects.filter(job=old_rows, install_record__done_at__isnull=False).get()
    addresses = {
        "job_id": old_rows.pk,
        "opening_id": opening.pk,
        "detail_id": opening.detail_id,
        "crew_id": CrewDay.objects.first().crew_id,
        "product_id": 1,
        "draft_id": 1,
        "revision": 1,
        "token": "none",
    }
    for route in PAGES:
        answer = client.get(address_of(route, addresses))
        # Cells are asked for by name.
        assert answer.status_code in ((400,) if route == "boards/crews/cells/" else (200, 404)), route
    assert client.get("/crew-day/", {"crew": CrewDay.objects.first().crew_id}).status_code == 200


def test_no_row_from_before_takes_an_endpoint_away(old_rows):
    client = api_client(PersonFactory(role=Person.Role.OWNER))
    for path, methods in SchemaGenerator().get_schema(public=True)["paths"].items():
        if "get" in methods and "{" not in path:
            assert client.get(path).status_code in (200, 400), path


def test_one_job_with_dates_that_cannot_be_leaves_the_others_on_the_board(old_rows):
    make_crew_day(openings=2, job=JobFactory(name="Heron House"))
    page = html_of(signed_in(Person.Role.OWNER).get("/boards/progress/"))
    assert "Heron House" in page
    assert old_rows.name in page
    client = api_client(PersonFactory(role=Person.Role.OWNER))
    (bad, good) = client.get(f"{API}/boards/progress/").json()
    assert (bad["job"], good["ending"]["on"]) == (old_rows.pk, str(tomorrow()))


def test_no_row_from_before_stops_the_clock(old_rows):
    crew_day = make_crew_day(on=tomorrow(0))
    send_due_pull_sheets()
    assert PullSheet.objects.filter(crew_day=crew_day).exists()


def test_an_assignment_from_before_can_be_withdrawn(old_rows, scheduler):
    assignment = Assignment.objects.filter(opening__install_record__isnull=True).first()
    assert scheduler.post(f"{API}/assignments/{assignment.pk}/withdraw/").status_code == 200
