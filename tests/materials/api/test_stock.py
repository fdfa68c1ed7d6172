from __future__ import annotations

import pytest

from materials.models import Lot, Movement, Place
from tests.factories import CrewFactory, ProductFactory, make_catalogue, make_stock
from tests.materials.crew_days import make_crew_day, written

pytestmark = pytest.mark.django_db

MOVES = "/api/v1/movements/"


def make_truck() -> Place:
    return Place.objects.create(kind=Place.Kind.TRUCK, name="Truck", crew=CrewFactory())


def test_a_move_says_who_made_it(warehouse):
    product, truck = ProductFactory(), make_truck()
    source = make_stock(product, 5)
    answer = warehouse.post(
        MOVES, {"product": product.pk, "source": source.pk, "destination": truck.pk, "packages": 1.5}
    )
    assert answer.status_code == 201, answer.json()
    assert Movement.objects.get(pk=answer.json()["id"]).moved_by == warehouse.handler._force_user


@pytest.mark.parametrize(
    ("change", "status", "said"),
    [
        ({"packages": 6}, 409, "Warehouse holds 5 × tape; 6 cannot leave it"),
        ({"packages": 0}, 400, "packages"),
        ({"packages": -3}, 400, "packages"),
        ({"packages": 0.0001}, 400, "packages"),
        ({"packages": 10**9}, 400, "packages"),
        ({"packages": "NaN"}, 400, "packages"),
        ({"destination": "{source}"}, 400, "same place"),
        ({"product": 999_999}, 400, "product"),
        ({"lot": "{lot}"}, 409, "lot L1 is one of rod, not of tape"),
    ],
    ids=[
        "too many",
        "none",
        "negative",
        "too fine",
        "absurd",
        "not a number",
        "nowhere",
        "no product",
        "another's lot",
    ],
)
def test_a_move_that_cannot_be_is_told(warehouse, change, status, said):
    product = ProductFactory(code="tape")
    lot = Lot.objects.create(product=ProductFactory(code="rod"), code="L1", received_on="2026-01-05")
    source, truck = make_stock(product, 5), make_truck()
    known = {"{source}": source.pk, "{lot}": lot.pk}
    body = {"product": product.pk, "source": source.pk, "destination": truck.pk, "packages": 1}
    answer = warehouse.post(MOVES, body | {name: known.get(value, value) for name, value in change.items()})
    assert answer.status_code == status, answer.json()
    assert said in answer.json()["detail"]
    assert Movement.objects.count() == 1


@pytest.mark.parametrize("method", ["put", "patch", "delete"])
def test_entries_are_never_changed(warehouse, method):
    make_stock(ProductFactory(), 5)
    answer = getattr(warehouse, method)(f"{MOVES}{Movement.objects.get().pk}/", {"packages": 1})
    assert answer.status_code == 405
    assert Movement.objects.get().packages == 5


def test_stock_is_told_by_place_product_and_lot(warehouse):
    make_stock(ProductFactory(code="tape"), 5)
    (entry,) = warehouse.get("/api/v1/stock/").json()
    assert (entry["place"]["name"], entry["product"]["code"], entry["lot"], entry["packages"]) == (
        "Warehouse",
        "tape",
        None,
        5,
    )


def test_a_shortage_says_how_many_and_for_whom(warehouse):
    product = make_catalogue()["sill strip"]
    sheet = written(make_crew_day(openings=40))
    make_stock(product, 1)
    (short,) = [one for one in warehouse.get("/api/v1/shortages/").json() if one["product"]["code"] == product.code]
    # 40 strips of 54 in (AAMA 2400-10 note 3), 16 from a roll of 900 in.
    assert (short["reserved"], short["on_hand"], short["short"]) == (3, 1, 2)
    assert short["sheets"] == [
        {"sheet": sheet.pk, "crew": sheet.crew_day.crew.name, "on": str(sheet.crew_day.on), "packages": 3, "short": 2}
    ]


@pytest.mark.parametrize("sheets", [1, 8])
@pytest.mark.parametrize(("path", "queries"), [("stock", 4), ("shortages", 4)])
def test_stock_takes_as_many_queries_however_much_there_is(warehouse, django_assert_num_queries, path, queries, sheets):
    for product in make_catalogue().values():
        make_stock(product, sheets)
    for _ in range(sheets):
        written(make_crew_day(openings=2))
    with django_assert_num_queries(queries):
        assert warehouse.get(f"/api/v1/{path}/").status_code == 200


def test_a_place_with_stock_keeps_its_kind_so_that_nothing_leaves_which_is_not_there(warehouse):
    product, truck = ProductFactory(code="tape"), make_truck()
    place = make_stock(product, 5)
    answer = warehouse.patch(f"/api/v1/places/{place.pk}/", {"kind": "supplier"})
    assert (answer.status_code, answer.json()["code"]) == (409, "conflict")
    (fault,) = answer.json()["errors"]
    assert (fault["field"], fault["value"]) == ("kind", "supplier")
    assert fault["detail"] == "Warehouse already has movements, so this stays warehouse; add another place instead"
    move = {"product": product.pk, "source": place.pk, "destination": truck.pk, "packages": 6}
    assert warehouse.post(MOVES, move).status_code == 409
    other = CrewFactory()
    warehouse.post(MOVES, move | {"packages": 1})
    assert warehouse.patch(f"/api/v1/places/{truck.pk}/", {"crew": other.pk}).status_code == 409
    assert warehouse.patch(f"/api/v1/places/{place.pk}/", {"name": "Barn", "kind": "warehouse"}).status_code == 200


def test_a_lot_and_a_product_stay_what_their_stock_is_counted_by(warehouse):
    tape, rod = ProductFactory(code="tape"), ProductFactory(code="rod")
    lot = Lot.objects.create(product=tape, code="L1", received_on="2026-01-05")
    assert warehouse.patch(f"/api/v1/lots/{lot.pk}/", {"product": rod.pk}).status_code == 200
    assert warehouse.patch(f"/api/v1/lots/{lot.pk}/", {"product": tape.pk}).status_code == 200
    make_stock(tape, 5, lot=lot)
    for path, change in ((f"lots/{lot.pk}", {"product": rod.pk}), (f"products/{tape.pk}", {"measure": "cu in"})):
        answer = warehouse.patch(f"/api/v1/{path}/", change)
        assert answer.status_code == 409, answer.json()
        assert answer.json()["errors"][0]["field"] in change
        assert "; add another" in answer.json()["detail"]
    assert warehouse.patch(f"/api/v1/lots/{lot.pk}/", {"expires_on": "2027-01-05"}).status_code == 200
