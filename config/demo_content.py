"""What the demo shows: an invented contractor's jobs, loaded by the code that users use."""

from __future__ import annotations

import json
import time
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import transaction
from django.utils.crypto import salted_hmac

from config import demo_office
from config.demo_database import require_empty_or_own
from config.models import DemoContent
from jobs import services as jobs
from jobs.calc import say
from jobs.calc.calendar import next_working_day
from jobs.calc.say import counted
from jobs.errors import Conflict
from jobs.models import Crew, Job, Person
from jobs.queries import days_off_of, is_worked, today_on_sites
from materials import services as materials
from materials import tasks
from materials.models import Lot, Place, Product, PullSheet
from openings import services as openings
from openings.calc.lay_order import steps_for
from openings.models import Hold, Opening
from openings.queries import opening_list

FIXTURES = Path(settings.BASE_DIR) / "fixtures"
DAYS_PLANNED = 3
DONE_TODAY = 3
LIFT_HELP = "one more from the yard comes along for the lifts"
"""Why units that take three people go to crews of two."""

WAIT_S = 180
PAUSE_S = 0.2

CREW_JOBS = {"Alder": "heron-house", "Birch": "quarry-row", "Cedar": "mill-lane", "Dogwood": "quarry-row"}

NO_COLUMNS = ("details", "schedule", "forecasts", "trades_before", "deliveries")
"""What a job of the fixture has besides its columns."""

Report = Callable[[str], None]


@transaction.atomic
def load(*, report: Report) -> dict[str, Any]:
    """Load the jobs under fixtures/ and plan the next days, once a database; return counts and logins.

    What somebody changed since, an emptied day or a password too, stays as it is.

    Raises:
        ServiceError: the database holds something that the demo did not put there.
    """
    require_empty_or_own()
    site = json.loads((FIXTURES / "site.json").read_text())
    _, is_first = DemoContent.objects.get_or_create(pk=1)  # a second demo waits here until the first has loaded all
    if is_first:
        _load_site(site, report=report)
    counts = {"jobs": Job.objects.count(), "openings": Opening.objects.count(), "crews": Crew.objects.count()}
    return {"counts": counts, "logins": _logins(site["people"])}


def _load_site(site: dict[str, Any], *, report: Report) -> None:
    jobs.set_company(**site["company"])
    for crew in site["crews"]:
        Crew.objects.create(**crew)
    _load_people(site["people"])
    _load_products(site["products"])
    scheduler, warehouse = (_first(role) for role in (Person.Role.SCHEDULER, Person.Role.WAREHOUSE))
    for job in site["jobs"]:
        demo_office.enter_job(_load_job(job, report=report), job, received_by=warehouse)
    demo_office.enter_days(site, by=scheduler)
    _record_a_morning(report=report)
    for crew in Crew.objects.all():
        _plan(crew, by=scheduler, report=report)


def _first(role: Person.Role) -> Person:
    return Person.objects.filter(role=role).earliest("pk")


def make_pull_sheets(*, folder: Path, report: Report) -> list[Path]:
    """Have the worker write each crew's next sheet, and return where the workbooks were put.

    A crew that has nothing to set, or a sheet that cannot be written, is reported and keeps no other waiting.

    Raises:
        TimeoutError: the worker did not write them in time.
    """
    asked = []
    for crew in Crew.objects.all():
        try:
            sheet = materials.request_pull_sheet(crew_id=crew.pk, on=_next_day(crew, after=today_on_sites()), by=None)
        except Conflict as conflict:
            report(conflict.detail)
            continue
        if sheet.state == PullSheet.State.PENDING:
            tasks.write_pull_sheet.delay(sheet.pk)
        asked.append(sheet.pk)
    report(f"Asked the worker for {counted(len(asked), 'pull sheet')}.")
    paths = []
    for sheet in _wait_for(asked):
        if sheet.state == PullSheet.State.FAILED or sheet.workbook is None:
            report(f"{sheet.crew_day}: {sheet.failure}")
            continue
        path = folder / f"{sheet.crew_day.on}-{sheet.crew_day.crew.name}-{sheet.filename}"
        path.write_bytes(bytes(sheet.workbook))
        report(f"{sheet.crew_day}: {path.name}")
        paths.append(path)
    return paths


def _wait_for(ids: list[int]) -> list[PullSheet]:
    deadline = time.monotonic() + WAIT_S
    sheets = PullSheet.objects.filter(pk__in=ids)
    while time.monotonic() < deadline:
        if not sheets.filter(state=PullSheet.State.PENDING).exists():
            return list(sheets.select_related("crew_day__crew"))
        time.sleep(PAUSE_S)
    raise TimeoutError(f"the worker did not write {counted(len(ids), 'pull sheet')} within {WAIT_S} seconds")


def _load_people(people: list[dict[str, Any]]) -> None:
    crews = {crew.name: crew for crew in Crew.objects.all()}
    for one in people:
        first_name, _, last_name = one["full_name"].partition(" ")
        Person.objects.create_user(
            username=one["username"],
            password=_password(one["username"]),
            role=one["role"],
            crew=crews.get(one["crew"]),
            first_name=first_name,
            last_name=last_name,
        )


def _logins(people: list[dict[str, Any]]) -> dict[str, dict[str, str]]:
    """Return one login a role, of the demo's people who still sign in with the password that they were given."""
    found = {person.username: person for person in Person.objects.filter(is_active=True)}
    logins: dict[str, dict[str, str]] = {}
    for username in (one["username"] for one in people):
        person, password = found.get(username), _password(username)
        if person and person.role not in logins and person.check_password(password):
            logins[person.role] = {"username": username, "password": password}
    return logins


def _password(username: str) -> str:
    """Return the password that somebody of the demo is given; it follows from the secret key."""
    return salted_hmac("demo login", username).hexdigest()[:12]


def _load_products(products: list[dict[str, Any]]) -> None:
    supplier = Place.objects.create(kind=Place.Kind.SUPPLIER, name="Supplier")
    warehouse = Place.objects.create(kind=Place.Kind.WAREHOUSE, name="Warehouse, Slatebrook")
    Place.objects.create(kind=Place.Kind.SCRAP, name="Scrap")
    for one in products:
        columns = {key: value for key, value in one.items() if key not in ("parts", "stock_packages", "remnants_in")}
        product = Product.objects.create(**columns)
        for part in one["parts"]:
            materials.choose_product(part=part, product=product)
        if one["stock_packages"]:
            lot = Lot.objects.create(product=product, code="opening stock", received_on=today_on_sites())
            materials.move(
                product=product,
                lot=lot,
                source=supplier,
                destination=warehouse,
                packages=one["stock_packages"],
                by=None,
                reason="opening stock",
            )
        product.refresh_from_db()  # its numbers are text as the file has them
        for length_in in one.get("remnants_in", []):
            materials.enter_remnant(product=product, length_in=Decimal(length_in), place=warehouse, by=None)


def _load_job(one: dict[str, Any], *, report: Report) -> Job:
    job = Job.objects.create(**{key: value for key, value in one.items() if key not in NO_COLUMNS})
    for detail in one["details"]:
        openings.add_detail(job=job, **detail)
    path = FIXTURES / one["schedule"]
    schedule = openings.import_schedule(job_id=job.pk, filename=path.name, content=path.read_bytes(), by=None)
    report(f"{job.name}: {counted(schedule.openings.count(), 'opening')} from {path.name}.")
    return job


def _next_day(crew: Crew, *, after: date) -> date:
    days = days_off_of([crew.pk])[crew.pk]
    return next_working_day(after, works=lambda on: is_worked(crew, on, days))


def _plan(crew: Crew, *, by: Person, report: Report) -> None:
    """Fill the crew's next days with what is ready on its job, as far as the hours go."""
    on = today_on_sites()
    for _ in range(DAYS_PLANNED):
        on = _next_day(crew, after=on)
        count = _fill(crew, on, by=by)
        report(f"{crew}: {counted(count, 'opening')} on {say.day(on)}.")


def _fill(crew: Crew, on: date, *, by: Person) -> int:
    ready = opening_list().ready().filter(job__code=CREW_JOBS[crew.name])
    count = 0
    for opening in ready.order_by("position"):
        try:
            openings.assign(opening_ids=[opening.pk], crew_id=crew.pk, on=on, by=by, short_crew_reason=LIFT_HELP)
        except Conflict:
            break
        count += 1
    return count


def _record_a_morning(*, report: Report) -> None:
    """Let the first crew finish some openings today, and hold one whose unit has not come."""
    lead = _first(Person.Role.CREW_LEAD)
    crew = Crew.objects.get(leads=lead)
    ready = list(opening_list().ready().filter(job__code=CREW_JOBS[crew.name])[: DONE_TODAY + 1])
    if not is_worked(crew, today_on_sites(), days_off_of([crew.pk])[crew.pk]):
        return
    for opening in ready[:DONE_TODAY]:
        openings.assign(opening_ids=[opening.pk], crew_id=crew.pk, on=today_on_sites(), by=None)
        _install(opening, by=lead)
    openings.place_hold(
        opening_id=ready[-1].pk, kind=Hold.Kind.UNIT_NOT_ON_SITE, reason="the delivery from the maker is late", by=lead
    )
    report(f"{crew}: {counted(DONE_TODAY, 'opening')} done today, one on hold.")


def _install(opening: Opening, *, by: Person) -> None:
    record = openings.start_install(opening_id=opening.pk, by=by)
    for step in steps_for(opening.detail.as_facts()):
        openings.record_step(record_id=record.pk, step=step.code, by=by)
    for person, person_h in (("Ivo", Decimal("1.75")), ("Wren", Decimal("1.5"))):
        openings.record_hours(record_id=record.pk, person=person, on=today_on_sites(), person_h=person_h, by=by)
    openings.finish_install(record_id=record.pk, by=by)
