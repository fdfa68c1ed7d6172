"""The staging board as a page: sheets, loading, cuts, shortages."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.urls import reverse

from materials import services as materials
from materials.calc.parts import Part
from materials.models import PullSheet, PullSheetLine
from openings import services as openings
from tests.factories import CrewFactory, make_catalogue, make_openings, make_stock, tomorrow

STAGING = reverse("staging-page")


def sheet_for(crew, *, count: int = 2) -> PullSheet:
    """Return the written sheet of a crew that sets some openings tomorrow."""
    assigned = [opening.pk for opening in make_openings(count)]
    openings.assign(opening_ids=assigned, crew_id=crew.pk, on=tomorrow(), by=None)
    sheet = materials.request_pull_sheet(crew_id=crew.pk, on=tomorrow(), by=None)
    materials.write_pull_sheet(sheet_id=sheet.pk)
    return sheet


def show(client) -> str:
    return client.get(STAGING, {"on": tomorrow()}).content.decode()


def line_of(sheet: PullSheet, part: Part) -> PullSheetLine:
    return sheet.lines.get(parts=part)


@pytest.mark.django_db
def test_a_line_says_packages_and_the_exact_length(warehouse):
    make_catalogue()
    sheet = sheet_for(CrewFactory())
    page = show(warehouse)
    assert f"{sheet.number}</b> revision 1" in page
    # AAMA 2400-10 note 3: two sill strips of 36 + 2 × 9 in are 9 ft.
    assert 'data-label="Exactly">9&#x27; 0&quot;</td>' in page
    assert "<b>1</b> roll" in page


@pytest.mark.django_db
def test_the_cuts_of_a_roll_are_drawn_with_opening_and_part(warehouse):
    make_catalogue()
    sheet = sheet_for(CrewFactory())
    cut = sheet.cuts.filter(part=Part.SILL_STRIP).first()
    assert f"<title>4&#x27; 6&quot;, {cut.opening.mark} sill strip, {cut.opening.job.code}</title>" in show(warehouse)


@pytest.mark.django_db
def test_what_is_loaded_moves_out_of_the_warehouse(warehouse):
    catalogue = make_catalogue()
    make_stock(catalogue[Part.SILL_STRIP], 4)
    sheet = sheet_for(CrewFactory())
    line = line_of(sheet, Part.SILL_STRIP)
    response = warehouse.post(STAGING, {"act": "load", "sheet": sheet.pk, f"line-{line.pk}": "1"}, follow=True)
    line.refresh_from_db()
    assert line.loaded_packages == 1
    assert "1 line saved" in response.content.decode()


@pytest.mark.django_db
def test_more_than_the_warehouse_holds_is_refused_and_nothing_of_the_form_is_lost(warehouse):
    catalogue = make_catalogue()
    for part in (Part.SILL_STRIP, Part.HEAD_STRIP):
        make_stock(catalogue[part], 2)
    sheet = sheet_for(CrewFactory())
    sill, head = line_of(sheet, Part.SILL_STRIP), line_of(sheet, Part.HEAD_STRIP)
    sent = {"act": "load", "sheet": sheet.pk, f"line-{sill.pk}": "1", f"line-{head.pk}": "3"}
    response = warehouse.post(f"{STAGING}?on={tomorrow()}", sent)
    page = response.content.decode()
    assert response.status_code == 409
    assert "holds 2 × head-strip; 3 cannot leave it" in page
    assert f'name="line-{sill.pk}" value="1"' in page
    assert f'name="line-{head.pk}" value="3"' in page
    assert not PullSheetLine.objects.filter(loaded_packages__isnull=False).exists()


@pytest.mark.django_db
@pytest.mark.parametrize("count", ["-1", "10000", "two"])
def test_a_count_that_is_none_is_refused(warehouse, count):
    make_catalogue()
    sheet = sheet_for(CrewFactory())
    line = line_of(sheet, Part.SILL_STRIP)
    response = warehouse.post(STAGING, {"act": "load", "sheet": sheet.pk, f"line-{line.pk}": count})
    assert response.status_code == 400


@pytest.mark.django_db
def test_what_the_warehouse_lacks_is_marked(warehouse):
    catalogue = make_catalogue()
    make_stock(catalogue[Part.SILL_STRIP], 1)
    sheet_for(CrewFactory())
    page = show(warehouse)
    assert page.count("short by") == PullSheetLine.objects.count() - 1


@pytest.mark.django_db
def test_a_sheet_can_be_asked_for_and_is_shown_as_being_written(warehouse, empty_broker):
    make_catalogue()
    crew = CrewFactory()
    openings.assign(opening_ids=[make_openings(1)[0].pk], crew_id=crew.pk, on=tomorrow(), by=None)
    response = warehouse.post(
        f"{STAGING}?on={tomorrow()}", {"act": "ask", "crew": crew.pk, "on": tomorrow()}, follow=True
    )
    page = response.content.decode()
    assert "revision 1 is being written" in page
    assert "data-waiting" in page
    assert PullSheet.objects.get().state == PullSheet.State.PENDING


@pytest.mark.django_db
def test_asking_again_says_that_nothing_has_changed(warehouse):
    make_catalogue()
    crew = CrewFactory()
    sheet_for(crew)
    response = warehouse.post(STAGING, {"act": "ask", "crew": crew.pk, "on": tomorrow()}, follow=True)
    assert "nothing has changed" in response.content.decode()
    assert PullSheet.objects.count() == 1


@pytest.mark.django_db
def test_a_sheet_for_a_day_with_nothing_assigned_clashes(warehouse):
    response = warehouse.post(STAGING, {"act": "ask", "crew": CrewFactory().pk, "on": tomorrow()})
    assert response.status_code == 409
    assert "nothing is assigned" in response.content.decode()


@pytest.mark.django_db
def test_a_day_without_sheets_says_so(warehouse):
    page = warehouse.get(STAGING, {"on": tomorrow() + timedelta(days=30)}).content.decode()
    assert "No opening is assigned" in page


@pytest.mark.django_db
@pytest.mark.parametrize("crews", [1, 4])
def test_staging_takes_as_many_queries_for_many_crews_as_for_one(warehouse, django_assert_num_queries, crews):
    make_stock(make_catalogue()[Part.SILL_STRIP], 1)
    for _ in range(crews):
        sheet_for(CrewFactory())
    # Session, person; crew days, their openings, sheets, lines, cuts, newest sheets; four of the shortages.
    with django_assert_num_queries(12):
        page = show(warehouse)
    assert page.count('class="truck"') == crews
