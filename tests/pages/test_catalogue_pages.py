"""The catalogue, the products of each part, the stock and what may touch what, as pages."""

from __future__ import annotations

import re
from decimal import Decimal
from html import unescape
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from jobs.models import Person
from materials import services
from materials.calc.parts import Part
from materials.calc.starting_products import STARTING_PRODUCTS
from materials.models import Compatibility, DetailProduct, Evidence, Movement, Place, Product
from materials.queries import stock_of
from tests.factories import DetailFactory, ProductFactory, make_catalogue, make_stock
from tests.openings.schedules.files import xlsx
from tests.pages.html import html_of
from tests.pages.people import signed_in

pytestmark = pytest.mark.django_db

STRIP = {
    "code": "strip-9", "name": "Strip, 9 in", "measure": "in", "package": "roll", "package_quantity": "75 ft",
    "width_in": "9", "trim_in": "1/8",
}  # fmt: skip
HEAD = ["Item number", "Description", "Counted in", "Package", "One package holds", "Width", "Color"]


def act(client: Client, page: str, verb: str, /, *args: Any, **values: Any) -> HttpResponse:
    return client.post(reverse(page, args=args), {"act": verb, **values}, follow=True)


def said(response: HttpResponse) -> str:
    return unescape(html_of(response))


def upload(client: Client, *rows: list[Any], head: list[str] = HEAD) -> HttpResponse:
    file = SimpleUploadedFile("products.xlsx", xlsx([head, *rows]))
    return act(client, "product-list-page", "look", file=file)


def test_an_empty_catalogue_leads_to_what_is_next_and_a_list_to_start_from(owner):
    page = said(owner.get(reverse("products-page")))
    for name in ("starting-products-page", "product-list-page", "new-product-page"):
        assert f'href="{reverse(name)}"' in page
    codes = [one.facts.code for one in STARTING_PRODUCTS]
    assert f"{len(codes)} products added" in said(act(owner, "starting-products-page", "start", codes=codes))
    assert DetailProduct.objects.filter(detail=None).values("part").distinct().count() == len(Part)
    assert "already in your catalogue" in said(owner.get(reverse("starting-products-page")))


def test_a_product_is_added_found_and_changed_with_lengths_as_people_write_them(warehouse):
    assert "Strip, 9 in is added" in said(act(warehouse, "new-product-page", "add_product", **STRIP))
    product = Product.objects.get()
    assert (product.package_quantity, product.width_in, product.trim_in) == (900, 9, Decimal("0.125"))
    assert "Strip, 9 in" in said(warehouse.get(reverse("products-page"), {"q": "strip 9"}))
    assert "No product has “moon”" in said(warehouse.get(reverse("products-page"), {"q": "moon"}))
    page = said(act(warehouse, "product-page", "save", product.pk, **STRIP | {"width_in": '6"', "spare_pct": "5"}))
    assert "is saved" in page
    product.refresh_from_db()
    assert (product.width_in, product.spare_pct, product.shortest_remnant_in) == (6, 5, 24)


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({"package_quantity": "a roll"}, "write it like"),
        ({"measure": "cu in", "package": "cartridge", "package_quantity": "a tube"}, "10.1 fl oz"),
        ({"spare_pct": "5", "spare_pieces": "2"}, "in percent and in pieces"),
        ({"trim_in": "80 ft"}, "it must be less than"),
        ({"code": "two words"}, "letters, numbers"),
    ],
)
def test_a_wrong_product_is_refused_where_it_was_typed_and_kept_in_the_form(warehouse, values, says):
    page = said(act(warehouse, "new-product-page", "add_product", **STRIP | values))
    assert says in page
    assert 'value="Strip, 9 in"' in page
    assert not Product.objects.exists()


def test_a_form_sent_back_untouched_changes_nothing(warehouse):
    services.start_catalogue(codes=[one.facts.code for one in STARTING_PRODUCTS])
    for product in Product.objects.all():
        before = Product.objects.filter(pk=product.pk).values().get()
        page = html_of(warehouse.get(reverse("product-page", args=[product.pk])))
        form = warehouse.get(reverse("product-page", args=[product.pk])).context["form"]
        sent = {name: value for name in form.fields if (value := form[name].value()) not in (None, False)}
        sent = {name: form.fields[name].prepare_value(value) for name, value in sent.items()}
        assert "is saved" in said(act(warehouse, "product-page", "save", product.pk, **sent)), page
        after = Product.objects.filter(pk=product.pk).values().get()
        assert {k: v for k, v in after.items() if k != "updated_at"} == {
            k: v for k, v in before.items() if k != "updated_at"
        }


def test_a_product_says_what_it_is_used_in_and_is_retired_once_nothing_rests_on_it(scheduler):
    product = make_catalogue()[Part.SHIM]
    make_stock(product, 3)
    page = said(scheduler.get(reverse("product-page", args=[product.pk])))
    assert "as the shop’s standard" in page
    assert "Warehouse: 3 boxes" in page
    assert "still serves: shim" in said(act(scheduler, "product-page", "retire", product.pk))
    use = DetailProduct.objects.get(product=product)
    assert "no longer a standard" in said(act(scheduler, "standards-page", "drop", choice=use.pk))
    assert "though there is stock of it?" in said(act(scheduler, "product-page", "retire", product.pk))
    assert "is retired" in said(act(scheduler, "product-page", "retire", product.pk, sure="yes"))
    assert product.name in said(scheduler.get(reverse("products-page"), {"show": "retired"}))
    assert "is back in service" in said(act(scheduler, "product-page", "reinstate", product.pk))


def test_a_list_is_shown_before_it_is_taken(scheduler):
    ProductFactory(code="shim", name="Old shim")
    page = upload(
        scheduler, ["shim", "Shim", "each", "Box", 100, "", ""], ["s9", "Strip", "inches", "roll", "75 ft", 9, "red"]
    )
    told = said(page)
    assert "The column “Color” was not read." in told
    assert "Name: Old shim → Shim" in told
    assert Product.objects.get().name == "Old shim"
    lines = unescape(re.search(r'name="lines" value="([^"]*)"', page.content.decode())[1])
    assert "1 product added, 1 changed" in said(act(scheduler, "product-list-page", "take", lines=lines))
    assert Product.objects.get(code="s9").width_in == 9


def test_what_is_wrong_in_a_list_is_named_by_row_and_column_and_nothing_is_taken(scheduler):
    page = said(
        upload(
            scheduler,
            ["a", "Strip", "inches", "crate", "75 ft", 9, ""],
            ["b", "Strip", "inches", "roll", "long", 9, ""],
            ["b", "Strip", "inches", "roll", 900, 9, ""],
            ["c", "Strip", "inches", "roll", 900, "=1+1", ""],
            ["d", "", "inches", "roll", 900, 9, ""],
        )
    )
    for cells in (
        '<th scope="row">2</th><td data-label="Column">Package</td><td data-label="Value"><code>crate</code>',
        '<th scope="row">3</th><td data-label="Column">One package holds</td>',
        '<th scope="row">4</th><td data-label="Column">Code</td>',
        '<th scope="row">5</th><td data-label="Column">Width</td>',
        '<th scope="row">6</th><td data-label="Column">Name</td>',
    ):
        assert cells in page
    assert 'value="take"' not in page
    assert not Product.objects.exists()


@pytest.mark.parametrize("lines", ["{}", "[1]", '[[1, {"code": 2}]]', "no json", '[[2, {"code": "x"}]]'])
def test_lines_that_nobody_looked_at_are_refused(scheduler, lines):
    assert act(scheduler, "product-list-page", "take", lines=lines).status_code == 400
    assert not Product.objects.exists()


def test_the_catalogue_is_exported_and_taken_again_without_a_change(scheduler):
    services.start_catalogue(codes=[one.facts.code for one in STARTING_PRODUCTS])
    book = scheduler.get(reverse("products-workbook"))
    file = SimpleUploadedFile("products.xlsx", book.content)
    page = said(act(scheduler, "product-list-page", "look", file=file))
    assert page.count("unchanged") == len(STARTING_PRODUCTS)


def test_products_are_chosen_by_part_with_the_reason_where_one_cannot_serve(scheduler):
    detail = DetailFactory(strip_width_in=Decimal(12))
    narrow = ProductFactory(name="Narrow strip", measure="in", package="roll", package_quantity=900, width_in=9)
    wide = ProductFactory(name="Wide strip", measure="in", package="roll", package_quantity=900, width_in=12)
    page = said(scheduler.get(reverse("detail-products-page", args=[detail.pk])))
    assert 'but Narrow strip is only 9" wide' in page
    assert "no standard is chosen" in page
    refused = act(scheduler, "detail-products-page", "choose_own", detail.pk, part="sill strip", product=narrow.pk)
    assert refused.status_code == 400
    page = said(act(scheduler, "detail-products-page", "choose_own", detail.pk, part="sill strip", product=wide.pk))
    assert "sill strip: Wide strip" in page
    own = DetailProduct.objects.get()
    refused = said(act(scheduler, "detail-products-page", "use_standard", detail.pk, choice=own.pk))
    assert "products would no longer serve" in refused
    act(scheduler, "standards-page", "choose", part="sill strip", product=wide.pk)
    assert "takes the standard again" in said(
        act(scheduler, "detail-products-page", "use_standard", detail.pk, choice=own.pk)
    )


def test_a_standard_takes_the_place_of_the_one_before_where_width_means_nothing(scheduler):
    first, second = ProductFactory(), ProductFactory()
    for product in (first, second):
        act(scheduler, "standards-page", "choose", part="shim", product=product.pk)
    assert DetailProduct.objects.get(part="shim").product == second


@pytest.mark.parametrize("count", [1, 20])
def test_the_products_of_each_part_take_as_many_queries_however_many(scheduler, count, django_assert_max_num_queries):
    for _ in range(count):
        DetailFactory()
        ProductFactory()
    with django_assert_max_num_queries(12):
        scheduler.get(reverse("standards-page"))


def test_the_first_stock_of_a_firm_is_counted_by_product_and_lot(owner):
    shim, strip = ProductFactory(name="Shim"), ProductFactory(name="Strip", package="roll")
    assert "Add your warehouse first" in said(owner.get(reverse("stock-page")))
    act(owner, "places-page", "add_place", kind="warehouse", name="Yard")
    yard = Place.objects.get(name="Yard")
    counted = {f"packages-{shim.pk}": "12", f"packages-{strip.pk}": "4", f"lot-{strip.pk}": "L7"}
    assert "Yard: 2 products changed" in said(act(owner, "stock-page", "count", place=yard.pk, **counted))
    page = said(owner.get(reverse("stock-page")))
    assert "12 boxes" in page
    assert "Strip, lot L7" in page
    (lot,) = strip.lots.all()
    act(owner, "stock-page", "count", place=yard.pk, **{f"packages-{strip.pk}-{lot.pk}": "3"})
    assert stock_of(strip.pk, yard.pk) == {lot.pk: Decimal(3)}
    assert "the books agree" in said(act(owner, "stock-page", "count", place=yard.pk, **{f"packages-{shim.pk}": "12"}))


@pytest.mark.parametrize(("typed", "says"), [("-1", "0 or more"), ("many", "number"), ("", "at least one product")])
def test_a_wrong_count_is_refused_and_kept_in_the_form(owner, typed, says):
    shim = ProductFactory(name="Shim")
    yard = Place.objects.create(kind="warehouse", name="Yard")
    page = said(act(owner, "stock-page", "count", place=yard.pk, **{f"packages-{shim.pk}": typed}))
    assert says in page
    assert f'name="packages-{shim.pk}" value="{typed}"' in page
    assert not Movement.objects.exists()


def test_a_place_is_renamed_and_a_name_is_there_once(owner):
    yard = Place.objects.create(kind="warehouse", name="Yard")
    Place.objects.create(kind="supplier", name="Supplier")
    assert "North yard is saved" in said(act(owner, "places-page", "rename", place=yard.pk, name="North yard"))
    assert "already" in said(act(owner, "places-page", "rename", place=yard.pk, name="Supplier"))


def test_a_document_and_a_pair_are_entered(warehouse):
    one, other = ProductFactory(name="Tape"), ProductFactory(name="Sealant")
    values = {"product": one.pk, "neighbor": other.pk, "verdict": "compatible", "document": "letter of May"}
    assert "Tape and Sealant: compatible" in said(act(warehouse, "compatibility-page", "record", **values))
    refused = said(act(warehouse, "compatibility-page", "record", **values | {"neighbor": one.pk}))
    assert "A product needs no evidence against itself." in refused
    assert Evidence.objects.count() == 1
    pair = {"chemistry": "Silicone", "neighbor": "butyl", "verdict": "test first", "source": "a letter"}
    for verdict in ("test first", "not compatible"):
        act(warehouse, "compatibility-page", "judge", **pair | {"verdict": verdict})
    known = Compatibility.objects.get()
    assert (known.chemistry, known.neighbor, known.verdict) == ("butyl", "silicone", "not compatible")


def test_a_crew_lead_reads_and_changes_nothing(db):
    lead = signed_in(Person.Role.CREW_LEAD)
    product = ProductFactory()
    detail = DetailFactory()
    Place.objects.create(kind="warehouse", name="Yard")
    for name, args in (
        ("products-page", []), ("product-page", [product.pk]), ("new-product-page", []), ("product-list-page", []),
        ("starting-products-page", []), ("standards-page", []), ("detail-products-page", [detail.pk]),
        ("stock-page", []), ("places-page", []), ("compatibility-page", []),
    ):  # fmt: skip
        page = said(lead.get(reverse(name, args=args)))
        assert 'name="act"' not in page, name
    assert act(lead, "new-product-page", "add_product", **STRIP).status_code == 403
