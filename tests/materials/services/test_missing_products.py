"""A sheet with parts that no product serves says so and is never complete."""

from __future__ import annotations

from decimal import Decimal

import pytest

from materials import services
from materials.calc.parts import Part
from materials.models import DetailProduct, Product, PullSheet
from materials.queries import job_draw, opening_draw, staging_on
from openings.services import change_crew_day
from tests.factories import DetailFactory, ProductFactory, make_catalogue, make_openings, make_remnant, make_stock
from tests.materials.crew_days import make_crew_day, texts, workbook_of, written

pytestmark = pytest.mark.django_db


def load_all(sheet: PullSheet) -> None:
    """Load every line that has a product in full."""
    for line in sheet.lines.filter(product__isnull=False):
        make_stock(line.product, line.packages or 1)
        services.load_line(sheet_id=sheet.pk, line_id=line.pk, packages=line.packages, by=None)


def truck(sheet: PullSheet):
    (found,) = staging_on(sheet.crew_day.on).trucks
    return found


def test_with_nothing_on_the_truck_nothing_is_loaded():
    sheet = written(make_crew_day())  # no product is chosen for any part
    assert sheet.missing_products
    assert (truck(sheet).loaded_count, len(truck(sheet).lines)) == (0, sheet.lines.count())
    assert not sheet.is_complete


def test_a_sheet_without_one_product_is_never_complete():
    make_catalogue()
    DetailProduct.objects.filter(part=Part.SHIM.value).delete()
    sheet = written(make_crew_day())
    load_all(sheet)
    assert sheet.missing_products == ["shim"]
    assert truck(sheet).loaded_count == sheet.lines.count() - 1
    assert not sheet.is_complete


def test_a_sheet_is_complete_once_every_line_is_loaded():
    make_catalogue()
    sheet = written(make_crew_day())
    assert (sheet.missing_products, sheet.is_complete) == ([], False)
    load_all(sheet)
    sheet = PullSheet.objects.get(pk=sheet.pk)
    assert sheet.is_complete
    assert truck(sheet).loaded_count == sheet.lines.count()


def test_a_sheet_is_not_complete_while_something_is_to_come_back():
    make_catalogue()
    crew_day = make_crew_day()
    load_all(written(crew_day))
    change_crew_day(crew_day_id=crew_day.pk, off_reason="snow")
    sheet = written(crew_day)
    assert sheet.lines.count()
    assert (truck(sheet).loaded_count, truck(sheet).to_load, truck(sheet).back_count) == (0, [], sheet.lines.count())
    assert not any(line.is_loaded for line in sheet.lines.all())
    assert not sheet.is_complete
    for line in sheet.lines.all():
        services.load_line(sheet_id=sheet.pk, line_id=line.pk, packages=0, by=None)
    assert truck(sheet).back_count == 0
    assert PullSheet.objects.get(pk=sheet.pk).is_complete


def test_a_line_that_takes_remnants_alone_is_loaded_once_that_is_entered():
    catalogue = make_catalogue()
    make_remnant(catalogue[Part.SILL_STRIP], 500)
    sheet = written(make_crew_day())
    line = sheet.lines.get(product=catalogue[Part.SILL_STRIP])
    assert (line.packages, line.is_loaded) == (0, False)
    assert services.load_line(sheet_id=sheet.pk, line_id=line.pk, packages=0, by=None).is_loaded


# The head of an opening of 36 in takes 36 + 2 × 12 in of strip (AAMA 2400-10 note 3).
@pytest.mark.parametrize("is_own", [True, False], ids=["chosen for the detail", "standard"])
def test_a_tape_that_was_chosen_too_narrow_leaves_a_line_with_the_reason(is_own):
    make_catalogue(strip_width_in=12)
    narrow = ProductFactory(code="tape-9", measure="in", package="roll", package_quantity=900, width_in=9)
    detail = DetailFactory(strip_width_in=Decimal(12))
    if is_own:
        DetailProduct.objects.create(detail=detail, part="sill strip", product=narrow)
        reason = 'sill strip is to be 1\' 0" wide, but tape-9 is only 9" wide'
    else:
        DetailProduct.objects.filter(part="sill strip").update(product=narrow)
        reason = 'no product is chosen for sill strip: it is to be 1\' 0" wide, and of the standards tape-9 is 9" wide'
    (opening,) = make_openings(1, job=detail.job)
    opening.detail = detail
    opening.save()
    draw = opening_draw(opening)
    assert [line.product for line in draw.lines if line.line.part is Part.SILL_STRIP] == [None]
    assert draw.missing == [{"part": "sill strip", "reason": reason}]
    assert job_draw(detail.job_id)["missing"] == draw.missing

    crew_day = make_crew_day(openings=0)
    crew_day_assignment = opening.assignments.create(crew_day=crew_day, person_h=3)
    sheet = written(crew_day)
    line = sheet.lines.get(product=None)
    assert (line.parts, line.packages, line.lacks, line.quantity) == ("sill strip", 0, reason, 60)
    assert sheet.missing_products == ["sill strip"]
    assert crew_day_assignment.crew_day == sheet.crew_day
    assert reason in texts(workbook_of(sheet), "Cover")


def test_primer_that_nobody_chose_is_on_the_sheet_though_nobody_can_say_how_much():
    catalogue = make_catalogue()
    Product.objects.filter(pk=catalogue[Part.SILL_STRIP].pk).update(needs_primer=True)
    DetailProduct.objects.filter(part="primer").delete()
    sheet = written(make_crew_day())
    line = sheet.lines.get(product=None)
    assert (line.parts, line.quantity, line.lacks) == ("primer", 0, "no product is chosen for primer")
    assert sheet.missing_products == ["primer"]
    cover = texts(workbook_of(sheet), "Cover")
    assert "Not complete: 1 part without a product" in cover
    assert cover[cover.index("primer") + 1] == "no product is chosen for primer"


def test_a_sheet_that_lacks_nothing_says_nothing_of_it():
    make_catalogue()
    assert not [text for text in texts(workbook_of(written(make_crew_day())), "Cover") if "complete" in text]


def test_choosing_the_product_makes_the_next_revision_complete():
    make_catalogue()
    DetailProduct.objects.filter(part=Part.SHIM.value).delete()
    crew_day = make_crew_day()
    assert written(crew_day).missing_products == ["shim"]
    services.choose_product(part="shim", product=Product.objects.get(code="shim"))
    second = written(crew_day)
    assert (second.revision, second.missing_products) == (2, [])
