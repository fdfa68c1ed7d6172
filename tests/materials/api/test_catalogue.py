"""The catalogue and the stock of a firm that starts, over the API."""

from __future__ import annotations

from decimal import Decimal

import pytest

from jobs.models import Person
from materials.calc.starting_products import STARTING_PRODUCTS
from materials.models import DetailProduct, Movement, Place, Product
from tests.factories import PersonFactory, ProductFactory, make_catalogue
from tests.openings.api.clients import API

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client_of):
    return client_of(Person.Role.OWNER)


def test_an_owner_starts_the_catalogue_and_counts_the_first_stock(owner):
    codes = [one.facts.code for one in STARTING_PRODUCTS]
    added = owner.post(f"{API}/products/start/", {"codes": codes}, format="json")
    assert (added.status_code, len(added.json())) == (201, len(codes))
    place = owner.post(f"{API}/places/", {"kind": "warehouse", "name": "Yard"}, format="json").json()["id"]
    lines = [{"product": one["id"], "packages": "12"} for one in added.json()]
    lines[0] |= {"lot_code": "L1", "expires_on": "2027-06-30"}
    counted = owner.post(f"{API}/stock/counts/", {"place": place, "lines": lines}, format="json")
    assert (counted.status_code, len(counted.json())) == (201, len(codes))
    held = owner.get(f"{API}/stock/").json()
    assert {(row["place"]["name"], Decimal(row["packages"])) for row in held} == {("Yard", Decimal(12))}


def test_a_wrong_line_of_a_count_is_named_and_nothing_is_entered(owner):
    place = Place.objects.create(kind="warehouse", name="Yard")
    product = ProductFactory()
    lines = [{"product": product.pk, "packages": 1}, {"product": product.pk, "packages": 2}]
    answer = owner.post(f"{API}/stock/counts/", {"place": place.pk, "lines": lines}, format="json")
    assert answer.status_code == 400
    assert [(fault["field"], fault["item"]) for fault in answer.json()["errors"]] == [("product", 1)]
    assert not Movement.objects.exists()


def test_a_product_in_use_is_not_retired_and_the_answer_names_its_uses(owner):
    product = next(iter(make_catalogue().values()))
    answer = owner.post(f"{API}/products/{product.pk}/retire/")
    assert (answer.status_code, answer.json()["code"]) == (409, "product-in-use")
    assert {row["type"] for row in answer.json()["conflicts"]} == {"detail_product"}
    use = DetailProduct.objects.get(product=product)
    assert owner.post(f"{API}/detail-products/{use.pk}/drop/").status_code == 204
    assert owner.post(f"{API}/products/{product.pk}/retire/").json()["retired_at"]
    assert owner.post(f"{API}/products/{product.pk}/reinstate/").json()["retired_at"] is None


def test_nobody_retires_by_a_change(owner):
    product = ProductFactory()
    owner.patch(f"{API}/products/{product.pk}/", {"retired_at": "2026-01-01T00:00Z"}, format="json")
    assert Product.objects.get().retired_at is None


def test_a_crew_lead_starts_no_catalogue(client_of):
    answer = client_of(PersonFactory(role=Person.Role.CREW_LEAD).role).post(f"{API}/products/start/", {})
    assert answer.status_code == 403
