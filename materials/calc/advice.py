"""What is worth a look about the draw of one opening."""

from __future__ import annotations

from materials.calc.joint import joint_advice
from materials.calc.pan import back_dam_advice
from materials.calc.parts import Part
from materials.calc.supply import Find
from openings.calc.advice import Advice
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.units import US, Units


def draw_advice(opening: OpeningFacts, detail: DetailFacts, find: Find, *, units: Units = US) -> tuple[Advice, ...]:
    """Return what the rules of pan and joints say of one opening with its products."""
    sealant = find(Part.AIR_SEAL_BEAD)
    movement_class_pct = sealant.movement_class_pct if sealant else None
    dam = back_dam_advice(opening, detail, units=units)
    joints = joint_advice(opening, detail, movement_class_pct=movement_class_pct, units=units)
    return (dam, *joints) if dam else joints
