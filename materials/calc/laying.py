"""In which step each part of a draw is laid, and what is left to draw once steps are recorded."""

from __future__ import annotations

from collections.abc import Iterable, Set

from materials.calc.lines import DrawLine, Rule
from materials.calc.parts import Part
from materials.calc.sealant import DRIP_CAP_BED
from openings.calc.step_code import StepCode

LAID_IN: dict[Part, StepCode] = {
    Part.SILL_STRIP: StepCode.SILL_STRIP,
    Part.JAMB_STRIP: StepCode.JAMB_STRIPS,
    Part.HEAD_STRIP: StepCode.HEAD_STRIP,
    Part.COUNTER_FLASHING_STRIP: StepCode.COUNTER_FLASHING,
    Part.PAN_MEMBRANE: StepCode.PAN,
    Part.HEAD_MEMBRANE: StepCode.HEAD_MEMBRANE,
    Part.CORNER_PIECE: StepCode.CORNER_PIECES,
    Part.DRIP_CAP: StepCode.DRIP_CAP,
    Part.CASING_JOINT_BEAD: StepCode.JOINT_BEAD,
    Part.SETTING_BEAD: StepCode.SETTING_BEAD,
    Part.FLANGE_BEAD: StepCode.SETTING_BEAD,
    Part.AIR_SEAL_BEAD: StepCode.AIR_SEAL,
    Part.BACKER_ROD: StepCode.AIR_SEAL,
    Part.STRAP: StepCode.STRAPS,
    Part.JAMB_SCREW: StepCode.STRAPS,
    Part.FRAMING_SCREW: StepCode.FASTEN,
    Part.FLANGE_FASTENER: StepCode.FASTEN,
    Part.SHIM: StepCode.SHIM,
}
"""The step that uses up each part. Primer goes under what is laid, so it follows those lines and has no step."""

_OTHERWISE: dict[Rule, StepCode] = {DRIP_CAP_BED: StepCode.DRIP_CAP}
"""Lines that are laid in another step than their part is as a rule."""


def step_of(line: DrawLine) -> StepCode:
    """Return the step in which a line of a draw, as `draw_of` gives it, is laid."""
    return _OTHERWISE.get(line.rule) or LAID_IN[line.rule.part]


def left_to_draw(lines: Iterable[DrawLine], *, laid: Set[str]) -> tuple[DrawLine, ...]:
    """Return the lines of a draw whose step is not among those laid.

    Args:
        lines: a draw before it is supplied: primer and laps of long runs come from what is left.
        laid: codes of steps.
    """
    return tuple(line for line in lines if step_of(line) not in laid) if laid else tuple(lines)
