"""Which issued sheets the minute looks at: those of which a row has changed, and in turns all."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from jobs.models import Crew, CrewDay, Job, Person, ShopWeatherLimits, SiteForecast
from materials import services
from materials.models import (
    Compatibility,
    DetailProduct,
    Evidence,
    Lot,
    Place,
    PlannedRoll,
    Product,
    PullSheet,
    PullSheetLine,
    Remnant,
)
from materials.plans.changes import reasons_to_revise
from materials.plans.compose import compose
from materials.queries import is_settled, rests_on
from materials.queries.rests_on import _RESTS_ON
from materials.services.request import LOOK_AGAIN_WITHIN
from openings.models import Assignment, Hold, InstallationDetail, InstallRecord, Opening, StepRecord
from tests.factories import JobFactory, PersonFactory, make_catalogue, make_openings, make_remnant, make_stock, tomorrow
from tests.materials.crew_days import make_crew_day, written
from tests.old_rows import rewrite

pytestmark = pytest.mark.django_db


def tick(minutes: float = 0) -> list[int]:
    return services.request_due_pull_sheets(now=timezone.now() + timedelta(minutes=minutes))


def issued(days: int) -> None:
    """Issue sheets for so many crew days, all of which say what is so."""
    job, now = JobFactory(), timezone.now()
    crew_days = [make_crew_day(job=job).pk for _ in range(days)]
    PullSheet.objects.bulk_create(
        PullSheet(crew_day_id=pk, state="written", requested_at=now, written_at=now, looked_at=now, workbook=b"x")
        for pk in crew_days
    )
    for crew_day, digest in rests_on(crew_days).items():
        PullSheet.objects.filter(crew_day=crew_day).update(rests_on=digest)


@pytest.mark.parametrize("days", [6, 60])
def test_the_minute_takes_as_many_queries_however_many_sheets_stand(django_assert_num_queries, days):
    issued(days)
    # The crew days, their sheets, past days with remnants, the digests; a savepoint, what waits, and its release.
    with django_assert_num_queries(7):
        assert tick() == []


def everything() -> CrewDay:
    """Return a crew day, its sheet issued, for which every table says something."""
    catalogue = make_catalogue()
    Product.objects.filter(code="flange-bead").update(chemistry="butyl", min_application_temp_f=Decimal(40))
    remnant = make_remnant(catalogue["sill strip"], 200)
    job = JobFactory(built_year=1950)
    crew_day = make_crew_day(openings=3, job=job, on=tomorrow(0))
    lead = PersonFactory(username="lead")
    lot = Lot.objects.create(
        product=catalogue["flange bead"], code="L-1", received_on=tomorrow(-90), expires_on=tomorrow(-9)
    )
    make_stock(catalogue["flange bead"], 3, lot=lot)
    job.forecasts.create(on=crew_day.on, low_f=30, high_f=60, wind_mph=30)
    ShopWeatherLimits.objects.create(
        pk=1, most_wind_mph=20, wind_source="plan", most_rain_in=Decimal("0.1"), rain_source="plan"
    )
    Compatibility.objects.create(chemistry="butyl", neighbor="epdm", verdict="not compatible", source="test")
    Evidence.objects.create(
        product=catalogue["flange bead"], neighbor=catalogue["sill strip"], verdict="compatible", document="letter",
        recorded_by=lead,
    )  # fmt: skip
    first, second, _ = Opening.objects.order_by("pk")
    DetailProduct.objects.create(detail=first.detail, part="shim", product=catalogue["shim"])
    Assignment.objects.filter(opening=first).update(short_crew_reason="the aid is there", short_crew_by=lead)
    record = InstallRecord.objects.create(opening=first, crew=crew_day.crew, started_by=lead, started_at=timezone.now())
    StepRecord.objects.create(record=record, step="measure", recorded_by=lead, recorded_at=timezone.now())
    Hold.objects.create(opening=second, kind=Hold.Kind.ACCESS, reason="no key")
    written(crew_day)
    assert Remnant.objects.get(pk=remnant.pk).reserved_for == crew_day
    return crew_day


def test_a_digest_knows_every_table_from_which_a_sheet_is_put_together():
    crew_day = everything()
    sheet = PullSheet.objects.get()
    with CaptureQueriesContext(
        connection,
    ) as captured:
        reasons_to_revise(sheet, compose(crew_day).basis)
        is_settled(sheet)
    read = {table for query in captured for table in re.findall(r'(?:FROM|JOIN) "(\w+)"', query["sql"])}
    assert {"materials_movement", "openings_steprecord", "jobs_shopweatherlimits"} <= read
    known = set(re.findall(r"(?:FROM|JOIN) ((?:jobs|openings|materials)_\w+)", _RESTS_ON))
    assert read <= known


def _choose(_day: CrewDay) -> None:
    DetailProduct.objects.filter(part="shim", detail=None).update(product=Product.objects.get(code="drip-cap"))


def _take_one_away(_day: CrewDay) -> None:
    lot = Lot.objects.get()
    source, destination = Place.objects.get(name="Warehouse"), Place.objects.get(name="Supplier")
    lot.product.movements.create(source=source, destination=destination, packages=1, lot=lot)


def _record(_day: CrewDay) -> None:
    before = Evidence.objects.get()
    Evidence.objects.create(
        product=before.product, neighbor=before.neighbor, verdict="not compatible", document="field test",
        recorded_by=before.recorded_by,
    )  # fmt: skip


CHANGES: dict[str, Callable[[CrewDay], object]] = {
    "crew day": lambda day: CrewDay.objects.filter(pk=day.pk).update(capacity_person_h=16),
    "crew": lambda _: Crew.objects.update(people_count=2),
    "opening": lambda _: Opening.objects.filter(pk=Opening.objects.first().pk).update(remarks="tempered"),
    "void": lambda _: Opening.objects.filter(pk=Opening.objects.last().pk).update(is_void=True, is_finished=True),
    "detail": lambda _: InstallationDetail.objects.update(pan_turn_up_in=4),
    "job": lambda _: Job.objects.update(address="6 Weir Lane"),
    "assigned": lambda day: make_crew_day(crew=day.crew, on=day.on),
    "hours": lambda _: Assignment.objects.update(person_h=4),
    "withdrawn": lambda _: Assignment.objects.update(withdrawn_at=timezone.now()),
    "decision": lambda _: Assignment.objects.filter(short_crew_reason="").update(
        short_crew_reason="strong", short_crew_by=Person.objects.get(username="lead")
    ),
    "name of who decided": lambda _: Person.objects.update(first_name="Ann"),
    "held": lambda _: Hold.objects.create(opening=Opening.objects.first(), kind=Hold.Kind.OTHER, reason="wet"),
    "released": lambda _: Hold.objects.all().delete(),
    "begun": lambda _: InstallRecord.objects.update(started_at=timezone.now() - timedelta(days=1)),
    "step": lambda _: StepRecord.objects.update(recorded_at=timezone.now() - timedelta(days=2)),
    "step taken back": lambda _: StepRecord.objects.all().delete(),
    "forecast": lambda _: SiteForecast.objects.update(wind_mph=10),
    "forecast gone": lambda _: SiteForecast.objects.all().delete(),
    "limits": lambda _: ShopWeatherLimits.objects.update(most_wind_mph=25),
    "standard": _choose,
    "own choice": lambda _: DetailProduct.objects.filter(detail__isnull=False).delete(),
    "product": lambda _: Product.objects.filter(code="shim").update(name="Shim pack"),
    "compatibility": lambda _: Compatibility.objects.update(verdict="compatible"),
    "evidence": _record,
    "lot expires": lambda _: Lot.objects.update(expires_on=tomorrow(9)),
    "lot moved": _take_one_away,
    "place": lambda _: Place.objects.filter(name="Warehouse").update(name="Yard"),
    "remnant gone": lambda _: Remnant.objects.update(reserved_for=None),
    "roll came back": lambda _: PlannedRoll.objects.filter(remnant=None).update(came_back_in=0),
    "loaded": lambda _: PullSheetLine.objects.update(loaded_packages=1),
    "listed": lambda _: PullSheet.openings.through.objects.all().delete(),
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_a_digest_changes_with_every_row(change):
    crew_day = everything()
    before = rests_on([crew_day.pk])
    assert rests_on([crew_day.pk]) == before
    change(crew_day)
    assert rests_on([crew_day.pk]) != before


def test_a_digest_stays_whatever_happens_elsewhere():
    crew_day = everything()
    before = rests_on([crew_day.pk])
    make_crew_day(openings=2, job=JobFactory(code="elsewhere"))
    make_openings(2)
    JobFactory().forecasts.create(on=crew_day.on, low_f=30, high_f=60)
    Person.objects.update(last_login=timezone.now())
    PullSheet.objects.update(sent_at=timezone.now())
    CrewDay.objects.select_for_update().get(pk=crew_day.pk)
    assert rests_on([crew_day.pk]) == before


@pytest.mark.parametrize(
    "change", ["crew", "opening", "job", "assigned", "held", "forecast", "product", "remnant gone"]
)
def test_the_next_minute_finds_what_changed(change):
    crew_day = everything()
    assert tick() == []
    assert tick(1) == []
    CHANGES[change](crew_day)
    (sent,) = tick(2)
    services.write_pull_sheet(sheet_id=sent)
    revised = PullSheet.objects.get(pk=sent)
    assert (revised.revision, revised.state) == (2, "written")
    assert revised.changes
    assert tick(3) == []


def test_what_no_row_says_is_found_within_the_hour():
    crew_day = make_crew_day()
    issued_sheet = written(crew_day)
    assert tick() == []
    # As if a release had it computed otherwise.
    basis = issued_sheet.basis
    basis["topics"]["day"]["day"]["truck"] = "Truck 0"
    PullSheet.objects.update(basis=basis)
    assert tick(1) == []
    assert len(tick(LOOK_AGAIN_WITHIN / timedelta(minutes=1))) == 1


def test_sheets_are_looked_at_again_in_turns():
    for _ in range(3):
        written(make_crew_day())
    assert tick() == []
    half = LOOK_AGAIN_WITHIN / timedelta(minutes=1) / 2
    looked_at = set(PullSheet.objects.values_list("looked_at", flat=True))
    for minute in range(4):
        assert tick(half + minute) == []
        again = PullSheet.objects.exclude(looked_at__in=looked_at).count()
        assert again == min(minute + 1, 3)


def test_a_history_that_is_rewritten_is_seen_too():
    crew_day = everything()
    before = rests_on([crew_day.pk])
    rewrite(PullSheet.objects.all(), state="failed", failure="nobody knows")
    assert rests_on([crew_day.pk]) != before
