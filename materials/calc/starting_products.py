"""Products that a firm may start from, nameless kinds of the trade; it edits them to what it buys.

What a source calls a company default is from memory.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from decimal import Decimal
from typing import Any

from materials.calc.packs import CUIN_PER_GAL
from materials.calc.parts import Part
from materials.calc.product import Attachment, Measure, ProductFacts
from openings.calc.terms import FastenerKind

_STRIPS = (Part.SILL_STRIP, Part.JAMB_STRIP, Part.HEAD_STRIP, Part.COUNTER_FLASHING_STRIP)
_TRIM_IN = Decimal("0.125")
_SPARE_PCT = Decimal(5)
_CARTRIDGE_CUIN, _SAUSAGE_CUIN = Decimal("18.23"), Decimal("36.09")

_WIDTHS = (
    "widths of 4, 6 and 9 in: dwmmag.com, September 2019; roll, temperature and exposure: company default, not checked"
)
_FILLS = "10.1 and 20 fl oz: midwestsealantsupply.com, FAQS; temperature and shelf life: company default, not checked"
_ROD = "3/8 in rod for gaps of 3/16 to 1/4 in: threadsource.com, backer rod; roll: company default, not checked"
_NONE = "common practice, no source"


@dataclass(frozen=True, slots=True, kw_only=True)
class Starting:
    """A product to start from, the parts whose standard it becomes, and where its figures come from."""

    facts: ProductFacts
    parts: tuple[Part, ...]
    source: str

    def columns(self) -> dict[str, Any]:
        """Return the product by column; what is not known is left out."""
        given = {field.name: getattr(self.facts, field.name) for field in fields(ProductFacts)}
        return {name: getattr(value, "value", value) for name, value in given.items() if value is not None}


def _strip(width_in: int, *, feet: int) -> Starting:
    facts = ProductFacts(
        code=f"strip-{width_in}",
        name=f"Flashing strip, {width_in} in, self-adhered, 25 mil",
        measure=Measure.LENGTH,
        package="roll",
        package_quantity=Decimal(12 * feet),
        width_in=Decimal(width_in),
        trim_in=_TRIM_IN,
        chemistry="rubberized asphalt",
        attachment=Attachment.SELF_ADHERED,
        min_application_temp_f=Decimal(40),
        exposure_limit_days=60,
        spare_pct=_SPARE_PCT,
    )
    return Starting(facts=facts, parts=_STRIPS, source=_WIDTHS)


def _membrane(
    code: str, name: str, part: Part, width_in: int, *, feet: int, chemistry: str, least_f: int, days: int
) -> Starting:
    facts = ProductFacts(
        code=code,
        name=name,
        measure=Measure.LENGTH,
        package="roll",
        package_quantity=Decimal(12 * feet),
        width_in=Decimal(width_in),
        trim_in=_TRIM_IN,
        chemistry=chemistry,
        attachment=Attachment.SELF_ADHERED,
        min_application_temp_f=Decimal(least_f),
        exposure_limit_days=days,
        spare_pct=_SPARE_PCT,
    )
    return Starting(facts=facts, parts=(part,), source=_WIDTHS)


def _sealant(
    code: str, name: str, parts: tuple[Part, ...], chemistry: str, *, movement: str, is_sausage: bool = False
) -> Starting:
    facts = ProductFacts(
        code=code,
        name=name,
        measure=Measure.VOLUME,
        package="sausage" if is_sausage else "cartridge",
        package_quantity=_SAUSAGE_CUIN if is_sausage else _CARTRIDGE_CUIN,
        chemistry=chemistry,
        min_application_temp_f=Decimal(40),
        shelf_life_days=365,
        movement_class_pct=Decimal(movement),
    )
    return Starting(facts=facts, parts=parts, source=_FILLS)


def _pieces(code: str, name: str, part: Part, count: int, *, package: str = "box", **facts: Any) -> Starting:
    made = ProductFacts(
        code=code, name=name, measure=Measure.COUNT, package=package, package_quantity=Decimal(count), **facts
    )
    return Starting(facts=made, parts=(part,), source=_NONE)


STARTING_PRODUCTS: tuple[Starting, ...] = (
    _strip(6, feet=75),
    _strip(9, feet=75),
    _strip(12, feet=75),
    _membrane(
        "pan-12", "Pan membrane, 12 in, self-adhered, 40 mil", Part.PAN_MEMBRANE, 12, feet=50,
        chemistry="rubberized asphalt", least_f=40, days=60,
    ),
    _membrane(
        "head-6", "Head membrane, 6 in, butyl, 40 mil", Part.HEAD_MEMBRANE, 6, feet=75, chemistry="butyl", least_f=25,
        days=120,
    ),
    _membrane(
        "head-9", "Head membrane, 9 in, butyl, 40 mil", Part.HEAD_MEMBRANE, 9, feet=75, chemistry="butyl", least_f=25,
        days=120,
    ),
    _pieces("corner-10", "Corner piece, preformed, box of 10", Part.CORNER_PIECE, 10, spare_pieces=2),
    Starting(
        facts=ProductFacts(
            code="drip-cap-120",
            name="Drip cap, painted aluminum, 10 ft",
            measure=Measure.LENGTH,
            package="piece",
            package_quantity=Decimal(120),
            trim_in=_TRIM_IN,
            chemistry="aluminum",
        ),
        parts=(Part.DRIP_CAP,),
        source=_NONE,
    ),
    _sealant(
        "sealant-silicone-10", "Sealant, silicone, neutral cure, 10.1 fl oz",
        (Part.CASING_JOINT_BEAD, Part.SETTING_BEAD), "silicone, neutral cure", movement="50",
    ),
    _sealant(
        "sealant-polyurethane-10", "Sealant, polyurethane, one part, 10.1 fl oz", (Part.FLANGE_BEAD,), "polyurethane",
        movement="25",
    ),
    _sealant(
        "sealant-polyurethane-20", "Sealant, polyurethane, one part, 20 fl oz", (), "polyurethane", movement="25",
        is_sausage=True,
    ),
    _sealant(
        "air-seal-10", "Air seal sealant, acrylic latex, 10.1 fl oz", (Part.AIR_SEAL_BEAD,), "acrylic latex",
        movement="12.5",
    ),
    Starting(
        facts=ProductFacts(
            code="backer-rod-3-8",
            name="Backer rod, closed cell, 3/8 in, 100 ft",
            measure=Measure.LENGTH,
            package="roll",
            package_quantity=Decimal(1200),
            chemistry="polyethylene",
            serves_from_in=Decimal("0.125"),
            serves_up_to_in=Decimal("0.25"),
            spare_pct=_SPARE_PCT,
        ),
        parts=(Part.BACKER_ROD,),
        source=_ROD,
    ),
    _pieces("strap-100", "Strap, galvanized, box of 100", Part.STRAP, 100, spare_pieces=4),
    _pieces("jamb-screw-250", "Jamb screw, 3/4 in, coated, box of 250", Part.JAMB_SCREW, 250, spare_pct=_SPARE_PCT),
    _pieces(
        "framing-screw-250", "Framing screw, 1-5/8 in, coated, box of 250", Part.FRAMING_SCREW, 250,
        spare_pct=_SPARE_PCT, fastener_kind=FastenerKind.SCREW, fastener_diameter_in=Decimal("0.164"),
        fastener_penetration_in=Decimal(1),
    ),
    _pieces(
        "flange-fastener-500", "Flange fastener, 2 in roofing nail, galvanized, box of 500", Part.FLANGE_FASTENER, 500,
        spare_pct=_SPARE_PCT, fastener_kind=FastenerKind.NAIL, fastener_diameter_in=Decimal("0.12"),
        fastener_penetration_in=Decimal(1),
    ),
    _pieces("shim-84", "Shims, cedar, bundles in a box of 84", Part.SHIM, 84, spare_pct=Decimal(10)),
    Starting(
        facts=ProductFacts(
            code="primer-gallon",
            name="Primer for self-adhered flashing, 1 gal",
            measure=Measure.VOLUME,
            package="can",
            package_quantity=CUIN_PER_GAL,
            chemistry="synthetic rubber",
            primer_sqft_per_gal=Decimal(250),
            shelf_life_days=365,
        ),
        parts=(Part.PRIMER,),
        source="coverage of 200 to 350 sq ft a gallon: company default, not checked",
    ),
)  # fmt: skip
"""One kind at least for every part, in the order in which they are laid."""
