"""Remnants over the API. How they are kept: common practice, no source."""

from __future__ import annotations

import pytest
from rest_framework.test import APIClient

from jobs.models import Person
from materials.models import Place, Remnant
from tests.factories import CrewFactory, ProductFactory, make_remnant, make_stock
from tests.materials.rolls import make_day, make_loaded_roll, make_roll, make_sheet, make_strip

pytestmark = pytest.mark.django_db

REMNANTS = "/api/v1/remnants/"
TO_SETTLE = "/api/v1/rolls-to-settle/"


def settle(client: APIClient, roll_id: int, **body):
    return client.post(f"/api/v1/planned-rolls/{roll_id}/settle/", body)


def test_one_that_was_found_is_entered_in_tape_notation(warehouse):
    product = make_strip()
    place = make_stock(product, 1)
    answer = warehouse.post(REMNANTS, {"product": product.pk, "length_in": "25' 10 1/2\"", "place": place.pk})
    assert answer.status_code == 201, answer.json()
    remnant = Remnant.objects.get()
    assert answer.json() == {
        "id": remnant.pk,
        "code": remnant.code,
        "product": product.pk,
        "product_code": "strip",
        "lot": None,
        "length_in": 310.5,
        "place": place.pk,
        "place_name": "Warehouse",
        "reserved_for": None,
        "crew_name": None,
        "on": None,
        "fate": "",
        "entered_by": warehouse.handler._force_user.pk,
        "entered_at": answer.json()["entered_at"],
        "gone_at": None,
        "updated_at": answer.json()["updated_at"],
    }


def test_metric_goes_in_and_comes_out(warehouse):
    # Inch of 25.4 mm: NIST Handbook 44, appendix C.
    product = make_strip()
    place = make_stock(product, 1)
    body = {"product": product.pk, "length_mm": 2540, "place": place.pk}
    answer = warehouse.post(f"{REMNANTS}?units=metric", body)
    assert (answer.status_code, answer.json()["length_mm"]) == (201, 2540)
    assert Remnant.objects.get().length_in == 100
    roll = make_loaded_roll(make_sheet(), product)
    (offered,) = warehouse.get(f"{TO_SETTLE}?units=metric").json()
    assert (offered["length_mm"], offered["left_mm"], offered["offered_mm"]) == (22860, 7620, 7620)
    settled = warehouse.post(f"/api/v1/planned-rolls/{roll.pk}/settle/?units=metric", {"came_back_mm": 5080}).json()
    assert (settled["roll"]["came_back_mm"], settled["remnant"]["length_mm"]) == (5080, 5080)
    refused = warehouse.post(f"/api/v1/planned-rolls/{roll.pk}/settle/?units=metric", {"came_back_mm": -1}).json()
    assert refused["errors"][0]["field"] == "came_back_mm"


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"length_in": 0}, "length_in"),
        ({"length_in": "-3"}, "length_in"),
        ({"length_in": "some"}, "length_in"),
        ({"length_in": "NaN"}, "length_in"),
        ({"length_in": 901}, "length_in"),
        ({"length_in": 10**12}, "length_in"),
        ({"length_in": 0.000001}, "length_in"),
        ({"product": 999_999}, "product"),
        ({"product": "{box}"}, "product"),
        ({"place": 999_999}, "place"),
        ({"place": "{supplier}"}, "place"),
        ({"lot": 999_999}, "lot"),
    ],
    ids=lambda value: str(value) if isinstance(value, dict) else "",
)
def test_what_cannot_be_is_told(warehouse, change, field):
    product, box = make_strip(), ProductFactory(code="box")
    place = make_stock(product, 1)
    known = {"{box}": box.pk, "{supplier}": Place.objects.get(kind=Place.Kind.SUPPLIER).pk}
    body = {"product": product.pk, "length_in": 100, "place": place.pk}
    answer = warehouse.post(REMNANTS, body | {name: known.get(value, value) for name, value in change.items()})
    assert (answer.status_code, answer["Content-Type"]) == (400, "application/problem+json")
    assert field in [fault["field"] for fault in answer.json()["errors"]]
    assert not Remnant.objects.exists()


def test_who_enters_one_does_not_say_who_counts_on_it_or_how_it_ended(warehouse):
    product = make_strip()
    body = {"product": product.pk, "length_in": 100, "place": make_stock(product, 1).pk}
    sent = body | {"reserved_for": make_day().pk, "fate": "scrapped", "gone_at": "2026-03-02T12:00Z"}
    assert warehouse.post(REMNANTS, sent).status_code == 201
    remnant = Remnant.objects.get()
    assert (remnant.reserved_for, remnant.fate, remnant.gone_at) == (None, "", None)


@pytest.mark.parametrize("method", ["put", "patch", "delete"])
def test_a_remnant_is_never_changed_in_place(warehouse, method):
    remnant = make_remnant(make_strip(), 100)
    assert getattr(warehouse, method)(f"{REMNANTS}{remnant.pk}/", {"length_in": 1}).status_code == 405
    remnant.refresh_from_db()
    assert remnant.length_in == 100


def test_they_are_found_by_product_place_fate_and_crew_day(warehouse):
    strip, other, crew_day = make_strip(), make_strip("other"), make_day()
    truck = Place.objects.create(kind=Place.Kind.TRUCK, name="Truck", crew=CrewFactory())
    short, long = make_remnant(strip, 100), make_remnant(strip, 200, place=truck)
    reserved = make_remnant(other, 300, reserved_for=crew_day)
    scrapped = make_remnant(other, 400, fate="scrapped", gone_at="2026-03-02T12:00Z")

    def found(**asked) -> list[int]:
        return [one["id"] for one in warehouse.get(REMNANTS, asked).json()["results"]]

    assert found() == [scrapped.pk, reserved.pk, long.pk, short.pk]
    assert found(product=strip.pk) == [long.pk, short.pk]
    assert found(place=truck.pk) == [long.pk]
    assert found(fate="on_hand", ordering="length_in") == [short.pk, long.pk, reserved.pk]
    assert found(fate="scrapped") == [scrapped.pk]
    assert found(fate="cut up") == []
    assert found(reserved_for=crew_day.pk) == [reserved.pk]
    for asked in ({"fate": "lost"}, {"product": 999_999}, {"place": "x"}):
        assert warehouse.get(REMNANTS, asked).status_code == 400


def test_scrapping_ends_the_reservation_and_is_safe_to_repeat(warehouse):
    remnant = make_remnant(make_strip(), 100, reserved_for=make_day())
    first, again = (warehouse.post(f"{REMNANTS}{remnant.pk}/scrap/") for _ in range(2))
    assert (first.status_code, first.json()["fate"], first.json()["reserved_for"]) == (200, "scrapped", None)
    assert again.json() == first.json()
    remnant.refresh_from_db()
    assert remnant.gone_by == warehouse.handler._force_user
    cut = make_remnant(remnant.product, 100, fate="cut up", gone_at="2026-03-02T12:00Z")
    assert warehouse.post(f"{REMNANTS}{cut.pk}/scrap/").status_code == 409
    assert warehouse.post(f"{REMNANTS}999999/scrap/").status_code == 404


def test_what_is_offered_for_return_says_of_what_how_long_and_by_whom(warehouse):
    product, sheet = make_strip(), make_sheet(make_day(crew=CrewFactory(name="Rowan")))
    roll = make_roll(sheet, product, remnant=make_remnant(product, 500), left_in=200)
    (offered,) = warehouse.get(TO_SETTLE).json()
    assert offered.pop("product")["code"] == "strip"
    assert offered == {
        "id": roll.pk,
        "number": 1,
        "remnant": roll.remnant_id,
        "remnant_code": roll.remnant.code,
        "length_in": 500,
        "left_in": 200,
        "offered_in": 200,
        "came_back_in": None,
        "sheet": sheet.pk,
        "sheet_number": sheet.number,
        "revision": 1,
        "crew": sheet.crew_day.crew_id,
        "crew_name": "Rowan",
        "on": str(sheet.crew_day.on),
    }


def test_a_settled_roll_answers_with_the_remnant_that_is_to_be_marked(warehouse):
    product, sheet = make_strip(), make_sheet()
    place = make_stock(product, 1)
    roll = make_loaded_roll(sheet, product)
    answer = settle(warehouse, roll.pk, came_back_in="24' 6\"", place=place.pk)
    assert answer.status_code == 200, answer.json()
    assert answer.json()["roll"]["came_back_in"] == 294
    assert answer.json()["remnant"]["code"] == Remnant.objects.get().code
    assert settle(warehouse, roll.pk, came_back_in=294).json() == answer.json()
    assert answer.json()["follows"] == [f"{Remnant.objects.get().code}, 24' 6\" of strip, is at Warehouse"]
    assert warehouse.get(TO_SETTLE).json() == []


def test_a_wrong_length_is_corrected_and_who_entered_what_is_told(warehouse):
    product, sheet = make_strip(), make_sheet()
    make_stock(product, 1)
    roll = make_loaded_roll(sheet, product)
    settle(warehouse, roll.pk, came_back_in="24' 6\"")
    code = Remnant.objects.get().code
    for _ in range(2):
        answer = settle(warehouse, roll.pk, came_back_in="20'")
        assert answer.status_code == 200, answer.json()
        assert (answer.json()["remnant"]["code"], answer.json()["remnant"]["length_in"]) == (code, 240)
        entries = answer.json()["entries"]
        assert [entry["came_back_in"] for entry in entries] == [240, 294]
        assert {entry["entered_by"] for entry in entries} == {warehouse.handler._force_user.pk}
        assert answer.json()["follows"] == [f"{code}, 20' 0\" of strip, is at Warehouse"]
    whole = settle(warehouse, roll.pk, came_back_in=900).json()
    assert (whole["roll"]["came_back_in"], whole["remnant"]) == (None, None)
    assert whole["follows"][1] == f"{code} was entered by mistake and is out of stock"


def test_nothing_comes_back_of_what_was_not_loaded(warehouse):
    product = make_strip()
    make_stock(product, 3)
    answer = settle(warehouse, make_roll(make_sheet(), product).pk, came_back_in="41'")
    assert (answer.status_code, answer.json()["code"]) == (409, "not-loaded")
    assert "no roll of strip is entered as loaded" in answer.json()["detail"]
    assert answer.json()["errors"][0]["field"] == "came_back_in"
    assert not Remnant.objects.exists()


def test_what_was_used_since_stays_as_it_was_entered(warehouse):
    product, sheet = make_strip(), make_sheet()
    make_stock(product, 1)
    roll = make_loaded_roll(sheet, product)
    settle(warehouse, roll.pk, came_back_in=294)
    remnant = Remnant.objects.get()
    warehouse.post(f"{REMNANTS}{remnant.pk}/scrap/")
    answer = settle(warehouse, roll.pk, came_back_in=240)
    assert answer.status_code == 409
    assert f"remnant {remnant.code} has since been scrapped" in answer.json()["detail"]


@pytest.mark.parametrize(
    ("body", "status", "code"),
    [
        ({}, 400, "invalid"),
        ({"came_back_in": -1}, 400, "invalid"),
        ({"came_back_in": "all of it"}, 400, "invalid"),
        ({"came_back_in": 10**12}, 400, "invalid"),
        ({"came_back_in": 1, "place": 999_999}, 400, "invalid"),
        ({"came_back_in": 901}, 400, "more-than-went"),
        ({"came_back_in": 900}, 400, "came-back-whole"),
    ],
    ids=str,
)
def test_what_cannot_have_come_back_is_told(warehouse, body, status, code):
    product = make_strip()
    make_stock(product, 1)
    answer = settle(warehouse, make_loaded_roll(make_sheet(), product).pk, **body)
    assert (answer.status_code, answer.json()["code"]) == (status, code), answer.json()
    assert answer["Content-Type"] == "application/problem+json"
    assert answer.json()["errors"][0]["field"] in ("came_back_in", "place")
    assert not Remnant.objects.exists()


@pytest.mark.parametrize("roll_id", [1, 10**30])
def test_a_roll_that_is_not_there_is_not_found(warehouse, roll_id):
    assert settle(warehouse, roll_id, came_back_in=1).status_code == 404


@pytest.mark.parametrize("role", Person.Role.values)
@pytest.mark.parametrize(("path", "asked"), [(f"{REMNANTS}1/scrap/", 404), ("/api/v1/planned-rolls/1/settle/", 400)])
def test_scrapping_and_settling_are_for_warehouse_and_scheduler(client_of, role, path, asked):
    answer = client_of(role).post(path, {})
    assert answer.status_code == (asked if role in ("warehouse", "scheduler") else 403)


@pytest.mark.parametrize("count", [1, 9])
def test_lists_take_as_many_queries_however_long(warehouse, django_assert_num_queries, count):
    product = make_strip()
    for _ in range(count):
        make_roll(make_sheet(), product, remnant=make_remnant(product, 500))
    with django_assert_num_queries(2):  # the count of all, and a page
        assert len(warehouse.get(REMNANTS).json()["results"]) == count
    with django_assert_num_queries(2):  # time zones of the jobs, and the rolls
        assert len(warehouse.get(TO_SETTLE).json()) == count
