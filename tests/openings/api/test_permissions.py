"""Who may do what: one row for every endpoint that writes."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from drf_spectacular.generators import SchemaGenerator

from jobs.models import CompanyDay, Person, Webhook
from jobs.services import make_calendar_link, renew_invitation
from jobs.urls import urlpatterns as of_jobs
from materials.urls import urlpatterns as of_materials
from openings.models import Delivery, ReadyRules, ScheduleDraft, SenderLayout, TradeBefore
from openings.urls import urlpatterns as of_openings
from tests.factories import CrewFactory, DetailFactory, JobFactory, PersonFactory, make_openings, tomorrow
from tests.openings.api.clients import API, problem_of, signed_in
from tests.openings.rows import live, make_assigned, schedule_of, start, take

OFFICE = {"scheduler", "owner"}
FIELD = {"scheduler", "crew_lead"}
BOTH = OFFICE | FIELD
STOCK = OFFICE | {"warehouse"}
EVERYBODY = {"scheduler", "owner", "crew_lead", "warehouse"}

WRITES = {
    "POST /jobs/": OFFICE,
    "PATCH /jobs/{id}/": OFFICE,
    "POST /jobs/{job_id}/close/": OFFICE,
    "POST /jobs/{job_id}/archive/": OFFICE,
    "POST /jobs/{job_id}/reopen/": OFFICE,
    "PATCH /jobs/{job_id}/drives/": OFFICE,
    "POST /crews/": OFFICE,
    "PATCH /crews/{id}/": OFFICE,
    "POST /crews/{crew_id}/retire/": OFFICE,
    "POST /crews/{crew_id}/return/": OFFICE,
    "PATCH /company/": OFFICE,
    "POST /company-days/": OFFICE,
    "PATCH /company-days/{id}/": OFFICE,
    "DELETE /company-days/{id}/": OFFICE,
    "POST /people/": OFFICE,
    "PATCH /people/{id}/": OFFICE,
    "POST /people/{id}/deactivate/": OFFICE,
    "POST /people/{id}/reactivate/": OFFICE,
    "POST /invitations/": OFFICE,
    "POST /invitations/{id}/take-back/": OFFICE,
    "POST /calendar-links/": OFFICE,
    "POST /calendar-links/{id}/address/": OFFICE,
    "POST /calendar-links/{id}/revoke/": OFFICE,
    "POST /webhooks/": OFFICE,
    "PATCH /webhooks/{id}/": OFFICE,
    "POST /webhooks/{id}/secret/": OFFICE,
    "POST /webhooks/{id}/stop/": OFFICE,
    "POST /webhooks/{id}/resume/": OFFICE,
    "PATCH /notice-choices/": EVERYBODY,
    "POST /crew-days/": OFFICE,
    "POST /crew-days/off/": OFFICE,
    "PATCH /crew-days/{id}/": OFFICE,
    "POST /forecasts/": OFFICE,
    "PATCH /forecasts/{id}/": OFFICE,
    "PATCH /weather-limits/": OFFICE,
    "DELETE /weather-limits/": OFFICE,
    "POST /schedules/": OFFICE,
    "POST /schedule-drafts/": OFFICE,
    "POST /schedule-drafts/{id}/settle/": OFFICE,
    "POST /schedule-drafts/{id}/take/": OFFICE,
    "POST /schedule-drafts/{id}/discard/": OFFICE,
    "POST /openings/": OFFICE,
    "PATCH /openings/{id}/": OFFICE,
    "POST /openings/{id}/void/": OFFICE,
    "POST /openings/{id}/restore/": OFFICE,
    "POST /openings/{id}/copy/": OFFICE,
    "PUT /labor-rates/{name}/": OFFICE,
    "DELETE /labor-rates/{name}/": OFFICE,
    "POST /compute/labor/": EVERYBODY,
    "POST /compute/lift/": EVERYBODY,
    "POST /compute/water-path/": EVERYBODY,
    "POST /measurements/": FIELD,
    "POST /measurements/{id}/accept/": BOTH,
    "POST /holds/": EVERYBODY,
    "PATCH /holds/{id}/": EVERYBODY,
    "POST /holds/many/": EVERYBODY,
    "POST /holds/{id}/release/": BOTH,
    "POST /holds/release-many/": BOTH,
    "POST /units/": STOCK,
    "PATCH /units/{id}/": STOCK,
    "POST /units/many/": STOCK,
    "POST /units/receive/": EVERYBODY,
    "POST /units/{id}/reorder/": STOCK,
    "POST /deliveries/": STOCK,
    "PATCH /deliveries/{id}/": STOCK,
    "POST /deliveries/{id}/receive/": EVERYBODY,
    "POST /ready-rules/": OFFICE,
    "PATCH /ready-rules/{id}/": OFFICE,
    "POST /trades-before/": OFFICE,
    "PATCH /trades-before/{id}/": OFFICE,
    "POST /assignments/": OFFICE,
    "POST /assignments/many/": OFFICE,
    "POST /assignments/move/": OFFICE,
    "POST /assignments/move-all/": OFFICE,
    "POST /assignments/undo/": OFFICE,
    "POST /assignments/{id}/withdraw/": OFFICE,
    "POST /install-records/": FIELD,
    "POST /install-records/{id}/steps/": FIELD,
    "POST /install-records/{id}/hours/": FIELD,
    "POST /install-records/{id}/done/": FIELD,
    "POST /callbacks/": BOTH,
    "PATCH /callbacks/{id}/": BOTH,
}
FOR_THE_OFFICE = {"people", "invitations", "calendar-links", "webhooks"}
"""What only the office reads; everybody reads the rest."""
OF_SIGNING_IN = ("/auth/", "/sign-ins/")
"""What is one's own, or the owner's alone: tests/jobs/test_sign_in_api.py."""

QUERIES = {"public-holidays": "?year=2026"}

ROWS: dict[str, Callable[[], Any]] = {
    "jobs": JobFactory,
    "crews": CrewFactory,
    "people": PersonFactory,
    "invitations": lambda: renew_invitation(person_id=PersonFactory().pk, by=PersonFactory(role="owner")),
    "calendar-links": lambda: make_calendar_link(job=JobFactory(), label="the builder", by=PersonFactory()).link,
    "webhooks": lambda: Webhook.objects.create(
        name=f"payroll {Webhook.objects.count()}", address="https://hooks.example.test/"
    ),
    "company-days": lambda: CompanyDay.objects.create(
        on=tomorrow(1 + CompanyDay.objects.count()), name="Inventory", confirmed_by=PersonFactory()
    ),
    "crew-days": lambda: CrewFactory().days.create(on=tomorrow(), capacity_person_h=8),
    "forecasts": lambda: JobFactory().forecasts.create(on=tomorrow(), low_f=40, high_f=60),
    "schedules": lambda: take(DetailFactory().job, schedule_of("W1,1,36,54,")),
    "schedule-drafts": lambda: ScheduleDraft.objects.create(
        job=JobFactory(), filename="windows.csv", content=b"Mark", sha256="0" * 64
    ),
    "schedule-layouts": lambda: SenderLayout.objects.create(job=JobFactory(), fingerprint="marks", layout={}),
    "openings": lambda: make_openings(1)[0],
    "measurements": lambda: make_openings(1)[0].measurements.create(
        **dict.fromkeys(["width_top_in", "width_middle_in", "width_bottom_in"], 36),
        **dict.fromkeys(["height_left_in", "height_middle_in", "height_right_in"], 54),
        **dict.fromkeys(["diagonal_rising_in", "diagonal_falling_in"], 65),
        is_within_tolerance=True,
        measured_by=PersonFactory(),
    ),
    "units": lambda: make_openings(1)[0].units.create(ordered_on=tomorrow(-2)),
    "deliveries": lambda: Delivery.objects.create(job=JobFactory(), supplier="Sash works"),
    "ready-rules": lambda: ReadyRules.objects.create(job=JobFactory(), units=True),
    "trades-before": lambda: TradeBefore.objects.create(job=JobFactory(), name="WRB"),
    "holds": lambda: make_openings(1)[0].holds.create(kind="access", reason="stairs"),
    "assignments": lambda: live(make_assigned()[0]),
    "install-records": lambda: start(make_assigned()[0]),
    "callbacks": lambda: make_openings(1)[0].callbacks.create(reported_on=tomorrow(0), complaint="whistles"),
}


@pytest.fixture(scope="module")
def operations() -> set[str]:
    """Every operation of the two floors, and of assignments above them, as the OpenAPI document names it."""
    of_assignments = [route for route in of_materials if str(route.pattern).startswith("^assignments/")]
    paths = SchemaGenerator(patterns=[*of_jobs, *of_openings, *of_assignments]).get_schema(public=True)["paths"]
    named = {f"{method.upper()} {path}" for path, methods in paths.items() for method in methods}
    return {operation for operation in named if not operation.split()[1].startswith(OF_SIGNING_IN)}


def address(path: str) -> str:
    """Return the path with the id of a row that stands."""
    noun = noun_of(path)
    path = path.replace("{name}", "pan")
    needs_row = "{" in path
    before, _, after = re.sub(r"{(job|crew)_id}", "{id}", path).partition("{id}")
    return f"{API}{before}{ROWS[noun]().pk}{after}" if needs_row else f"{API}{path}{QUERIES.get(noun, '')}"


def noun_of(path: str) -> str:
    return path.split("/")[1]


def person_of(role: str) -> Person:
    return PersonFactory(role=role)


def test_the_table_names_every_operation_that_writes(operations):
    assert {operation for operation in operations if not operation.startswith("GET ")} == WRITES.keys()


@pytest.mark.django_db
@pytest.mark.parametrize("operation", WRITES)
def test_a_write_is_for_its_roles_and_nobody_else(operation):
    method, path = operation.split()
    for role in Person.Role.values:
        response = getattr(signed_in(person_of(role)), method.lower())(address(path), {})
        if role in WRITES[operation]:
            assert response.status_code < 500, role
            told = response.json() if response.content else {}
            assert isinstance(told, list) or told.get("code") not in ("permission-denied", "not-authenticated"), role
        else:
            said = problem_of(response, 403, "permission-denied")["detail"]
            assert f"you are signed in as {Person.Role(role).label.lower()}" in said
    problem_of(getattr(signed_in(None), method.lower())(address(path), {}), 401, "not-authenticated")


@pytest.mark.django_db
def test_everybody_signed_in_reads_what_is_not_for_the_office_and_nobody_else_does(operations):
    reads = [operation.split()[1] for operation in operations if operation.startswith("GET ")]
    clients = [signed_in(person_of(role)) for role in Person.Role.values]
    for path in reads:
        at = address(path)
        readers = OFFICE if noun_of(path) in FOR_THE_OFFICE else EVERYBODY
        expected = [200 if role in readers else 403 for role in Person.Role.values]
        assert [client.get(at).status_code for client in clients] == expected, path
        problem_of(signed_in(None).get(at), 401, "not-authenticated")


@pytest.mark.django_db
def test_a_crew_lead_of_another_crew_is_refused():
    lead, other = PersonFactory(role="crew_lead"), PersonFactory(role="crew_lead")
    (opening,) = make_assigned(crew=lead.crew)
    refused = signed_in(other).post(f"{API}/install-records/", {"opening": opening.pk})
    problem_of(refused, 403, "not-allowed")
    ahead = {"opening": opening.pk, "other_day": True}
    assert signed_in(lead).post(f"{API}/install-records/", ahead).status_code == 201
