from __future__ import annotations

from datetime import UTC, datetime, time, timedelta

import pytest
from django.utils import timezone

from jobs.calc.notice import EventKind
from jobs.calc.say import day as say_day
from jobs.models import Event
from materials import services
from materials.calc.parts import Part
from materials.models import Product
from openings.models import Assignment
from openings.services import start_install
from tests.factories import CrewFactory, JobFactory, PersonFactory, make_catalogue, make_openings, make_stock, tomorrow
from tests.materials.crew_days import make_crew_day, written

pytestmark = pytest.mark.django_db


def told(kind: EventKind) -> list[str]:
    return [event.said for event in Event.objects.filter(kind=kind)]


def test_a_sheet_that_is_revised_after_loading_is_told_with_what_changed():
    for product in make_catalogue().values():
        make_stock(product, 50)
    day = make_crew_day()
    written(day)
    Assignment.objects.create(opening=make_openings(1)[0], crew_day=day, person_h=3)
    sheet = written(day)
    assert told(EventKind.SHEET_REVISED) == []
    line = sheet.lines.filter(product__isnull=False).first()
    services.load_line(sheet_id=sheet.pk, line_id=line.pk, packages=1, by=None)
    Assignment.objects.create(opening=make_openings(1)[0], crew_day=day, person_h=3)
    written(day)
    (said,) = told(EventKind.SHEET_REVISED)
    assert f"revision 3 of {day.crew} for {say_day(day.on)} was written after loading: " in said


def test_a_day_without_a_sheet_is_told_once_its_cutoff_is_past():
    job = JobFactory(cutoff=time(14))
    day = make_crew_day(job=job, on=tomorrow(2))
    cutoff = datetime.combine(tomorrow(1), time(14), tzinfo=UTC)
    assert services.tell_missing_sheets(now=cutoff + timedelta(minutes=9)) == 0
    assert services.tell_missing_sheets(now=cutoff + timedelta(minutes=11)) == 1
    assert services.tell_missing_sheets(now=cutoff + timedelta(minutes=12)) == 0
    assert told(EventKind.NO_SHEET)[0].startswith(f"{day.crew} has no pull sheet for {say_day(day.on)}")


def test_a_day_with_a_sheet_is_not_told():
    make_catalogue()
    day = make_crew_day(job=JobFactory(cutoff=time(14)), on=tomorrow(2))
    written(day)
    assert services.tell_missing_sheets(now=datetime.combine(tomorrow(1), time(15), tzinfo=UTC)) == 0


# Laid so many days ago, under a maker's limit of 30 days: told from the 25th to the 30th day, once
@pytest.mark.parametrize(("ago", "is_told"), [(24, False), (25, True), (30, True), (31, False)])
def test_what_must_be_covered_soon_is_told(ago, is_told):
    make_catalogue()
    Product.objects.filter(code=Part.SILL_STRIP.replace(" ", "-")).update(exposure_limit_days=30)
    (opening,) = make_openings(1)
    crew = CrewFactory()
    day = crew.days.create(on=tomorrow(0), capacity_person_h=24)
    Assignment.objects.create(opening=opening, crew_day=day, person_h=3)
    record = start_install(opening_id=opening.pk, by=PersonFactory(), other_day=True)
    laid_at = timezone.now() - timedelta(days=ago)
    record.steps.create(step="sill-strip", recorded_by=record.started_by, recorded_at=laid_at)
    now = timezone.now()
    assert (services.tell_cover_by(now=now), services.tell_cover_by(now=now)) == (int(is_told), 0)
    for said in told(EventKind.COVER_BY_NEAR):
        assert f"must be covered by {say_day((laid_at + timedelta(days=30)).date())}" in said
        assert "lie open for 30 days" in said
