"""The steps of an installation in lay order, and what must precede what."""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from openings.calc.facts import DetailFacts, HeadFlashing, Mounting
from openings.calc.geometry import is_bedded_drip_cap, is_flashed_here
from openings.errors import StepUnknown


class StepCode(StrEnum):
    """One step, by the short name under which it is recorded."""

    FOLD_BARRIER = "fold-barrier"
    SILL_STRIP = "sill-strip"
    CORNER_PIECES = "corner-pieces"
    PAN = "pan"
    JAMB_STRIPS = "jamb-strips"
    JOINT_BEAD = "joint-bead"
    SETTING_BEAD = "setting-bead"
    SET_UNIT = "set-unit"
    SHIM = "shim"
    FASTEN = "fasten"
    TOOL_BEAD = "tool-bead"
    DRIP_CAP = "drip-cap"
    COUNTER_FLASHING = "counter-flashing"
    HEAD_MEMBRANE = "head-membrane"
    HEAD_STRIP = "head-strip"
    CLOSE_BARRIER = "close-barrier"
    AIR_SEAL = "air-seal"


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step, its sentence for the crew, and the codes of the steps that must precede it directly."""

    code: StepCode
    title: str
    after: tuple[StepCode, ...]


_NEEDS: dict[StepCode, tuple[StepCode, ...]] = {
    StepCode.FOLD_BARRIER: (),
    StepCode.SILL_STRIP: (StepCode.FOLD_BARRIER,),
    StepCode.CORNER_PIECES: (StepCode.SILL_STRIP,),
    StepCode.PAN: (StepCode.SILL_STRIP, StepCode.CORNER_PIECES),
    StepCode.JAMB_STRIPS: (StepCode.SILL_STRIP, StepCode.CORNER_PIECES, StepCode.PAN, StepCode.FASTEN),
    StepCode.JOINT_BEAD: (),
    StepCode.SETTING_BEAD: (StepCode.SILL_STRIP, StepCode.PAN, StepCode.JAMB_STRIPS, StepCode.JOINT_BEAD),
    StepCode.SET_UNIT: (
        StepCode.SILL_STRIP,
        StepCode.PAN,
        StepCode.JAMB_STRIPS,
        StepCode.JOINT_BEAD,
        StepCode.SETTING_BEAD,
    ),
    StepCode.SHIM: (StepCode.SET_UNIT,),
    StepCode.FASTEN: (StepCode.SHIM,),
    StepCode.TOOL_BEAD: (StepCode.FASTEN,),
    StepCode.DRIP_CAP: (StepCode.FASTEN, StepCode.TOOL_BEAD, StepCode.JAMB_STRIPS, StepCode.HEAD_MEMBRANE),
    StepCode.COUNTER_FLASHING: (StepCode.DRIP_CAP,),
    StepCode.HEAD_MEMBRANE: (
        StepCode.FASTEN,
        StepCode.TOOL_BEAD,
        StepCode.JAMB_STRIPS,
        StepCode.DRIP_CAP,
        StepCode.COUNTER_FLASHING,
    ),
    StepCode.HEAD_STRIP: (
        StepCode.JAMB_STRIPS,
        StepCode.FASTEN,
        StepCode.TOOL_BEAD,
        StepCode.DRIP_CAP,
        StepCode.COUNTER_FLASHING,
        StepCode.HEAD_MEMBRANE,
    ),
    StepCode.CLOSE_BARRIER: (StepCode.HEAD_STRIP,),
    StepCode.AIR_SEAL: (StepCode.FASTEN,),
}
"""What a step laps over or rests on. Holds for every detail: a step that a detail lacks, or that it puts
later (jamb strips over a flange, a drip cap over the membrane), is left out of `Step.after`."""

_TITLES = {
    StepCode.FOLD_BARRIER: "Cut the barrier at 45° from the top corners, fold the head flap up and tape it",
    StepCode.SILL_STRIP: "Fasten the sill strip along the rough-opening edge only; its lower edge stays free",
    StepCode.CORNER_PIECES: "Set a corner piece in each lower corner",
    StepCode.PAN: "Lay the pan membrane over the sill and up both trimmers",
    StepCode.JAMB_STRIPS: "Lay both jamb strips over the sill strip",
    StepCode.JOINT_BEAD: "Seal the joint of casing and jamb and tool it",
    StepCode.SETTING_BEAD: "Run the bead near the outer edge of the casing: jambs and head, not the sill",
    StepCode.SET_UNIT: "Set the unit, sill first, and tilt it up; support it until it is fastened",
    StepCode.SHIM: "Shim level, plumb and square; the sash must run freely",
    StepCode.FASTEN: "Screw straps to the jambs and fasten them to the framing inside",
    StepCode.TOOL_BEAD: "See squeeze-out on every sealed side and tool it",
    StepCode.DRIP_CAP: "Set the drip cap past the trim at both sides",
    StepCode.COUNTER_FLASHING: "Lap the counter-flashing strip over the upright leg of the drip cap",
    StepCode.HEAD_MEMBRANE: "Lay the head membrane down onto the top of the unit, over the jamb strips",
    StepCode.HEAD_STRIP: "Lay the head strip over both jamb strips and all below it",
    StepCode.CLOSE_BARRIER: "Fold the head flap down over the head strip and tape its cuts",
    StepCode.AIR_SEAL: "Seal inside around the unit over backer rod",
}

_TITLES_BY_MOUNTING = {
    (
        StepCode.SETTING_BEAD,
        Mounting.FLANGE,
    ): "Run the bead on the back of the flange: head and jambs, not the sill",
    (
        StepCode.SETTING_BEAD,
        Mounting.BOX_FRAME,
    ): "Run the bead for the frame, with a gap at each end of the sill to drain",
    (StepCode.FASTEN, Mounting.FLANGE): "Fasten the flange",
}

_TITLES_WITHOUT_STRAPS = {
    Mounting.CASING: "Fasten through the casing",
    Mounting.BOX_FRAME: "Fasten through the frame",
}


def steps_for(detail: DetailFacts) -> tuple[Step, ...]:
    """Return the steps of one detail in lay order; every step stands behind those it needs.

    Where the barrier follows the window (A, B), it is not among the steps: others lay it later, tucked under
    the sill strip and over jamb and head strips. Where it precedes the window (A1, B1), its head flap is
    folded up first and closed last.

    Source:
        Sill before jambs before head, pan before the window: AWDI manual p. 23; BSESC/DOE, sill pan page.
        Jamb flashing before (B, B1) or after (A, A1) the window: AAMA 2400-10 cl. 5.7.3.
        Corner pieces, casing joint, setting bead, squeeze-out, head membrane: common practice, no source.
    """
    codes = _order(detail)
    return tuple(
        Step(
            code=code,
            title=_title(code, detail),
            after=tuple(needed for needed in _NEEDS[code] if needed in codes[:place]),
        )
        for place, code in enumerate(codes)
    )


def first_missing(code: str, *, done: Set[str], steps: Sequence[Step]) -> Step | None:
    """Return the first step in lay order that must still precede `code`, or None where it may be done now.

    Args:
        done: codes of the steps that are recorded.
        steps: the lay order, from `steps_for`.

    Raises:
        StepUnknown: the lay order has no such step.
    """
    needed = {code}
    if code not in {step.code for step in steps}:
        raise StepUnknown(f"{code} is not a step here; the steps are {', '.join(step.code for step in steps)}")
    for step in reversed(steps):
        if step.code in needed:
            needed.update(step.after)
    return next((step for step in steps if step.code in needed - {code} - done), None)


def _order(detail: DetailFacts) -> tuple[StepCode, ...]:
    """Return the codes of the steps that this detail has, in lay order."""
    flashed = is_flashed_here(detail)
    over_flange = detail.jamb_flashing_over_flange
    flap = flashed and detail.barrier_before_window
    cap = detail.head_flashing
    has_step = (
        (StepCode.FOLD_BARRIER, flap),
        (StepCode.SILL_STRIP, flashed),
        (StepCode.CORNER_PIECES, detail.has_pan and detail.has_corner_pieces),
        (StepCode.PAN, detail.has_pan),
        (StepCode.JAMB_STRIPS, flashed and not over_flange),
        (StepCode.JOINT_BEAD, detail.mounting is Mounting.CASING and detail.joint_bead_in > 0),
        (StepCode.SETTING_BEAD, _bead_in(detail) > 0),
        (StepCode.SET_UNIT, True),
        (StepCode.SHIM, True),
        (StepCode.FASTEN, True),
        (StepCode.TOOL_BEAD, detail.mounting is not Mounting.FLANGE and _bead_in(detail) > 0),
        (StepCode.JAMB_STRIPS, flashed and over_flange),
        (StepCode.DRIP_CAP, cap is HeadFlashing.BEFORE_MEMBRANE),
        (StepCode.COUNTER_FLASHING, cap is HeadFlashing.BEFORE_MEMBRANE),
        (StepCode.HEAD_MEMBRANE, flashed and detail.has_head_membrane),
        (StepCode.DRIP_CAP, is_bedded_drip_cap(detail)),
        (StepCode.HEAD_STRIP, flashed),
        (StepCode.CLOSE_BARRIER, flap),
        (StepCode.AIR_SEAL, detail.has_air_seal),
    )
    return tuple(code for code, is_there in has_step if is_there)


def _bead_in(detail: DetailFacts) -> Decimal:
    return detail.flange_bead_in if detail.mounting is Mounting.FLANGE else detail.setting_bead_in


def _title(code: StepCode, detail: DetailFacts) -> str:
    if code is StepCode.FASTEN and not detail.has_straps and detail.mounting in _TITLES_WITHOUT_STRAPS:
        return _TITLES_WITHOUT_STRAPS[detail.mounting]
    if code is StepCode.JAMB_STRIPS and detail.jamb_flashing_over_flange:
        return "Lay both jamb strips over the flange and over the sill strip"
    if code is StepCode.DRIP_CAP and is_bedded_drip_cap(detail):
        return "Bed the drip cap in sealant over the membrane, past the trim at both sides"
    return _TITLES_BY_MOUNTING.get((code, detail.mounting), _TITLES[code])
