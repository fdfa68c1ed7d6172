"""The sizes that the product of a part must serve."""

from __future__ import annotations

from decimal import Decimal

from materials.calc.lines import DrawLine
from materials.calc.parts import Part
from materials.calc.product import Attachment
from materials.calc.sealant import ROD_AT_HEAD_AND_SILL, ROD_AT_JAMBS
from openings.calc.facts import DetailFacts
from openings.calc.geometry import has_head_membrane, head_gap_in, jamb_gap_in, pan_width_in

STRIPS = frozenset({Part.SILL_STRIP, Part.JAMB_STRIP, Part.HEAD_STRIP, Part.COUNTER_FLASHING_STRIP})
"""Cut as wide as the detail says; everything else is as wide as its product, and a pan's must be wide enough."""

IN_GAPS = frozenset({Part.AIR_SEAL_BEAD, Part.BACKER_ROD})
BEADS = {
    Part.CASING_JOINT_BEAD: "joint_bead_in",
    Part.SETTING_BEAD: "setting_bead_in",
    Part.FLANGE_BEAD: "flange_bead_in",
}

SEALED = {
    Part.PAN_MEMBRANE: "a pan holds water only where it is stuck down and sealed",
    Part.HEAD_MEMBRANE: "water from above runs behind a head membrane that is not stuck down",
}
"""What must be self-adhered, and why (four tests of a pan, Building Science Corp. Info-302; head: common practice)."""

_NO_GAP = Decimal(0)
_ANY = Decimal(0)


def width_to_be_in(part: Part, detail: DetailFacts) -> Decimal:
    """Return how wide the roll must be that a part of this detail is cut from; 0 where any width does."""
    if part in STRIPS:
        return detail.strip_width_in
    if part is Part.HEAD_MEMBRANE and has_head_membrane(detail):
        return detail.head_membrane_width_in
    return pan_width_in(detail) if part is Part.PAN_MEMBRANE and detail.has_pan else _ANY


def why_not_sealed(part: Part, name: str, attachment: Attachment | None) -> str:
    """Return why a product cannot seal as its part must, or nothing.

    >>> why_not_sealed(Part.PAN_MEMBRANE, "Felt", Attachment.MECHANICAL)
    'Felt is mechanically attached (AAMA 712), but a pan holds water only where it is stuck down and sealed'
    """
    if part not in SEALED or attachment is not Attachment.MECHANICAL:
        return ""
    return f"{name} is {attachment} ({attachment.standard}), but {SEALED[part]}"


def served_in(line: DrawLine) -> tuple[Decimal, ...]:
    """Return the sizes that the product of a line must serve, inches, all of them; none for primer.

    Air seal: each gap that there is, at jambs and at head and sill. Backer rod: those in which this line of it lies.
    Other beads: their size. All else: the width of the rough opening.

    Args:
        line: as `draw_of` gives it, not pieced.
    """
    part = line.rule.part
    if part in IN_GAPS:
        gaps_in = (
            _NO_GAP if line.rule is ROD_AT_HEAD_AND_SILL else jamb_gap_in(line.opening),
            _NO_GAP if line.rule is ROD_AT_JAMBS else head_gap_in(line.opening),
        )
        return tuple(gap_in for gap_in in gaps_in if gap_in)
    if part in BEADS:
        return (getattr(line.detail, BEADS[part]),)
    return () if part is Part.PRIMER else (line.opening.ro_width_in,)
