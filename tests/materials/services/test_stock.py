from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.utils import timezone

from jobs.errors import Conflict
from materials import services
from materials.models import Lot, Movement, Place, Product, PullSheet, PullSheetLine
from materials.queries import on_hand, shortages
from materials.services import move
from materials.services.request import request_revision
from materials.services.stock import move_oldest
from tests.factories import CrewFactory, ProductFactory, make_catalogue, make_stock, tomorrow
from tests.materials.crew_days import make_crew_day, written

pytestmark = pytest.mark.django_db


def make_truck() -> Place:
    crew = CrewFactory()
    return Place.objects.create(kind=Place.Kind.TRUCK, name=f"Truck of {crew}", crew=crew)


def make_lot(product: Product, code: str, expires_on: date | None = None) -> Lot:
    return Lot.objects.create(product=product, code=code, received_on=date(2026, 1, 5), expires_on=expires_on)


def receive(product: Product, packages: int, lot: Lot | None = None) -> Place:
    supplier, _ = Place.objects.get_or_create(kind=Place.Kind.SUPPLIER, name="Supplier")
    warehouse, _ = Place.objects.get_or_create(kind=Place.Kind.WAREHOUSE, name="Warehouse")
    move(product=product, source=supplier, destination=warehouse, packages=Decimal(packages), by=None, lot=lot)
    return warehouse


def in_stock() -> dict[tuple[str, str | None], Decimal]:
    codes = dict(Lot.objects.values_list("pk", "code"))
    return {(entry["place"].name, codes.get(entry["lot"])): entry["packages"] for entry in on_hand()}


@pytest.mark.parametrize("source", ["warehouse", "truck"])
def test_no_more_leaves_than_lies_there_and_both_figures_are_told(source):
    product, truck = ProductFactory(code="tape"), make_truck()
    warehouse = make_stock(product, 5)
    move(product=product, source=warehouse, destination=truck, packages=Decimal(2), by=None)
    place, other, held = {"warehouse": (warehouse, truck, 3), "truck": (truck, warehouse, 2)}[source]
    with pytest.raises(Conflict, match=rf"{place} holds {held} × tape; 4 cannot leave it"):
        move(product=product, source=place, destination=other, packages=Decimal(4), by=None)
    assert Movement.objects.count() == 2


def test_a_supplier_sends_without_end():
    product = ProductFactory()
    for _ in range(2):
        warehouse = make_stock(product, 9_999_999)
    assert in_stock() == {(warehouse.name, None): 19_999_998}


def test_the_last_package_may_leave_and_leaves_no_line():
    product, truck = ProductFactory(), make_truck()
    warehouse = make_stock(product, 2)
    move(product=product, source=warehouse, destination=truck, packages=Decimal(2), by=None)
    assert in_stock() == {(truck.name, None): 2}


def test_a_lot_of_another_product_is_refused():
    product = ProductFactory(code="tape")
    lot, warehouse = make_lot(ProductFactory(code="rod"), "L1"), make_stock(product, 5)
    with pytest.raises(Conflict, match="lot L1 is one of rod, not of tape"):
        move(product=product, source=warehouse, destination=make_truck(), packages=Decimal(1), by=None, lot=lot)


def test_what_lies_in_a_lot_leaves_by_its_lot():
    product, truck = ProductFactory(code="tape"), make_truck()
    lot = make_lot(product, "L1")
    warehouse = receive(product, 5, lot)
    with pytest.raises(Conflict, match="Warehouse holds 0 × tape without a lot number; 1 cannot leave it"):
        move(product=product, source=warehouse, destination=truck, packages=Decimal(1), by=None)
    with pytest.raises(Conflict, match="Warehouse holds 5 × tape, lot L1; 6 cannot leave it"):
        move(product=product, source=warehouse, destination=truck, packages=Decimal(6), by=None, lot=lot)


def test_what_expires_first_goes_first():
    # First expired, first out: common practice, no source.
    product, truck = ProductFactory(code="tape"), make_truck()
    for code, expires_on in (("keeps", None), ("late", date(2027, 6, 1)), ("soon", date(2027, 1, 1))):
        warehouse = receive(product, 2, make_lot(product, code, expires_on))
    receive(product, 2)
    move_oldest(product=product, source=warehouse, destination=truck, packages=Decimal(5), by=None)
    assert {code: n for (place, code), n in in_stock().items() if place == truck.name} == {
        "soon": 2,
        "late": 2,
        "keeps": 1,
    }
    with pytest.raises(Conflict, match="Warehouse holds 3 × tape; 4 cannot leave it"):
        move_oldest(product=product, source=warehouse, destination=truck, packages=Decimal(4), by=None)


@pytest.mark.parametrize(
    ("packages", "destination"),
    [(Decimal(0), "truck"), (Decimal(-1), "truck"), (Decimal(1), "warehouse")],
    ids=["nothing", "less than nothing", "nowhere"],
)
def test_a_move_that_moves_nothing_is_refused(packages, destination):
    product = ProductFactory()
    warehouse = make_stock(product, 5)
    places = {"truck": make_truck(), "warehouse": warehouse}
    with pytest.raises(ValidationError):
        move(product=product, source=warehouse, destination=places[destination], packages=packages, by=None)


def test_the_database_itself_refuses_an_entry_of_less_than_nothing():
    product = ProductFactory()
    warehouse = make_stock(product, 5)
    with pytest.raises(IntegrityError, match="movement_moves_something"), transaction.atomic():
        Movement.objects.create(product=product, source=warehouse, destination=make_truck(), packages=-1)


def test_a_sheet_reserves_what_it_lists_less_what_is_loaded():
    make_catalogue()
    sheet = written(make_crew_day(openings=3))
    line = sheet.lines.get(product__code="sill-strip")
    make_stock(line.product, 1)
    sheet.lines.filter(pk=line.pk).update(packages=5, loaded_packages=2)
    (short,) = [entry for entry in shortages() if entry.product == line.product]
    assert (short.on_hand, short.reserved, short.short) == (1, 3, 2)
    assert [share.packages for share in short.shares] == [3]


def sheets_of_four_crews() -> list[PullSheet]:
    """Return sheets that each want three rolls of sill strip: two crews a day, on two days."""
    make_catalogue()
    sheets = [
        written(make_crew_day(openings=1, on=tomorrow(days), crew=CrewFactory(name=name)))
        for days, name in ((2, "Dogwood"), (1, "Birch"), (2, "Cedar"), (1, "Alder"))
    ]
    PullSheetLine.objects.filter(product__code="sill-strip").update(packages=3)
    return sheets


def without() -> dict[str, int]:
    (short,) = [entry for entry in shortages() if entry.product.code == "sill-strip"]
    return {share.sheet.crew_day.crew.name: share.short for share in short.shares}


def test_trucks_go_without_day_by_day_and_on_one_day_by_the_name_of_the_crew():
    sheets_of_four_crews()
    make_stock(Product.objects.get(code="sill-strip"), 10)
    assert without() == {"Alder": 0, "Birch": 0, "Cedar": 0, "Dogwood": 2}
    assert list(without()) == ["Alder", "Birch", "Cedar", "Dogwood"]


def test_what_is_loaded_is_gone_whoever_loaded_it():
    dogwood = sheets_of_four_crews()[0]
    line = dogwood.lines.get(product__code="sill-strip")
    make_stock(line.product, 10)
    services.load_line(sheet_id=dogwood.pk, line_id=line.pk, packages=3, by=None)
    assert without() == {"Alder": 0, "Birch": 0, "Cedar": 2}


def test_the_total_is_what_all_go_without_together():
    sheets_of_four_crews()
    make_stock(Product.objects.get(code="sill-strip"), 4)
    (short,) = [entry for entry in shortages() if entry.product.code == "sill-strip"]
    assert (short.reserved, short.short, sum(without().values())) == (12, 8, 8)


def test_a_day_that_is_past_reserves_nothing():
    make_catalogue()
    crew_day = make_crew_day(on=timezone.now().date() - timedelta(days=3))
    sheet = request_revision(crew_day.pk)
    services.write_pull_sheet(sheet_id=sheet.pk)
    assert sheet.lines.exists()
    assert not shortages()


def test_only_the_newest_revision_reserves():
    make_catalogue()
    crew_day = make_crew_day(openings=2)
    first = written(crew_day)
    make_crew_day(openings=30, crew=crew_day.crew)
    second = written(crew_day)
    assert (first.revision, second.revision) == (1, 2)
    assert {share.sheet for entry in shortages() for share in entry.shares} == {second}
