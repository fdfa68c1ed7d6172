"""Every page, as everybody who opens it sees it, says dates, lengths, counts and names as an installer would."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import transaction
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from config import demo_content
from jobs.models import Crew, CrewDay, Job, Person
from jobs.queries import today_on_sites
from jobs.services import add_person
from materials import services as materials
from materials.models import Product, PullSheet
from materials.queries import stock_places
from openings import services as openings
from openings.calc.lay_order import StepCode
from openings.models import Assignment, Hold, InstallationDetail, State, WindowSchedule
from openings.queries import opening_list
from tests.factories import make_openings, make_remnant, make_sign_in
from tests.materials.rolls import make_loaded_roll, make_sheet
from tests.pages.acts import pages
from tests.pages.html import texts_of
from tests.pages.people import signed_in
from tests.pages.schedules import LONG_HEADING, schedules_of_every_kind
from tests.plain_words import faults

pytestmark = pytest.mark.django_db

NOBODY = ""
ROLES = (NOBODY, *Person.Role.values)
DAYS = 4


@pytest.fixture(scope="module")
def site(django_db_setup: None, django_db_blocker: pytest.FixtureRequest) -> Iterator[list[str]]:
    """The demo's jobs on a busy day, loaded once; the addresses of drafts of every kind."""
    with django_db_blocker.unblock(), transaction.atomic():
        demo_content.load(report=lambda _sentence: None)
        yield _busy_day()
        transaction.set_rollback(True)


def _busy_day() -> list[str]:
    """Have sheets written, loaded, revised and settled, and openings begun, held, measured and left behind."""
    make_sign_in(refused_count=3)
    office = Person.objects.filter(role=Person.Role.SCHEDULER).first()
    sheets = [sheet for crew in Crew.objects.all() for sheet in _written(crew)]
    for line in (first := sheets[0]).lines.filter(product__isnull=False)[:2]:
        materials.load_lines(sheet_id=first.pk, packages={line.pk: 1}, by=office)
    openings.withdraw(assignment_id=_assigned(sheets[1].crew_day).pk, by=office)
    _measure_and_begin(sheets[2], by=office)
    _leave_behind(first.crew_day.crew)
    _invite()
    return schedules_of_every_kind(Job.objects.get(code="quarry-row"))


def _invite() -> None:
    """Have people with a link that can be used, with one that has ended, and without an account in force."""
    for name, ends in (("new", 1), ("late", -1), ("gone", 1)):
        one = add_person(invited_by=None, username=name)
        one.invitations.update(expires_at=timezone.now() + timedelta(days=ends))
    Person.objects.filter(username="gone").update(is_active=False)


def _written(crew: Crew) -> list[PullSheet]:
    days = [day for day in crew.days.filter(on__gt=today_on_sites()).order_by("on") if _assigned(day)][:1]
    sheets = [materials.request_pull_sheet(crew_id=crew.pk, on=day.on, by=None) for day in days]
    for sheet in sheets:
        materials.write_pull_sheet(sheet_id=sheet.pk)
        sheet.refresh_from_db()
    return sheets


def _assigned(day: CrewDay) -> Assignment | None:
    return Assignment.objects.filter(crew_day=day, withdrawn_at=None).first()


def _measure_and_begin(sheet: PullSheet, *, by: Person) -> None:
    one = _assigned(sheet.crew_day).opening
    record = openings.start_install(opening_id=one.pk, by=by, other_day=True)
    openings.record_hours(record_id=record.pk, person="Ines", on=today_on_sites(), person_h=Decimal("2.5"), by=by)
    held = opening_list().ready().first()
    sides = {f"{name}_in": held.ro_width_in for name in ("width_top", "width_middle", "width_bottom")}
    sides |= {f"{name}_in": held.ro_height_in for name in ("height_left", "height_middle", "height_right")}
    diagonal_in = round((held.ro_width_in**2 + held.ro_height_in**2).sqrt(), 2)
    sides |= {"diagonal_rising_in": diagonal_in, "diagonal_falling_in": diagonal_in}
    sides |= {"right_out_of_plumb_in": Decimal("0.5"), "left_bow_in": Decimal("0.125")}
    openings.record_measurement(opening_id=held.pk, by=by, **sides)
    openings.place_hold(opening_id=held.pk, kind=Hold.Kind.WEATHER, reason="gale warning", by=by)


def _leave_behind(crew: Crew) -> None:
    """Leave an opening on a past day, whose truck took rolls along of which one is settled."""
    past = today_on_sites() - timedelta(days=2)
    day, _ = crew.days.get_or_create(on=past, defaults={"capacity_person_h": 24})
    (one,) = make_openings(1, job=Job.objects.first())
    Assignment.objects.create(opening=one, crew_day=day, person_h=3)
    sheet = make_sheet(day)
    strip = Product.objects.filter(measure="in").first()
    make_loaded_roll(sheet, strip, left_in=300)
    back = make_loaded_roll(sheet, strip, left_in=100, number=2)
    materials.settle_rolls(sheet_id=sheet.pk, came_back_in={back.pk: Decimal("99.5")}, by=None)
    make_remnant(strip, "310.5", reserved_for=crew.days.filter(on__gt=today_on_sites()).first())


def _of_each_state() -> list[str]:
    return [
        reverse("opening-page", args=[one.pk])
        for state in State.ALL
        for one in opening_list().in_state(state).order_by("pk")[:2]
    ]


def _days(name: str) -> list[str]:
    return [f"{reverse(name)}?on={today_on_sites() + timedelta(days=days)}" for days in range(-2, DAYS)]


def _of_jobs(name: str) -> list[str]:
    return [reverse(name, args=[job.pk]) for job in Job.objects.all()]


PAGES: dict[str, Callable[[list[str]], list[str]]] = {
    "search-page": lambda _: [f"{reverse('search-page')}?q={words}" for words in ("", "a", "1", "R1", "P1", "nowhere")],
    "first-steps-page": lambda _: [reverse("first-steps-page")],
    "office-page": lambda _: [reverse("office-page")],
    "account-page": lambda _: [reverse("account-page")],
    "sign-ins-page": lambda _: [reverse("sign-ins-page"), f"{reverse('sign-ins-page')}?name=nobody"],
    "people-page": lambda _: [reverse("people-page")],
    "person-page": lambda _: [reverse("person-page", args=[one.pk]) for one in Person.objects.all()],
    "company-page": lambda _: [reverse("company-page")],
    "calendar-page": lambda _: [reverse("calendar-page"), f"{reverse('calendar-page')}?year=2027"],
    "forecasts-page": lambda _: [reverse("forecasts-page")],
    "weather-limits-page": lambda _: [reverse("weather-limits-page")],
    "import-page": lambda _: [reverse("import-page")],
    "crews-page": lambda _: [reverse("crews-page")],
    "crew-new-page": lambda _: [reverse("crew-new-page")],
    "crew-page": lambda _: [reverse("crew-page", args=[crew.pk]) for crew in Crew.objects.all()],
    "job-new-page": lambda _: [reverse("job-new-page")],
    "job-edit-page": lambda _: _of_jobs("job-edit-page"),
    "jobs-page": lambda _: [reverse("jobs-page"), f"{reverse('jobs-page')}?show=archived"],
    "drives-page": lambda _: [reverse("drives-page")],
    "notices-page": lambda _: [reverse("notices-page")],
    "integrations-page": lambda _: [reverse("integrations-page")],
    "detail-page": lambda _: [reverse("detail-page", args=[one.pk]) for one in InstallationDetail.objects.all()],
    "edit-detail-page": lambda _: [
        reverse("edit-detail-page", args=[one.pk]) for one in InstallationDetail.objects.all()
    ],
    "detail-drawing": lambda _: [reverse("detail-drawing", args=[one.pk]) for one in InstallationDetail.objects.all()],
    "details-page": lambda _: _of_jobs("details-page"),
    "new-opening-page": lambda _: _of_jobs("new-opening-page"),
    "edit-opening-page": lambda _: [f"{address}edit/" for address in _of_each_state()],
    "labor-rates-page": lambda _: [reverse("labor-rates-page")],
    "job-page": lambda _: _of_jobs("job-page"),
    "units-page": lambda _: _of_jobs("units-page"),
    "readiness-page": lambda _: _of_jobs("readiness-page"),
    "deliveries-page": lambda _: [reverse("deliveries-page")],
    "job-draw-page": lambda _: _of_jobs("job-draw-page"),
    "job-takeoff-page": lambda _: _of_jobs("job-takeoff-page"),
    "crew-board-page": lambda _: [
        reverse("crew-board-page"),
        f"{reverse('crew-board-page')}?days=31&unfold=1&job={Job.objects.first().pk}",
    ],
    "crew-board-cells-page": lambda _: [
        f"{reverse('crew-board-cells-page')}?of={day.crew_id}-{day.on:%Y%m%d}" for day in CrewDay.objects.all()[:9]
    ],
    "crew-day-page": lambda _: [f"{reverse('crew-day-page')}?crew={crew.pk}" for crew in Crew.objects.all()],
    "staging-page": lambda _: _days("staging-page"),
    "remnants-page": lambda _: [reverse("remnants-page")],
    "progress-page": lambda _: [reverse("progress-page")],
    "opening-page": lambda _: _of_each_state(),
    "card-page": lambda _: [f"{address}card/" for address in _of_each_state()],
    "detail-card-page": lambda _: [
        reverse("detail-card-page", args=[one.pk]) for one in InstallationDetail.objects.order_by("pk")
    ],
    "products-page": lambda _: [f"{reverse('products-page')}{query}" for query in ("", "?q=strip", "?show=retired")],
    "new-product-page": lambda _: [reverse("new-product-page")],
    "starting-products-page": lambda _: [reverse("starting-products-page")],
    "product-list-page": lambda _: [reverse("product-list-page")],
    "product-page": lambda _: [reverse("product-page", args=[one.pk]) for one in Product.objects.all()],
    "standards-page": lambda _: [reverse("standards-page")],
    "detail-products-page": lambda _: [
        reverse("detail-products-page", args=[one.pk]) for one in InstallationDetail.objects.all()
    ],
    "compatibility-page": lambda _: [reverse("compatibility-page")],
    "stock-page": lambda _: [f"{reverse('stock-page')}?place={place.pk}" for place in stock_places()],
    "places-page": lambda _: [reverse("places-page")],
    "schedule-page": lambda _: _of_jobs("schedule-page"),
    "schedule-draft-page": lambda drafts: [address for address in drafts if "/drafts/" in address],
    "schedule-revision-page": lambda _: [
        reverse("schedule-revision-page", args=[one.job_id, one.revision]) for one in WindowSchedule.objects.all()
    ],
}
"""The addresses of each page that show all it can say."""

FOR_OWNERS = ("sign-ins-page",)
"""Pages that say to everybody else that they are for owners."""

WRONG = ["/jobs/999999/", "/boards/crews/?days=99", "/openings/999999/"]


def test_every_page_has_its_addresses():
    assert set(PAGES) == {name for name, _ in pages()}


@pytest.fixture(scope="module")
def codes(site: list[str]) -> list[str]:
    """Codes of steps and products that are no words by themselves; all have names."""
    named = {*StepCode, *Product.objects.values_list("code", flat=True)} - {StepCode.COUNTER_FLASHING}
    return [code for code in named if "-" in code]


@pytest.fixture(scope="module")
def clients(site: list[str]) -> dict[str, Client]:
    """Everybody's browser."""
    crew = Crew.objects.first()
    leads = {Person.Role.CREW_LEAD: {"crew": crew}}
    return {role: signed_in(role, **leads.get(role, {})) if role else Client() for role in ROLES}


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("role", ROLES, ids=lambda role: role or "nobody")
def test_a_page_says_nothing_that_no_installer_says(site, codes, clients, name, role):
    addresses = PAGES[name](site)
    assert addresses
    answered = 403 if name in FOR_OWNERS and role != Person.Role.OWNER else 200
    _require_plain(clients[role], addresses, codes=codes, status=302 if role == NOBODY else answered)


@pytest.mark.parametrize("role", ROLES, ids=lambda role: role or "nobody")
def test_what_is_wrong_is_said_as_plainly(site, codes, clients, role):
    _require_plain(clients[role], [*WRONG, "/login/"], codes=codes)


def _require_plain(client: Client, addresses: list[str], *, codes: list[str], status: int | None = None) -> None:
    found = []
    for address in addresses:
        answer = client.get(address)
        assert status in (None, answer.status_code), address
        texts = [text.replace(LONG_HEADING, "") for text in texts_of(answer)]
        found += [f"{address}: {fault}" for text in texts for fault in faults(text, codes=codes)]
    assert not found, "\n".join(dict.fromkeys(found))
