"""The staging board as a page: sheets, loading, cuts, shortages."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from django.urls import reverse

from jobs.models import Job
from materials import services as materials
from materials.calc.parts import Part
from materials.models import Place, PlannedRoll, Product, PullSheet, PullSheetLine, Remnant
from openings import services as openings
from tests.factories import CrewFactory, make_catalogue, make_openings, make_remnant, make_stock, tomorrow
from tests.pages.html import html_of

STAGING = reverse("staging-page")


def sheet_for(crew, *, count: int = 2) -> PullSheet:
    """Return the written sheet of a crew that sets some openings tomorrow."""
    assigned = [opening.pk for opening in make_openings(count)]
    openings.assign(opening_ids=assigned, crew_id=crew.pk, on=tomorrow(), by=None)
    sheet = materials.request_pull_sheet(crew_id=crew.pk, on=tomorrow(), by=None)
    materials.write_pull_sheet(sheet_id=sheet.pk)
    return sheet


def show(client) -> str:
    return html_of(client.get(STAGING, {"on": tomorrow()}))


def roll_of(sheet: PullSheet, part: Part) -> PlannedRoll:
    return sheet.rolls.filter(cuts__part=part).distinct().get()


def put_on_remnant(sheet: PullSheet, product: Product, *, length_in: int) -> Remnant:
    """Return a remnant of the product from which the sheet cuts one more strip."""
    place, _ = Place.objects.get_or_create(kind=Place.Kind.WAREHOUSE, name="North shelf")
    remnant = Remnant.objects.create(product=product, length_in=length_in, place=place)
    roll = sheet.rolls.create(product=product, number=9, remnant=remnant, length_in=length_in, left_in=length_in - 54)
    opening = sheet.openings.first()
    roll.cuts.create(place_in_roll=1, opening=opening, part=Part.SILL_STRIP, length_in=54)
    return remnant


def line_of(sheet: PullSheet, part: Part) -> PullSheetLine:
    return sheet.lines.get(parts=part)


@pytest.mark.django_db
def test_a_line_says_packages_and_the_exact_length(warehouse):
    make_catalogue()
    sheet = sheet_for(CrewFactory())
    page = show(warehouse)
    assert f"{sheet.number}</b> revision 1" in page
    # AAMA 2400-10 note 3: two sill strips of 36 + 2 × 9 in are 9 ft.
    assert 'data-label="Exact quantity">9&#x27; 0&quot;</td>' in page
    assert "<b>1</b> roll" in page


@pytest.mark.django_db
def test_when_a_sheet_was_written_is_said_by_the_clock_of_its_job(warehouse):
    make_catalogue()
    sheet = sheet_for(CrewFactory())
    Job.objects.update(time_zone="America/Denver")
    PullSheet.objects.filter(pk=sheet.pk).update(written_at=datetime(2026, 11, 29, 1, 5, tzinfo=UTC))
    # IANA: America/Denver is UTC−7 in November.
    assert "issued Sat, Nov 28 at 6:05 PM" in show(warehouse)


@pytest.mark.django_db
def test_the_cuts_of_a_roll_are_drawn_with_opening_and_part(warehouse):
    make_catalogue()
    roll = roll_of(sheet_for(CrewFactory()), Part.SILL_STRIP)
    page = show(warehouse)
    for cut in roll.cuts.all():
        mark = cut.opening.mark
        assert page.count(f"<title>4&#x27; 6&quot;, {mark} sill strip</title>") == 1
        assert f'<text x="4" y="11">{mark}</text><text x="4" y="21" class="for">sill strip</text>' in page
    # Two strips of 54 in leave 792 in of a roll of 900 in.
    first, second = (cut.opening.mark for cut in roll.cuts.all())
    assert (
        f'aria-label="new roll 1: 4&#x27; 6&quot; {first} sill strip; 4&#x27; 6&quot; {second} sill strip; '
        "66&#x27; 0&quot; left, bring it back"
    ) in page


@pytest.mark.django_db
def test_pieces_lie_to_scale(warehouse):
    make_catalogue()
    sheet_for(CrewFactory())
    # 54 in are 6 % of 900 in.
    assert '<svg x="6%" width="6%" height="76" class="slim">' in show(warehouse)


@pytest.mark.django_db
def test_a_remnant_is_named_with_its_place_and_shorter_than_a_roll(warehouse):
    catalogue = make_catalogue()
    sheet = sheet_for(CrewFactory())
    remnant = put_on_remnant(sheet, catalogue[Part.SILL_STRIP], length_in=450)
    page = show(warehouse)
    assert f"<b>remnant {remnant.code}</b> <small>37&#x27; 6&quot;, North shelf</small>" in page
    assert '<rect class="whole" width="50%" height="76"/>' in page


@pytest.mark.django_db
def test_a_line_names_the_remnants_to_take_along_and_new_rolls_are_counted_from_one(warehouse):
    # Of two strips of 54 in one comes from 60 in, so that the remnant is used.
    remnant = make_remnant(make_catalogue()[Part.SILL_STRIP], 60)
    sheet = sheet_for(CrewFactory())
    page = show(warehouse)
    assert f"and remnant {remnant.code} (5&#x27; 0&quot;)" in page
    assert page.count("and remnant") == 1
    of_product = page.partition("<figcaption>sill-strip ")[2].partition("</figure>")[0]
    assert '<span class="verdict">1 roll; no plan needs fewer</span>' in of_product
    labels = [piece.partition(":")[0] for piece in of_product.split('aria-label="')[1:]]
    assert labels == [f"remnant {remnant.code}", "new roll 1"]
    rolls = sheet.rolls.filter(product=remnant.product)
    assert list(rolls.values_list("number", "remnant")) == [(1, remnant.pk), (2, None)]


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("left_in", "said"),
    [
        ("24", "2&#x27; 0&quot; left, bring it back"),
        ("23.5", "1&#x27; 11 1/2&quot; scrap"),
        ("0", "nothing left"),
    ],
    ids=["as short as is kept", "too short", "none"],
)
def test_what_is_left_is_offered_for_return_from_the_shortest_length_on(warehouse, left_in, said):
    catalogue = make_catalogue()
    Product.objects.filter(pk=catalogue[Part.SILL_STRIP].pk).update(shortest_remnant_in=24)
    sheet = sheet_for(CrewFactory())
    sheet.rolls.filter(cuts__part=Part.SILL_STRIP).update(left_in=Decimal(left_in))
    assert f'<p class="left">{said}' in show(warehouse)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("at_least", "said"),
    [(1, "1 roll; no plan needs fewer"), (0, "1 roll; whether remnants alone would do is not proven"), (None, None)],
    ids=["proven", "open", "written before there were bounds"],
)
def test_each_product_has_its_verdict(warehouse, at_least, said):
    make_catalogue()
    line = line_of(sheet_for(CrewFactory()), Part.SILL_STRIP)
    PullSheetLine.objects.update(rolls_lower_bound=1)
    line.rolls_lower_bound = at_least
    line.save()
    page = show(warehouse)
    of_product = page.partition(f"<figcaption>{line.product.name} ")[2].partition("</figcaption>")[0]
    assert (f'<span class="verdict">{said}</span>' in of_product) is (said is not None)


@pytest.mark.django_db
def test_the_job_is_named_where_the_day_has_two(warehouse):
    make_catalogue()
    crew = CrewFactory()
    opening = make_openings(1)[0]
    openings.assign(opening_ids=[opening.pk], crew_id=crew.pk, on=tomorrow(), by=None)
    sheet_for(crew, count=1)
    assert f"<title>4&#x27; 6&quot;, {opening.mark}, {opening.job.code} sill strip</title>" in show(warehouse)


@pytest.mark.django_db
def test_what_is_loaded_moves_out_of_the_warehouse(warehouse):
    catalogue = make_catalogue()
    make_stock(catalogue[Part.SILL_STRIP], 4)
    sheet = sheet_for(CrewFactory())
    line = line_of(sheet, Part.SILL_STRIP)
    response = warehouse.post(STAGING, {"act": "load", "sheet": sheet.pk, f"line-{line.pk}": "1"}, follow=True)
    line.refresh_from_db()
    assert line.loaded_packages == 1
    assert "1 line saved" in html_of(response)


@pytest.mark.django_db
def test_more_than_the_warehouse_holds_is_refused_and_nothing_of_the_form_is_lost(warehouse):
    catalogue = make_catalogue()
    for part in (Part.SILL_STRIP, Part.HEAD_STRIP):
        make_stock(catalogue[part], 2)
    sheet = sheet_for(CrewFactory())
    sill, head = line_of(sheet, Part.SILL_STRIP), line_of(sheet, Part.HEAD_STRIP)
    sent = {"act": "load", "sheet": sheet.pk, f"line-{sill.pk}": "1", f"line-{head.pk}": "3"}
    response = warehouse.post(f"{STAGING}?on={tomorrow()}", sent)
    page = html_of(response)
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
    # On the line, and at the top: in all, and whose.
    assert page.count(" short") == 3 * (PullSheetLine.objects.count() - 1)


@pytest.mark.django_db
def test_of_several_trucks_the_last_one_goes_without_and_the_total_stands_once(warehouse):
    catalogue = make_catalogue()
    for name in ("Alder", "Birch", "Cedar", "Dogwood"):
        sheet_for(CrewFactory(name=name))
    PullSheetLine.objects.exclude(product=catalogue[Part.SILL_STRIP]).update(loaded_packages=9)
    PullSheetLine.objects.filter(product=catalogue[Part.SILL_STRIP]).update(packages=3)
    make_stock(catalogue[Part.SILL_STRIP], 10)
    page = show(warehouse)
    total, _, trucks = page.partition('class="truck"')
    assert "<strong>sill-strip: 2 rolls short.</strong> 10 in the warehouse, 12 still to load." in total
    assert f"Dogwood is 2 short on {tomorrow():%a, %b} {tomorrow().day}." in total
    assert trucks.count(" short<") == 1
    assert "2 rolls short" in trucks.partition(">Dogwood <")[2]


@pytest.mark.django_db
def test_what_is_short_on_another_day_alone_is_not_told(warehouse):
    make_catalogue()
    sheet_for(CrewFactory())
    page = html_of(warehouse.get(STAGING, {"on": tomorrow() - timedelta(days=9)}))
    assert "Short for all trucks" in show(warehouse)
    assert "Short for all trucks" not in page


@pytest.mark.django_db
def test_a_line_without_a_product_is_not_loaded_and_the_sheet_says_what_is_missing(warehouse):
    catalogue = make_catalogue()
    catalogue[Part.SHIM].uses.all().delete()
    sheet_for(CrewFactory())
    PullSheetLine.objects.filter(product__isnull=False).update(loaded_packages=9)
    page = show(warehouse)
    count = PullSheetLine.objects.count()
    assert f"<b>{count - 1} of {count} lines</b> loaded" in page
    assert "<strong>Not complete.</strong> No product for shim;" in page
    assert "no product is chosen for shim" in page


@pytest.mark.django_db
def test_packages_are_counted_in_words_and_what_comes_back_is_not_called_loaded(warehouse):
    catalogue = make_catalogue()
    sheet = sheet_for(CrewFactory())
    sheet.lines.update(packages=2, loaded_packages=2)
    sheet.lines.filter(product=catalogue[Part.SHIM]).update(packages=0, quantity=0)
    page, count = show(warehouse), sheet.lines.count()
    assert "<b>2</b> rolls" in page
    assert "<b>0</b> boxes" in page
    assert f"<b>{count - 1} of {count - 1} lines</b> loaded · <b>1 line</b> to bring back" in page


@pytest.mark.django_db
def test_revisions_that_are_superseded_are_named_as_such(warehouse):
    make_catalogue()
    crew = CrewFactory()
    sheet_for(crew)
    first = PullSheet.objects.get()
    sheet_for(crew)
    page = show(warehouse)
    assert f'Superseded: <a href="/api/v1/pull-sheets/{first.pk}/workbook/">revision 1</a>. Discard' in page
    of_opening = html_of(warehouse.get(f"/openings/{first.openings.first().pk}/"))
    assert "revision 1</a>" in of_opening
    assert "<b>superseded</b>" in of_opening


@pytest.mark.django_db
def test_a_sheet_can_be_asked_for_and_is_shown_as_being_written(warehouse, empty_broker):
    make_catalogue()
    crew = CrewFactory()
    openings.assign(opening_ids=[make_openings(1)[0].pk], crew_id=crew.pk, on=tomorrow(), by=None)
    response = warehouse.post(
        f"{STAGING}?on={tomorrow()}", {"act": "ask", "crew": crew.pk, "on": tomorrow()}, follow=True
    )
    page = html_of(response)
    assert "revision 1 is being written" in page
    assert "data-waiting" in page
    assert PullSheet.objects.get().state == PullSheet.State.PENDING


@pytest.mark.django_db
def test_asking_again_says_that_nothing_has_changed(warehouse):
    make_catalogue()
    crew = CrewFactory()
    sheet_for(crew)
    response = warehouse.post(STAGING, {"act": "ask", "crew": crew.pk, "on": tomorrow()}, follow=True)
    assert "nothing has changed" in html_of(response)
    assert PullSheet.objects.count() == 1


@pytest.mark.django_db
def test_a_sheet_for_a_day_with_nothing_assigned_clashes(warehouse):
    response = warehouse.post(STAGING, {"act": "ask", "crew": CrewFactory().pk, "on": tomorrow()})
    assert response.status_code == 409
    assert "nothing that can be set is assigned" in html_of(response)


@pytest.mark.django_db
def test_a_day_without_sheets_says_so(warehouse):
    page = html_of(warehouse.get(STAGING, {"on": tomorrow() + timedelta(days=30)}))
    assert "No openings are assigned" in page


@pytest.mark.django_db
@pytest.mark.parametrize("crews", [1, 4])
def test_staging_takes_as_many_queries_for_many_crews_as_for_one(warehouse, django_assert_num_queries, crews):
    catalogue = make_catalogue()
    make_stock(catalogue[Part.SILL_STRIP], 1)
    for _ in range(crews):
        put_on_remnant(sheet_for(CrewFactory()), catalogue[Part.SILL_STRIP], length_in=120)
    # Session, person; four of the shortages; crew days, their openings, sheets, lines, rolls, cuts, newest sheets,
    # superseded ones, and what is gone since.
    with django_assert_num_queries(15):
        page = show(warehouse)
    assert page.count('class="truck"') == crews
