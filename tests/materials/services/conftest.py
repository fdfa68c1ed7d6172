"""What several files of this folder start from."""

from __future__ import annotations

import pytest

from materials.calc.parts import Part
from materials.models import DetailProduct, Product
from tests.materials.day_cuts import ROLL_IN, WIDTH_IN
from tests.materials.rolls import make_strip


@pytest.fixture
def strip() -> Product:
    """The sill strip of every opening; no other part has a product."""
    product = make_strip("sill-strip", package_quantity=ROLL_IN, width_in=WIDTH_IN)
    DetailProduct.objects.create(detail=None, part=Part.SILL_STRIP.value, product=product)
    return product
