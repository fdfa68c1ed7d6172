from __future__ import annotations

from decimal import Decimal

import pytest

from materials.calc.parts import Part
from materials.calc.product import Measure, ProductFacts
from materials.calc.staged import ANCHORS, staged_of, with_staged
from openings.calc.staged import Staged, StagedFastener, StagedStrap
from openings.calc.terms import FastenerKind
from tests.materials.calc.drawn import FLANGED


def box(**facts: object) -> ProductFacts:
    return ProductFacts(
        code="box", name="Box", measure=Measure.COUNT, package="box", package_quantity=Decimal(100), **facts
    )


SIZED = box(fastener_kind=FastenerKind.NAIL, fastener_diameter_in=Decimal("0.12"), fastener_penetration_in=Decimal(1))
RATED = box(allowable_lb=Decimal(90))
NAIL = StagedFastener(name="Box", kind=FastenerKind.NAIL, diameter_in=Decimal("0.12"), penetration_in=Decimal(1))


@pytest.mark.parametrize(
    ("part", "product", "staged"),
    [
        (Part.FLANGE_FASTENER, SIZED, Staged(flange_fastener=NAIL)),
        (Part.FRAMING_SCREW, SIZED, Staged(framing_screw=NAIL)),
        (Part.FRAMING_SCREW, RATED, Staged(framing_screw=StagedFastener(name="Box", allowable_lb=Decimal(90)))),
        (Part.STRAP, RATED, Staged(strap=StagedStrap(name="Box", allowable_lb=Decimal(90)))),
        (Part.STRAP, SIZED, Staged()),
        (Part.FLANGE_FASTENER, box(), Staged()),
        (Part.FLANGE_FASTENER, box(fastener_kind=FastenerKind.SCREW), Staged()),
        (Part.JAMB_SCREW, SIZED, Staged()),
    ],
)
def test_what_a_product_says_of_anchors_is_staged_for_its_part_alone(part, product, staged):
    assert staged_of({part: product}.get) == staged
    assert (part in ANCHORS) or staged == Staged()
    assert with_staged(FLANGED, {part: product}.get).staged == staged
