"""How the rolls of one crew day are cut: remnants first, reserved, released, and said."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal

import pytest
from django.utils import timezone

from materials import services
from materials.calc.parts import Part
from materials.errors import PieceTooLong
from materials.models import Product, PullSheet, Remnant
from openings.models import Assignment, InstallationDetail, Opening
from tests.factories import CrewFactory, make_catalogue, make_remnant, make_stock
from tests.materials.crew_days import make_crew_day, request, texts, workbook_of, written
from tests.materials.day_cuts import cut_from, day_of, packages, truck_of, waits_for
from tests.materials.rolls import make_day, make_strip

pytestmark = pytest.mark.django_db


# One crew


@pytest.mark.parametrize("is_on_truck", [True, False], ids=["on its truck", "in the warehouse"])
def test_a_remnant_within_reach_is_cut_before_a_new_roll_and_reserved(strip, is_on_truck):
    crew_day = day_of(54)
    place = {"place": truck_of(crew_day.crew)} if is_on_truck else {}
    remnant = make_remnant(strip, 60, **place)
    sheet = written(crew_day)
    assert (packages(sheet), cut_from(sheet)) == (0, {remnant})
    roll = sheet.rolls.get()
    assert (roll.number, roll.length_in, roll.left_in) == (1, 60, 6)
    assert waits_for(crew_day) == {remnant}


def test_what_lies_on_the_truck_goes_before_what_lies_in_the_warehouse(strip):
    crew_day = day_of(54)
    shelf, own = make_remnant(strip, 60), make_remnant(strip, 100, place=truck_of(crew_day.crew))
    assert cut_from(written(crew_day)) == {own}
    shelf.refresh_from_db()
    assert shelf.reserved_for is None


def test_truck_and_warehouse_together_save_the_rolls(strip):
    crew_day = day_of(54, 54)
    both = {make_remnant(strip, 60), make_remnant(strip, 60, place=truck_of(crew_day.crew))}
    sheet = written(crew_day)
    assert (packages(sheet), cut_from(sheet)) == (0, both)


def _elsewhere(strip: Product) -> None:
    make_remnant(strip, 60, place=truck_of(CrewFactory()))


def _too_short(strip: Product) -> None:
    make_remnant(strip, 53)


def _for_another_day(strip: Product) -> None:
    make_remnant(strip, 60, reserved_for=make_day(days=5))


def _gone(strip: Product) -> None:
    make_remnant(strip, 60, fate="scrapped", gone_at=timezone.now())


def _of_another_product(strip: Product) -> None:
    make_remnant(make_strip("other"), 60)


@pytest.mark.parametrize("lay", [_elsewhere, _too_short, _for_another_day, _gone, _of_another_product])
def test_what_is_out_of_reach_or_does_not_serve_is_left_alone(strip, lay):
    lay(strip)
    before = list(Remnant.objects.values())
    sheet = written(day_of(54))
    assert (packages(sheet), cut_from(sheet)) == (1, set())
    assert list(Remnant.objects.values()) == before


def test_remnants_of_several_products_are_cut_and_reserved_together():
    catalogue = make_catalogue()
    remnants = {make_remnant(catalogue[part], 150) for part in (Part.SILL_STRIP, Part.JAMB_STRIP, Part.PAN_MEMBRANE)}
    crew_day = make_crew_day()
    sheet = written(crew_day)
    assert cut_from(sheet) == waits_for(crew_day) == remnants
    listed = dict(sheet.lines.values_list("product__code", "packages"))
    # 54, 2 × 71 and 48 in (jambs: from memory; 6 in up each trimmer: JLC photo guide); no remnant for the head.
    assert [listed[code] for code in ("sill-strip", "jamb-strip", "pan-membrane", "head-strip")] == [0, 0, 0, 1]


# Revisions


def test_a_revision_keeps_the_remnants_that_it_still_cuts_from(strip):
    crew_day, remnant = day_of(54), make_remnant(strip, 60)
    written(crew_day)
    sheet = written(day_of(54, crew=crew_day.crew))
    assert (sheet.revision, packages(sheet), cut_from(sheet)) == (2, 1, {remnant})
    assert waits_for(crew_day) == {remnant}


def test_a_revision_releases_what_it_needs_no_more(strip):
    crew_day, remnant = day_of(54), make_remnant(strip, 60)
    first = written(crew_day)
    Opening.objects.update(ro_width_in=48, unit_width_in=Decimal("47.5"))  # 66 in
    second = written(crew_day)
    assert (packages(second), cut_from(second), waits_for(crew_day)) == (1, set(), set())
    assert cut_from(first) == {remnant}  # as it was issued


def test_a_day_emptied_after_issue_releases_its_remnants(strip):
    crew_day, remnant = day_of(54), make_remnant(strip, 60)
    written(crew_day)
    Assignment.objects.update(withdrawn_at=timezone.now())
    assert cut_from(written(crew_day)) == set()
    assert list(Remnant.objects.filter(reserved_for=None)) == [remnant]


@pytest.mark.parametrize("ask", ["by hand", "by the clock"])
def test_a_scrapped_remnant_makes_the_sheet_due_again_with_another_plan(strip, ask):
    crew_day, remnant = day_of(54), make_remnant(strip, 60)
    first = written(crew_day)
    assert request(crew_day) == first
    services.scrap_remnant(remnant_id=remnant.pk, by=None)
    if ask == "by the clock":
        (pending,) = services.request_due_pull_sheets(now=timezone.now())
        assert request(crew_day).pk == pending
    second = written(crew_day)
    assert (second.revision, packages(second), cut_from(second)) == (2, 1, set())
    assert "1 more roll of sill-strip (1, was 0)" in second.changes
    assert f"remnant {remnant.code} of sill-strip is not there any more" in second.changes
    assert services.request_due_pull_sheets(now=timezone.now()) == []


def test_what_is_entered_after_issue_makes_no_new_revision(strip):
    crew_day = day_of(54)
    sheet = written(crew_day)
    make_remnant(strip, 60)
    assert request(crew_day) == sheet


def test_once_something_came_back_there_is_no_new_revision(strip):
    make_remnant(strip, 60)
    crew_day = day_of(54, days=0)
    sheet = written(crew_day)
    services.settle_roll(roll_id=sheet.rolls.get().pk, came_back_in=Decimal(0), by=None)
    Opening.objects.update(remarks="tempered")
    assert request(crew_day) == sheet
    assert services.request_due_pull_sheets(now=timezone.now()) == []
    assert PullSheet.objects.count() == 1


# What it says


def test_the_sheet_says_how_many_rolls_whether_fewer_would_do_and_which_remnants(strip):
    for length_in in (60, 100):
        make_remnant(strip, length_in)
    # Seven strips of 54 in: one from each remnant, and of five no more than two from a roll of 120 in.
    sheet = written(day_of(*[54] * 7))
    line = sheet.lines.get(product=strip)
    assert (line.packages, line.rolls_lower_bound) == (3, 3)
    one, two = (roll.remnant.code for roll in sheet.rolls.exclude(remnant=None))
    said = f"sill strip\n3 rolls; no plan needs fewer; take remnants {one}, {two}"
    workbook = workbook_of(sheet)
    assert said in texts(workbook, "Staging")
    rolls = Counter(text for text in texts(workbook, "Cuts") if text.startswith("sill-strip, "))
    names = ("roll 1", "roll 2", "roll 3", one, two)
    assert rolls == Counter({f"sill-strip, {name}": count for name, count in zip(names, (2, 2, 1, 1, 1), strict=True)})


def test_one_remnant_alone_is_named_and_no_roll_is_asked_for(strip):
    remnant = make_remnant(strip, 60)
    sheet = written(day_of(54))
    assert sheet.lines.get(product=strip).rolls_lower_bound == 0
    said = f"sill strip\ncut from remnants; no new roll; take remnant {remnant.code}"
    assert said in texts(workbook_of(sheet), "Staging")
    assert f"sill-strip, {remnant.code}" in texts(workbook_of(sheet), "Cuts")


def test_four_rolls_and_no_remnant(strip):
    # Four strips of 90 in, none beside another on 120 in.
    sheet = written(day_of(*[90] * 4))
    assert sheet.lines.get(product=strip).rolls_lower_bound == 4
    assert "sill strip\n4 rolls; no plan needs fewer" in texts(workbook_of(sheet), "Staging")


def test_a_piece_that_no_roll_holds_and_no_lap_splices_is_refused_when_the_sheet_is_asked_for(strip):
    crew_day = day_of(130)
    # Laps of more than half a roll of 120 in would lay the whole run double: our choice.
    InstallationDetail.objects.update(end_lap_in=61)
    with pytest.raises(PieceTooLong, match="sill strip needs 10' 10\", and a roll of sill-strip has 10' 0\""):
        request(crew_day)
    assert not PullSheet.objects.exists()


# Queries


@pytest.mark.parametrize("openings", [1, 9])
@pytest.mark.parametrize("others", [0, 3])
def test_a_day_without_remnants_asks_for_them_once(django_assert_num_queries, openings, others):
    make_catalogue()
    for _ in range(others):
        request(make_crew_day())
    sheet = request(make_crew_day(openings=openings))
    # As `test_writing_takes_as_many_queries_however_many_openings`, of which one looks for remnants.
    with django_assert_num_queries(27):
        services.write_pull_sheet(sheet_id=sheet.pk)


@pytest.mark.parametrize("count", [1, 4])
def test_remnants_on_the_truck_take_as_many_queries_however_many(strip, django_assert_num_queries, count):
    crew_day = day_of(*[54] * count)
    truck = truck_of(crew_day.crew)
    for _ in range(count):
        make_remnant(strip, 60, place=truck)
    sheet = request(crew_day)
    # Beside the 27 without remnants: these with their places; to reserve them a savepoint and its release, the crew
    # day and the remnants locked, the remnants joined, those released and those reserved.
    with django_assert_num_queries(27 + 1 + 7):
        services.write_pull_sheet(sheet_id=sheet.pk)


@pytest.mark.parametrize(("others", "asked"), [(1, 0), (4, 0), (1, 1), (4, 4)])
def test_sharing_takes_one_query_for_each_crew_that_waits(strip, django_assert_num_queries, others, asked):
    crew_days = [day_of(54) for _ in range(others)]
    for crew_day in crew_days[:asked]:
        request(crew_day)
    for _ in range(others + 1):
        make_remnant(strip, 60)
    sheet = request(day_of(54))
    # Beside those above: the other crew days, their openings, the products chosen for these; and, where any has
    # asked, which of their sheets are not being saved, and what each gets reserved for it.
    with django_assert_num_queries(27 + 1 + 7 + 3 + bool(asked) + asked):
        services.write_pull_sheet(sheet_id=sheet.pk)


def test_a_revision_that_was_asked_for_before_the_truck_was_settled_is_not_written(strip):
    crew_day = day_of(54, days=0)
    first = written(crew_day)
    make_stock(strip, 1)
    services.load_line(sheet_id=first.pk, line_id=first.lines.get(product=strip).pk, packages=1, by=None)
    Opening.objects.update(remarks="tempered")
    second = request(crew_day)
    services.settle_roll(roll_id=first.rolls.get().pk, came_back_in=Decimal(0), by=None)
    services.write_pull_sheet(sheet_id=second.pk)
    second.refresh_from_db()
    assert second.state != "written"
