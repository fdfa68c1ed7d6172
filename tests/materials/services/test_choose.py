"""A product serves the part that it is chosen for. Strips of 9 in at least, 12 recommended: AWDI manual p. 23."""

from __future__ import annotations

from contextlib import suppress
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from materials import services
from materials.calc.parts import Part
from materials.errors import DoesNotServe, NoLongerServes
from materials.models import DetailProduct, Product
from openings.models import InstallationDetail
from tests.factories import DetailFactory, OpeningFactory, ProductFactory, make_catalogue
from tests.materials.at_once import at_once

pytestmark = pytest.mark.django_db


def tape(width_in: int | None, **values) -> Product:
    made = {"code": f"tape-{width_in}", "measure": "in", "package": "roll", "package_quantity": Decimal(900)}
    return ProductFactory(**made | {"width_in": width_in and Decimal(width_in)} | values)


def choose(product: Product, part: Part = Part.SILL_STRIP, detail: InstallationDetail | None = None) -> DetailProduct:
    return services.choose_product(part=part.value, product=product, detail=detail)


@pytest.mark.parametrize("part", [Part.SILL_STRIP, Part.JAMB_STRIP, Part.HEAD_STRIP])
def test_a_tape_too_narrow_for_the_strip_is_refused_with_the_reason(part):
    detail = DetailFactory(name="bay", strip_width_in=Decimal(12))
    with pytest.raises(DoesNotServe, match=f"tape-9 cannot serve {part} of detail bay: {part} is to be 1' 0") as no:
        choose(tape(9), part, detail)
    (fault,) = no.value.faults
    assert (fault.field, fault.value) == ("product", "tape-9")
    assert not DetailProduct.objects.exists()
    assert choose(tape(12), part, detail).product.code == "tape-12"


def test_a_standard_serves_some_detail_of_the_shop_or_there_is_none_yet():
    assert choose(tape(9)).detail is None
    DetailFactory(strip_width_in=Decimal(12))
    with pytest.raises(DoesNotServe, match='tape-10 cannot serve sill strip of any detail: tape-10 is 10" wide, but'):
        choose(tape(10))
    assert choose(tape(12)).product.code == "tape-12"


def test_a_rod_is_held_against_the_gaps_of_the_openings_that_have_the_detail():
    # Unit 35.5 × 53.5 in an opening of 36 × 54: a gap of 1/4 in all around.
    opening = OpeningFactory()
    thick = tape(None, code="rod-thick", serves_from_in=Decimal("0.5"))
    with pytest.raises(DoesNotServe, match='rod-thick serves from 1/2", but backer rod is for a gap of 1/4"'):
        choose(thick, Part.BACKER_ROD, opening.detail)
    wider = {"unit_width_in": Decimal(35), "unit_height_in": Decimal(53)}
    OpeningFactory(job=opening.job, detail=opening.detail, **wider)
    assert choose(thick, Part.BACKER_ROD, opening.detail).product == thick  # it serves one of them


def test_a_primer_of_unknown_coverage_is_refused():
    primer = ProductFactory(code="primer", measure="cu in", package="can", package_quantity=231)
    with pytest.raises(DoesNotServe, match="how far a gallon of primer goes"):
        choose(primer, Part.PRIMER)
    Product.objects.update(primer_sqft_per_gal=250)
    assert choose(Product.objects.get(), Part.PRIMER).pk


def test_another_measure_and_a_second_choice_are_refused_as_before():
    detail = DetailFactory(strip_width_in=Decimal(9))
    with pytest.raises(ValidationError, match="is packed in"):
        choose(ProductFactory(), detail=detail)
    choose(tape(9), detail=detail)
    with pytest.raises(ValidationError, match="already"):
        choose(tape(12), detail=detail)


def test_a_choice_is_changed_to_what_serves():
    detail = DetailFactory(strip_width_in=Decimal(12))
    choice = choose(tape(12), detail=detail)
    with pytest.raises(DoesNotServe):
        services.change_choice(choice_id=choice.pk, product=tape(9))
    choice.refresh_from_db()
    assert choice.product.code == "tape-12"
    assert services.change_choice(choice_id=choice.pk, product=tape(18)).product.code == "tape-18"


@pytest.mark.parametrize("is_own", [True, False], ids=["its own", "the standard"])
def test_a_detail_is_not_revised_beyond_its_product(is_own):
    detail = DetailFactory(name="bay", strip_width_in=Decimal(9))
    choose(tape(9), detail=detail if is_own else None)
    with pytest.raises(NoLongerServes, match=f"sill strip of detail bay of {detail.job.code}: .*1' 0\" wide") as no:
        services.revise_detail(detail_id=detail.pk, strip_width_in=Decimal(12))
    assert [fault.field for fault in no.value.faults] == ["strip_width_in"]
    detail.refresh_from_db()
    assert detail.strip_width_in == 9
    assert services.revise_detail(detail_id=detail.pk, end_lap_in=Decimal(3)).end_lap_in == 3
    if not is_own:
        choose(tape(12), detail=detail)
        assert services.revise_detail(detail_id=detail.pk, strip_width_in=Decimal(12)).strip_width_in == 12


def test_a_detail_whose_bead_outgrows_its_sealant_is_not_revised():
    detail = DetailFactory(name="bay")
    sealant = ProductFactory(
        code="sealant", measure="cu in", package="cartridge", package_quantity=18, serves_up_to_in=Decimal("0.5")
    )
    choose(sealant, Part.FLANGE_BEAD, detail)
    with pytest.raises(NoLongerServes, match='sealant serves up to 1/2", but flange bead is for a bead of 3/4"'):
        services.revise_detail(detail_id=detail.pk, flange_bead_in=Decimal("0.75"))


def test_a_detail_without_products_is_revised_freely():
    detail = DetailFactory(strip_width_in=Decimal(9))
    assert services.revise_detail(detail_id=detail.pk, strip_width_in=Decimal(12)).strip_width_in == 12


@pytest.mark.parametrize("is_own", [True, False], ids=["its own", "the standard"])
def test_a_product_keeps_the_width_that_a_detail_relies_on(is_own):
    detail, product = DetailFactory(name="bay", strip_width_in=Decimal(12)), tape(12)
    choose(product, detail=detail if is_own else None)
    with pytest.raises(NoLongerServes, match=f"sill strip of detail bay of {detail.job.code}") as no:
        services.change_product(product_id=product.pk, width_in=Decimal(9))
    assert "width_in" in [fault.field for fault in no.value.faults]
    product.refresh_from_db()
    assert product.width_in == 12
    assert services.change_product(product_id=product.pk, name="Tape").name == "Tape"


def test_what_nobody_relies_on_may_change():
    make_catalogue(strip_width_in=9)
    DetailFactory(strip_width_in=Decimal(9))
    spare = tape(12)
    assert services.change_product(product_id=spare.pk, width_in=Decimal(9)).width_in == 9


def test_of_many_that_would_lose_their_product_a_few_are_named():
    product = tape(12)
    for number in range(4):
        detail = DetailFactory(name=f"bay {number}", strip_width_in=Decimal(12))
        for part in (Part.SILL_STRIP, Part.HEAD_STRIP):
            choose(product, part, detail)
    with pytest.raises(NoLongerServes, match=r"bay 0 .*bay 1 .*; and 3 more"):
        services.change_product(product_id=product.pk, width_in=Decimal(9))


@pytest.mark.django_db(transaction=True)
def test_a_choice_and_a_revision_at_once_leave_no_strip_too_wide():
    detail, product = DetailFactory(strip_width_in=Decimal(9)), tape(9)

    def chosen() -> None:
        with suppress(DoesNotServe):
            choose(product, detail=detail)

    at_once(chosen, lambda: services.revise_detail(detail_id=detail.pk, strip_width_in=Decimal(12)))
    detail.refresh_from_db()
    assert not (DetailProduct.objects.exists() and detail.strip_width_in == 12)
