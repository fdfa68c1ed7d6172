"""Choosing products over the API. Strips of 9 in at least, 12 recommended: AWDI manual p. 23."""

from __future__ import annotations

from decimal import Decimal

import pytest

from materials.models import DetailProduct
from tests.factories import DetailFactory, ProductFactory, make_openings

pytestmark = pytest.mark.django_db

CHOICES = "/api/v1/detail-products/"


@pytest.fixture
def narrow():
    return ProductFactory(code="tape-9", measure="in", package="roll", package_quantity=900, width_in=9)


@pytest.mark.parametrize("is_standard", [False, True])
def test_a_tape_that_cannot_serve_is_refused_when_it_is_chosen(scheduler, narrow, is_standard):
    detail = DetailFactory(strip_width_in=Decimal(12))
    body = {"detail": None if is_standard else detail.pk, "part": "sill strip", "product": narrow.pk}
    answer = scheduler.post(CHOICES, body)
    assert (answer.status_code, answer.json()["code"]) == (400, "does-not-serve")
    (fault,) = answer.json()["errors"]
    assert (fault["field"], fault["value"]) == ("product", "tape-9")
    assert '9" wide' in fault["detail"]
    assert "1' 0\"" in fault["detail"]
    assert not DetailProduct.objects.exists()


def test_a_detail_or_a_width_that_would_leave_a_part_without_its_product_stays(scheduler, narrow):
    detail = DetailFactory(name="bay", strip_width_in=Decimal(9))
    body = {"detail": detail.pk, "part": "sill strip", "product": narrow.pk}
    assert scheduler.post(CHOICES, body).status_code == 201
    answer = scheduler.patch(f"/api/v1/details/{detail.pk}/", {"strip_width_in": 12})
    assert (answer.status_code, answer.json()["code"]) == (409, "no-longer-serves")
    assert answer.json()["errors"][0]["field"] == "strip_width_in"
    assert f"sill strip of detail bay of {detail.job.code}" in answer.json()["detail"]
    assert scheduler.patch(f"/api/v1/details/{detail.pk}/", {"strip_width_in": 9, "name": "bow"}).status_code == 200
    answer = scheduler.patch(f"/api/v1/products/{narrow.pk}/", {"width_in": 6})
    assert (answer.status_code, answer.json()["code"]) == (409, "no-longer-serves")
    assert "detail bow" in answer.json()["detail"]
    choice = DetailProduct.objects.get()
    wide = ProductFactory(code="tape-12", measure="in", package="roll", package_quantity=900, width_in=12)
    assert scheduler.patch(f"{CHOICES}{choice.pk}/", {"product": wide.pk}).status_code == 200
    assert scheduler.patch(f"/api/v1/details/{detail.pk}/", {"strip_width_in": 12}).status_code == 200


def test_the_draw_names_what_is_missing(scheduler, narrow):
    (opening,) = make_openings(1)
    DetailProduct.objects.create(detail=opening.detail, part="sill strip", product=narrow)
    draw = scheduler.get(f"/api/v1/openings/{opening.pk}/draw/").json()
    assert "sill strip" not in {one["part"] for one in draw["missing"]}
    assert {"part": "shim", "reason": "no product is chosen for shim"} in draw["missing"]
    whole = scheduler.get(f"/api/v1/jobs/{opening.job_id}/draw/").json()
    assert whole["missing"] == draw["missing"]
