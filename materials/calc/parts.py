"""The parts of an installation, by their names in the trade, and what each is measured in."""

from __future__ import annotations

from enum import StrEnum

from materials.calc.product import Measure


class Part(StrEnum):
    """One kind of thing an opening uses up."""

    SILL_STRIP = "sill strip"
    JAMB_STRIP = "jamb strip"
    HEAD_STRIP = "head strip"
    COUNTER_FLASHING_STRIP = "counter-flashing strip"
    PAN_MEMBRANE = "pan membrane"
    HEAD_MEMBRANE = "head membrane"
    CORNER_PIECE = "corner piece"
    DRIP_CAP = "drip cap"
    CASING_JOINT_BEAD = "casing joint bead"
    SETTING_BEAD = "setting bead"
    FLANGE_BEAD = "flange bead"
    AIR_SEAL_BEAD = "air seal bead"
    BACKER_ROD = "backer rod"
    STRAP = "strap"
    JAMB_SCREW = "jamb screw"
    FRAMING_SCREW = "framing screw"
    FLANGE_FASTENER = "flange fastener"
    SHIM = "shim"
    PRIMER = "primer"


_COUNTED = {
    Part.CORNER_PIECE, Part.STRAP, Part.JAMB_SCREW, Part.FRAMING_SCREW, Part.FLANGE_FASTENER, Part.SHIM,
}  # fmt: skip
_BEADS = {Part.CASING_JOINT_BEAD, Part.SETTING_BEAD, Part.FLANGE_BEAD, Part.AIR_SEAL_BEAD, Part.PRIMER}

MEASURES: dict[Part, Measure] = {
    part: Measure.COUNT if part in _COUNTED else Measure.VOLUME if part in _BEADS else Measure.LENGTH for part in Part
}
"""What each part is measured in: lengths of strip and rod, volumes of bead, counts of the rest."""
