"""Products are retired, taken by list, and started from a list of nameless kinds."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from jobs.errors import NotFound
from materials import services
from materials.calc.parts import MEASURES, Part
from materials.calc.ranges import product_ranges
from materials.calc.starting_products import STARTING_PRODUCTS
from materials.errors import DoesNotServe, NoLongerServes, ProductInUse
from materials.models import DetailProduct, Product
from openings.errors import BadList
from tests.factories import DetailFactory, ProductFactory, make_catalogue, make_stock

pytestmark = pytest.mark.django_db

SHIM = {"code": "shim-1", "name": "Shim", "measure": "each", "package": "box", "package_quantity": Decimal(84)}


def row(**values: Any) -> Any:
    return {**SHIM, **values}


def choose(product: Product, part: Part = Part.SHIM, **values: Any) -> DetailProduct:
    return services.choose_product(part=part.value, product=product, **values)


def test_a_product_that_serves_a_part_is_not_retired_and_what_for_is_said():
    product = ProductFactory(name="Cedar shim")
    detail = DetailFactory(name="bay", job__code="mill")
    choose(product)
    choose(product, detail=detail)
    with pytest.raises(ProductInUse) as refused:
        services.retire_product(product_id=product.pk)
    assert refused.value.detail == (
        "Cedar shim still serves: shim of detail bay of mill; shim, as the standard of the shop. "
        "Choose another product first"
    )


def test_what_is_retired_keeps_its_stock_and_is_chosen_no_more_until_it_is_taken_back():
    product = ProductFactory()
    make_stock(product, 5)
    first = services.retire_product(product_id=product.pk)
    assert services.retire_product(product_id=product.pk).retired_at == first.retired_at
    with pytest.raises(DoesNotServe, match="is retired; take it back into service first"):
        choose(product)
    services.reinstate_product(product_id=product.pk)
    assert choose(product).product == product


def test_a_list_adds_changes_and_leaves_by_code():
    ProductFactory(**row(code="a", name="Old name"))
    ProductFactory(**row(code="b"))
    outcome = services.take_products([row(code="a"), row(code="b"), row(code="c")])
    assert [(line.code, line.does, line.changes) for line in outcome.lines] == [
        ("a", "changed", (("name", "Old name", "Shim"),)),
        ("b", "unchanged", ()),
        ("c", "added", ()),
    ]
    assert Product.objects.get(code="a").name == "Shim"
    assert outcome.count("added") == 1


def test_what_a_line_does_not_name_stays():
    ProductFactory(**row(chemistry="cedar"))
    services.take_products([{"code": "shim-1", "name": "Cedar shim"}])
    assert Product.objects.get().chemistry == "cedar"


def test_trying_a_list_writes_nothing_and_says_the_same():
    rows = [row(code="a"), row(code="b", package="crate")]
    tried = services.try_products(rows)
    assert not Product.objects.exists()
    (fault,) = tried.faults
    assert (fault.item, fault.field, fault.value) == (1, "package", "crate")
    with pytest.raises(BadList) as refused:
        services.take_products(rows)
    assert refused.value.faults == tried.faults
    assert not Product.objects.exists()


def test_a_list_is_held_to_what_history_rests_on_and_to_what_is_relied_on():
    products = make_catalogue(strip_width_in=12)
    DetailFactory(strip_width_in=Decimal(12))
    make_stock(products[Part.SHIM], 1)
    rows = [
        {"code": products[Part.SHIM].code, "package_quantity": Decimal(7)},
        {"code": products[Part.SILL_STRIP].code, "width_in": Decimal(4)},
    ]
    faults = services.try_products(rows).faults
    assert {(fault.item, fault.field) for fault in faults} >= {(0, "package_quantity"), (1, "width_in")}


@pytest.mark.parametrize("part", Part)
def test_the_starting_list_has_something_for_every_part(part):
    found = [one for one in STARTING_PRODUCTS if part in one.parts]
    assert found
    assert {one.facts.measure for one in found} == {MEASURES[part]}


@pytest.mark.parametrize("one", STARTING_PRODUCTS, ids=lambda one: one.facts.code)
def test_what_a_firm_starts_from_is_within_the_usual_ranges(one):
    """The published ones stand in `materials.calc.ranges` with their sources."""
    assert product_ranges(one.facts) == ()
    assert one.source


def test_a_firm_without_details_starts_with_the_whole_list_as_its_standards():
    started = services.start_catalogue(codes=[one.facts.code for one in STARTING_PRODUCTS])
    assert len(started) == len(STARTING_PRODUCTS)
    assert {Part(use.part) for use in DetailProduct.objects.filter(detail=None)} == set(Part)
    assert services.start_catalogue(codes=[STARTING_PRODUCTS[0].facts.code]) == []


def test_what_the_details_do_not_ask_for_is_added_and_no_standard():
    DetailFactory(strip_width_in=Decimal(12))
    services.start_catalogue(codes=["strip-6", "strip-12"])
    widths = DetailProduct.objects.filter(part=Part.SILL_STRIP.value).values_list("product__code", flat=True)
    assert (list(widths), Product.objects.count()) == (["strip-12"], 2)
    with pytest.raises(NotFound, match="the starting list has no product moon"):
        services.start_catalogue(codes=["moon"])


def test_a_choice_that_a_detail_relies_on_is_not_dropped():
    make_catalogue(strip_width_in=12)
    detail = DetailFactory(name="bay", strip_width_in=Decimal(12))
    standard = DetailProduct.objects.get(part=Part.SILL_STRIP.value)
    with pytest.raises(NoLongerServes, match=f"sill strip of detail bay of {detail.job.code}"):
        services.drop_choice(choice_id=standard.pk)
    own = choose(ProductFactory(measure="in", width_in=Decimal(14)), Part.SILL_STRIP, detail=detail)
    services.drop_choice(choice_id=standard.pk)
    with pytest.raises(NoLongerServes, match="no product is chosen for sill strip"):
        services.drop_choice(choice_id=own.pk)
    choose(standard.product, Part.SILL_STRIP)
    services.drop_choice(choice_id=own.pk)
    assert not DetailProduct.objects.filter(detail=detail).exists()
    with pytest.raises(NotFound):
        services.drop_choice(choice_id=own.pk)
