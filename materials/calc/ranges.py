"""Figures of a product outside the usual range of what it is made of: a warning, never a refusal."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from materials.calc.product import Measure, ProductFacts
from openings.calc.advice import Advice
from openings.calc.ranges import Range, warnings
from openings.calc.units import US, Units

_NOT_CHECKED = "usual range of such products, company default; not checked"


def _self_adhered(
    *, width_in: tuple[int, int], least_temp_f: tuple[int, int | None], exposed_days: tuple[int, int]
) -> tuple[Range, ...]:
    return (
        _range("width_in", "in", *width_in),
        _range("min_application_temp_f", "f", *least_temp_f),
        _range("exposure_limit_days", "", *exposed_days),
    )


def _range(field: str, measure: str, least: int, most: int | None) -> Range:
    return Range(
        field=field,
        least=Decimal(least),
        most=None if most is None else Decimal(most),
        measure=measure,
        source=_NOT_CHECKED,
    )


_SELF_ADHERED: Mapping[str, tuple[Range, ...]] = {
    "asphalt": _self_adhered(width_in=(4, 12), least_temp_f=(25, 40), exposed_days=(30, 60)),
    "butyl": _self_adhered(width_in=(4, 9), least_temp_f=(25, 45), exposed_days=(90, 120)),
    "acrylic": _self_adhered(width_in=(3, 9), least_temp_f=(0, None), exposed_days=(180, 365)),
}
"""By what the adhesive is made of, as the chemistry of a product says, of what comes in rolls: from memory.

Of rubberized asphalt and butyl that 4, 6 and 9 in are typical widths: dwmmag.com, September 2019.
"""

_SEALANT: Mapping[str, Range] = {
    "cartridge": Range(
        field="package_quantity",
        least=Decimal("18.2"),
        most=Decimal("54.2"),
        measure="cuin",
        source="10.1 to 30 fl oz: midwestsealantsupply.com, FAQS; a fluid ounce has 1.8047 cu in",
    ),
    "sausage": Range(
        field="package_quantity",
        least=Decimal("18"),
        most=Decimal("36.7"),
        measure="cuin",
        source="300 to 600 mL (20 fl oz): midwestsealantsupply.com, FAQS; a fluid ounce has 1.8047 cu in",
    ),
}

_MOVEMENT = Range(
    field="movement_class_pct",
    least=Decimal("12.5"),
    most=Decimal(100),
    measure="%",
    source="ASTM C920 classes from 12-1/2 (ASTM C1472, scope); 100 is the highest, not checked",
)
_PRIMER = _range("primer_sqft_per_gal", " sq ft/gal", 200, 350)


def product_ranges(product: ProductFacts, *, units: Units = US) -> tuple[Advice, ...]:
    """Return a warning for each figure of a product outside the usual range of its kind."""
    ranges = [_MOVEMENT, _PRIMER]
    if product.measure is Measure.LENGTH and product.package == "roll":
        made_of = product.chemistry.casefold()
        ranges += next((found for word, found in _SELF_ADHERED.items() if word in made_of), ())
    if product.measure is Measure.VOLUME and product.package in _SEALANT:
        ranges.append(_SEALANT[product.package])
    figures = ((published, getattr(product, published.field)) for published in ranges)
    given = ((published, None if figure is None else Decimal(figure)) for published, figure in figures)
    return tuple(warnings(given, of=product.name, units=units))
