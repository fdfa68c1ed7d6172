from __future__ import annotations

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from jobs.services import change
from materials.calc.parts import Part
from materials.models import DetailProduct
from materials.queries import Choices
from tests.factories import DetailFactory, ProductFactory, make_catalogue

pytestmark = pytest.mark.django_db


def strip(code: str, width_in: int):
    return ProductFactory(code=code, measure="in", package="roll", package_quantity=900, width_in=width_in)


def chosen(detail, part: Part = Part.SILL_STRIP) -> str | None:
    product = Choices([detail.pk]).find(part, detail_id=detail.pk, detail=detail.as_facts())
    return product.code if product else None


def test_a_standard_strip_has_the_width_of_the_detail():
    for width_in in (12, 9):
        product = strip(f"strip-{width_in}", width_in)
        DetailProduct.objects.create(part=Part.SILL_STRIP.value, product=product)
    assert chosen(DetailFactory(strip_width_in=Decimal(9))) == "strip-9"
    assert chosen(DetailFactory(strip_width_in=Decimal(12))) == "strip-12"


def test_a_standard_strip_of_another_width_is_none():
    make_catalogue(strip_width_in=12)
    detail = DetailFactory(strip_width_in=Decimal(9))
    assert chosen(detail) is None
    assert chosen(detail, Part.PAN_MEMBRANE) == "pan-membrane"


def test_the_choice_of_a_detail_comes_before_the_standard_and_serves_no_other():
    make_catalogue(strip_width_in=9)
    detail = DetailFactory()
    DetailProduct.objects.create(detail=detail, part=Part.SILL_STRIP.value, product=strip("own", 9))
    assert chosen(detail) == "own"
    assert chosen(detail, Part.HEAD_STRIP) == "head-strip"
    assert chosen(DetailFactory()) == "sill-strip"


def test_of_several_standards_the_first_by_code_is_taken():
    for code in ("b", "a"):
        DetailProduct.objects.create(part=Part.SILL_STRIP.value, product=strip(code, 9))
    assert chosen(DetailFactory()) == "a"


def test_a_part_takes_no_product_of_another_measure():
    with pytest.raises(ValidationError, match="sill strip is counted in inches, but nails is packed in pieces"):
        DetailProduct(part=Part.SILL_STRIP.value, product=ProductFactory(code="nails")).full_clean()


def test_a_pan_takes_no_membrane_that_is_only_fastened_and_one_in_use_stays_stuck():
    # A pan is a continuous waterproof surface: Building Science Corp. Info-302.
    felt = strip("felt", 12)
    change(felt, attachment="mechanically attached")
    for part in (Part.PAN_MEMBRANE, Part.HEAD_MEMBRANE):
        with pytest.raises(ValidationError, match=r"felt is mechanically attached \(AAMA 712\), but"):
            DetailProduct(part=part.value, product=felt).full_clean()
    DetailProduct(part=Part.SILL_STRIP.value, product=felt).full_clean()
    pan = make_catalogue()[Part.PAN_MEMBRANE]
    with pytest.raises(ValidationError, match="a pan holds water only where it is stuck down"):
        change(pan, attachment="mechanically attached")


def test_a_product_in_use_keeps_its_measure():
    product = make_catalogue()[Part.STRAP]
    with pytest.raises(ValidationError, match="strap is counted in pieces, but strap is packed in cubic inches"):
        change(product, measure="cu in")
