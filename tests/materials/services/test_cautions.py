from __future__ import annotations

from decimal import Decimal

import pytest

from materials.models import Product
from materials.services.compose import compose
from tests.factories import make_catalogue
from tests.materials.crew_days import make_crew_day

pytestmark = pytest.mark.django_db


def cautions() -> str:
    return "\n".join(compose(make_crew_day(openings=2)).book.cautions)


def test_products_that_must_not_touch_are_named_once():
    products = make_catalogue()
    Product.objects.filter(pk=products["flange bead"].pk).update(chemistry="Plasticized PVC")
    Product.objects.filter(pk=products["sill strip"].pk).update(chemistry="rubberized asphalt")
    # Asphalt and plasticized PVC: fortifiber.com, product compatibility.
    assert cautions().count("flange-bead must not touch sill-strip") == 1


def test_what_is_only_untested_is_no_caution_on_the_sheet():
    make_catalogue()
    assert "touch" not in cautions()


@pytest.mark.parametrize(("low_f", "warned"), [(39, True), (41, False)], ids=["a cold morning", "warm enough"])
def test_a_day_too_cold_for_a_product_is_a_caution(low_f, warned):
    # Practical floor 40 °F: sealantsales.com, onsite consultation.
    products = make_catalogue()
    Product.objects.filter(pk=products["flange bead"].pk).update(min_application_temp_f=Decimal(40))
    day = make_crew_day(openings=1)
    job = compose(day).openings[0].job
    job.forecasts.create(on=day.on, low_f=low_f, high_f=60)
    assert any("flange-bead is applied from 40 °F" in caution for caution in compose(day).book.cautions) is warned
