"""Figures of products outside their usual range are warned of."""

from __future__ import annotations

from decimal import Decimal

import pytest

from materials.calc.product import Measure, ProductFacts
from materials.calc.ranges import product_ranges

STRIP = {"measure": Measure.LENGTH, "package": "roll", "package_quantity": Decimal(900)}
ASPHALT = STRIP | {"chemistry": "rubberized asphalt", "width_in": Decimal(9), "exposure_limit_days": 60}
BUTYL = STRIP | {"chemistry": "Butyl", "width_in": Decimal(6), "min_application_temp_f": Decimal(25)}
TUBE = {"measure": Measure.VOLUME, "package": "cartridge", "package_quantity": Decimal("18.23")}
PRIMER = {"measure": Measure.VOLUME, "package": "can", "package_quantity": Decimal(231)}


def warned(values: dict) -> list[str]:
    return [one.reason for one in product_ranges(ProductFacts(code="one", name="One", **values))]


# Widths of self-adhered flashing 4, 6 and 9 in: dwmmag.com, September 2019; a fluid ounce has 1.8047 cu in, cartridges
# of 10.1 to 30 fl oz: midwestsealantsupply.com; movement from 12-1/2 %: ASTM C1472, scope. All else: from memory.
@pytest.mark.parametrize(
    ("values", "said"),
    [
        (ASPHALT, ""),
        (BUTYL, ""),
        (TUBE | {"movement_class_pct": Decimal(25)}, ""),
        (STRIP | {"width_in": Decimal(36)}, ""),
        (ASPHALT | {"width_in": Decimal(2)}, 'One: width 2"; the usual range is from 4" to 1\' 0"'),
        (ASPHALT | {"min_application_temp_f": Decimal(-10)}, "lowest application temperature -10 °F"),
        (ASPHALT | {"exposure_limit_days": 365}, "exposure limit days 365; the usual range is from 30 to 60"),
        (BUTYL | {"min_application_temp_f": Decimal(70)}, "70 °F; the usual range is from 25 °F to 45 °F"),
        (TUBE | {"package_quantity": Decimal("10.1")}, "package quantity 10.1 cu in; the usual range is from 18.2 cu"),
        (TUBE | {"movement_class_pct": Decimal(5)}, "movement class 5%; the usual range is from 12.5% to 100%"),
        (PRIMER | {"primer_sqft_per_gal": Decimal(2000)}, "2000 sq ft/gal; the usual range is from 200 sq ft/gal"),
    ],
)  # fmt: skip
def test_a_figure_outside_its_range_warns(values, said):
    found = warned(values)
    assert len(found) == bool(said)
    assert said in "".join(found)
