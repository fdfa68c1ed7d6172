"""What is worth a look about the draw of one opening."""

from __future__ import annotations

from collections.abc import Iterable

from materials.calc.joint import joint_advice
from materials.calc.pan import back_dam_advice
from materials.calc.parts import Part
from materials.calc.product import ProductFacts
from materials.calc.ranges import product_ranges
from materials.calc.supply import Find
from openings.calc.advice import Advice
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.ranges import clearance_ranges, detail_ranges
from openings.calc.units import US, Units


def draw_advice(
    opening: OpeningFacts,
    detail: DetailFacts,
    find: Find,
    *,
    products: Iterable[ProductFacts] = (),
    units: Units = US,
) -> tuple[Advice, ...]:
    """Return what the rules of pan and joints say of one opening with its products, and what is out of its range.

    Args:
        products: those of the draw.
    """
    sealant = find(Part.AIR_SEAL_BEAD)
    movement_class_pct = sealant.movement_class_pct if sealant else None
    dam = back_dam_advice(opening, detail, units=units)
    joints = joint_advice(opening, detail, movement_class_pct=movement_class_pct, units=units)
    return (
        *((dam,) if dam else ()),
        *joints,
        *clearance_ranges(opening, detail, units=units),
        *detail_ranges(detail, units=units),
        *(one for product in products for one in product_ranges(product, units=units)),
    )
