"""What is counted becomes movements: more came from the supplier, less is scrap."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest

from jobs.errors import BadInput, Conflict
from jobs.queries import today_on_sites
from materials import services
from materials.models import Lot, Movement, Place
from materials.models.values import Counted
from materials.queries import stock_of
from tests.factories import PersonFactory, ProductFactory, make_stock

pytestmark = pytest.mark.django_db


def warehouse() -> Place:
    return Place.objects.create(kind=Place.Kind.WAREHOUSE, name="Warehouse")


def count(place: Place, *counted: Counted) -> list[Movement]:
    return services.count_stock(place=place, counted=counted, by=PersonFactory())


def counted(product: Any, packages: object, **values: Any) -> Counted:
    return Counted(product=product, packages=Decimal(str(packages)), **values)


def test_the_first_stock_of_a_firm_comes_from_a_supplier_that_is_added():
    place, strip, shim = warehouse(), ProductFactory(), ProductFactory()
    expires = today_on_sites() + timedelta(days=200)
    moved = count(place, counted(strip, 12, lot_code="L1", expires_on=expires), counted(shim, "2.5"))
    assert {entry.source.name for entry in moved} == {"Supplier"}
    lot = Lot.objects.get()
    assert (lot.code, lot.expires_on, stock_of(strip.pk, place.pk)) == ("L1", expires, {lot.pk: Decimal(12)})
    assert stock_of(shim.pk, place.pk) == {None: Decimal("2.5")}


def test_a_later_count_enters_the_difference_alone():
    product = ProductFactory()
    place = make_stock(product, 10)
    (less,) = count(place, counted(product, 7))
    assert (less.packages, less.source, less.destination.kind) == (3, place, Place.Kind.SCRAP)
    (more,) = count(place, counted(product, 9))
    assert (more.packages, more.source.kind) == (2, Place.Kind.SUPPLIER)
    assert count(place, counted(product, 9)) == []


def test_lots_are_counted_apart():
    product = ProductFactory()
    lot = Lot.objects.create(product=product, code="L1", received_on=today_on_sites())
    place = make_stock(product, 4, lot=lot)
    make_stock(product, 6)
    count(place, counted(product, 5, lot_code="L1"))
    assert stock_of(product.pk, place.pk) == {lot.pk: Decimal(5), None: Decimal(6)}


@pytest.mark.parametrize(
    ("packages", "says"),
    [([], "at least one product"), ([-1], "cannot lie anywhere; count from 0"), ([1, 2], "is counted twice")],
    ids=["nothing", "negative", "twice"],
)
def test_a_count_that_cannot_be_is_refused_whole(packages, says):
    product = ProductFactory()
    with pytest.raises(BadInput, match=says):
        count(warehouse(), *(counted(product, number) for number in packages))
    assert not Movement.objects.exists()


def test_nobody_counts_the_stock_of_a_supplier():
    with pytest.raises(Conflict, match="in a warehouse or on a truck"):
        count(Place.objects.create(kind=Place.Kind.SUPPLIER, name="Supplier"), counted(ProductFactory(), 1))
