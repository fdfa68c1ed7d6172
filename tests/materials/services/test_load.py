from __future__ import annotations

from decimal import Decimal

import pytest

from jobs.errors import Conflict, NotFound
from materials import services
from materials.calc.parts import Part
from materials.models import DetailProduct, Lot, Movement, Place, Product, PullSheet, PullSheetLine
from materials.queries import on_hand
from tests.factories import CrewFactory, ProductFactory, make_catalogue, make_stock
from tests.materials.at_once import at_once
from tests.materials.crew_days import make_crew_day, written


def make_loadable(*, in_stock: int = 9, openings: int = 3, **crew: str) -> PullSheetLine:
    """Return the line of sill strip on a written sheet, with so many rolls in the warehouse."""
    catalogue = make_catalogue()
    sheet = written(make_crew_day(openings=openings, crew=CrewFactory(**crew)))
    if in_stock:
        make_stock(catalogue[Part.SILL_STRIP], in_stock)
    return sheet.lines.get(product=catalogue[Part.SILL_STRIP])


def load(line: PullSheetLine, packages: int) -> PullSheetLine:
    return services.load_line(sheet_id=line.sheet_id, line_id=line.pk, packages=packages, by=None)


def of_product(product: Product) -> dict[str, Decimal]:
    return {entry["place"].kind: entry["packages"] for entry in on_hand() if entry["product"] == product}


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("entered", "truck", "entries"),
    [((4,), 4, 1), ((4, 4), 4, 1), ((4, 6), 6, 2), ((4, 1), 1, 2), ((4, 0), None, 2), ((0,), None, 0)],
    ids=["four", "four twice", "two more", "three back", "all back", "none"],
)
def test_loading_moves_only_the_difference(entered, truck, entries):
    line = make_loadable(in_stock=9)
    for packages in entered:
        load(line, packages)
    assert of_product(line.product).get("truck") == truck
    assert of_product(line.product)["warehouse"] == 9 - (truck or 0)
    assert Movement.objects.filter(product=line.product).count() == 1 + entries
    line.refresh_from_db()
    assert line.loaded_packages == entered[-1]


@pytest.mark.django_db
def test_what_is_not_cut_from_rolls_is_loaded_too():
    line = make_loadable().sheet.lines.get(parts=Part.FLANGE_BEAD)
    make_stock(line.product, 9)
    assert load(line, 2).loaded_packages == of_product(line.product)["truck"] == 2


@pytest.mark.django_db
def test_what_the_warehouse_does_not_hold_is_not_loaded():
    line = make_loadable(in_stock=2)
    with pytest.raises(Conflict, match="Warehouse holds 2 × sill-strip; 3 cannot leave it"):
        load(line, 3)
    line.refresh_from_db()
    assert line.loaded_packages is None


@pytest.mark.django_db
def test_lots_ride_along_and_come_back():
    line = make_loadable(in_stock=0)
    make_stock(line.product, 1, lot=Lot.objects.create(product=line.product, code="L1", received_on="2026-01-05"))
    load(line, 1)
    assert {(entry["place"].kind, entry["lot"]) for entry in on_hand()} == {("truck", Lot.objects.get().pk)}
    load(line, 0)
    assert {(entry["place"].kind, entry["lot"]) for entry in on_hand()} == {("warehouse", Lot.objects.get().pk)}


@pytest.mark.django_db
def test_several_lines_are_loaded_all_or_none():
    line = make_loadable(in_stock=5)
    other = line.sheet.lines.get(product__code="head-strip")  # of which the warehouse holds none
    with pytest.raises(Conflict, match="holds 0 × head-strip"):
        services.load_lines(sheet_id=line.sheet_id, packages={line.pk: 1, other.pk: 1}, by=None)
    assert "truck" not in of_product(line.product)


@pytest.mark.django_db
def test_a_superseded_revision_is_not_loaded():
    line = make_loadable()
    make_crew_day(crew=line.sheet.crew_day.crew)
    written(line.sheet.crew_day)
    with pytest.raises(Conflict, match="revision 1 is superseded; load from the current revision"):
        load(line, 1)


@pytest.mark.django_db
def test_while_a_new_revision_is_pending_the_written_one_is_loaded():
    line = make_loadable()
    make_crew_day(crew=line.sheet.crew_day.crew)
    services.request_pull_sheet(crew_id=line.sheet.crew_day.crew_id, on=line.sheet.crew_day.on, by=None)
    assert load(line, 1).loaded_packages == 1


@pytest.mark.django_db
def test_a_line_of_another_sheet_is_not_found():
    line = make_loadable()
    other = written(make_crew_day())
    with pytest.raises(NotFound, match=f"no line {line.pk}"):
        services.load_line(sheet_id=other.pk, line_id=line.pk, packages=1, by=None)


@pytest.mark.django_db
def test_a_line_without_a_product_is_not_loaded():
    line = written(make_crew_day()).lines.filter(product=None).first()
    with pytest.raises(Conflict, match="no product is chosen for"):
        load(line, 1)


@pytest.mark.django_db
def test_without_a_warehouse_nothing_is_loaded():
    make_catalogue()
    line = written(make_crew_day()).lines.first()
    with pytest.raises(Conflict, match="there is no warehouse"):
        load(line, 1)


@pytest.mark.django_db
def test_the_longest_names_of_crew_and_truck_still_make_a_truck():
    line = make_loadable(name="n" * 60, truck="t" * 60)
    load(line, 1)
    assert Place.objects.get(kind=Place.Kind.TRUCK).crew == line.sheet.crew_day.crew


@pytest.mark.django_db
def test_what_is_loaded_stays_loaded_on_the_next_revision():
    line = make_loadable()
    load(line, 1)
    make_crew_day(crew=line.sheet.crew_day.crew)
    second = written(line.sheet.crew_day)
    assert second.lines.get(product=line.product).loaded_packages == 1
    load(second.lines.get(product=line.product), 1)
    assert of_product(line.product)["truck"] == 1


@pytest.mark.django_db
def test_what_is_loaded_and_no_longer_needed_stays_in_sight_until_it_is_brought_back():
    line = make_loadable()
    load(line, 2)
    detail = line.sheet.openings.first().detail
    other = ProductFactory(code="other", measure="in", package="roll", package_quantity=900, width_in=9)
    DetailProduct.objects.create(detail=detail, part=Part.SILL_STRIP.value, product=other)

    second = written(line.sheet.crew_day)
    kept = second.lines.get(product=line.product)
    assert (kept.quantity, kept.packages, kept.loaded_packages) == (0, 0, 2)
    assert "sill-strip no longer needed" in second.changes

    load(kept, 0)
    line.sheet.openings.update(remarks="tempered")
    third = written(line.sheet.crew_day)
    assert not third.lines.filter(product=line.product).exists()
    assert not [change for change in third.changes if "sill-strip" in change]
    assert of_product(line.product) == {"warehouse": 9}


@pytest.mark.django_db(transaction=True)
def test_two_who_enter_the_same_line_at_once_move_it_once():
    line = make_loadable(in_stock=9)
    at_once(*[lambda: load(line, 3)] * 4)
    assert of_product(line.product) == {"warehouse": 6, "truck": 3}


@pytest.mark.django_db(transaction=True)
def test_two_trucks_at_once_do_not_take_the_last_roll_twice():
    line = make_loadable(in_stock=1)
    other = written(make_crew_day()).lines.get(product=line.product)
    outcomes = at_once(lambda: load(line, 1), lambda: load(other, 1))
    assert sorted(type(outcome) for outcome in outcomes if isinstance(outcome, Conflict)) == [Conflict]
    assert of_product(line.product) == {"truck": 1}


@pytest.mark.django_db(transaction=True)
def test_loading_while_a_revision_is_written_loses_no_package():
    line = make_loadable(in_stock=9)
    make_crew_day(crew=line.sheet.crew_day.crew)
    second = services.request_pull_sheet(crew_id=line.sheet.crew_day.crew_id, on=line.sheet.crew_day.on, by=None)
    at_once(lambda: load(line, 2), lambda: services.write_pull_sheet(sheet_id=second.pk))
    listed = PullSheet.objects.get(pk=second.pk).lines.get(product=line.product).loaded_packages or 0
    assert of_product(line.product).get("truck", 0) == listed


@pytest.mark.django_db(transaction=True)
def test_two_who_load_lines_of_one_sheet_in_any_order_do_not_block_each_other():
    line = make_loadable(in_stock=9)
    other = line.sheet.lines.get(product__code="head-strip")
    make_stock(other.product, 9)
    both = {line.pk: 1, other.pk: 1}
    at_once(
        lambda: services.load_lines(sheet_id=line.sheet_id, packages=both, by=None),
        lambda: load(other, 1),
        lambda: load(line, 1),
    )
    assert of_product(line.product) == of_product(other.product) == {"warehouse": 8, "truck": 1}
