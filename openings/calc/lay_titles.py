"""What a crew does at each step, in one sentence, and where it is said."""

from __future__ import annotations

from collections.abc import Callable

from openings.calc.facts import DetailFacts
from openings.calc.geometry import is_bedded_drip_cap
from openings.calc.step_code import StepCode
from openings.calc.terms import Mounting, SillBead

CP = "common practice, no source"

SOURCES = {
    StepCode.FOLD_BARRIER: "JLC, flashing a window in new construction: cuts at the head",
    StepCode.SILL_STRIP: "AAMA 2400-10 cl. 5.7.3.2, 5.7.3.3; AWDI manual p. 23",
    StepCode.CORNER_PIECES: CP,
    StepCode.PAN: ("Building Science Corp. Info-302; BSESC/DOE, sill pan page; nothing through the base: trade page"),
    StepCode.JAMB_STRIPS: "AAMA 2400-10 cl. 5.7.3; AWDI manual p. 23; lower ends: AAMA 2400 (text not checked)",
    StepCode.JOINT_BEAD: CP,
    StepCode.SETTING_BEAD: (
        "AAMA 2400-10 cl. 5.7.3.4; sill: Building Science Corp. Info-302, Pella 80WW0101; casing: common practice"
    ),
    StepCode.SET_UNIT: "JELD-WEN JII-90025; corners: AAMA 2400-10 cl. 5.7.3.4; sill: Building Science Corp. Info-302",
    StepCode.SHIM: "JELD-WEN JPG006; pairs: trade page greenyplace",
    StepCode.FASTEN: "straps: common practice; nothing through the base of a pan: trade page",
    StepCode.TOOL_BEAD: CP,
    StepCode.DRIP_CAP: "AWDI manual p. 23; bedding and upright leg: common practice, no source",
    StepCode.COUNTER_FLASHING: CP,
    StepCode.HEAD_MEMBRANE: CP,
    StepCode.HEAD_STRIP: "AAMA 2400-10 note 3; AWDI manual p. 23",
    StepCode.CLOSE_BARRIER: "JLC, flashing a window in new construction: cuts at the head",
    StepCode.AIR_SEAL: CP,
}


def title_of(code: StepCode, detail: DetailFacts) -> str:
    """Return the title of a step of this detail: the work of the crew there."""
    varying = _BY_DETAIL.get(code)
    return varying(detail) if varying else _TITLES[code]


_TITLES = {
    StepCode.FOLD_BARRIER: "Cut the WRB at 45° from the top corners, fold the head flap up and tape it",
    StepCode.CORNER_PIECES: "Set a corner piece in each lower corner",
    StepCode.PAN: "Lay the pan membrane over the sill and up both trimmers",
    StepCode.JOINT_BEAD: "Seal the joint of casing and jamb and tool it",
    StepCode.SET_UNIT: "Set the unit, sill first, and tilt it up; support it until it is fastened",
    StepCode.SHIM: "Shim level, plumb and square; the sash must run freely",
    StepCode.TOOL_BEAD: "See squeeze-out on every sealed side and tool it",
    StepCode.COUNTER_FLASHING: "Lap the counter-flashing strip over the upright leg of the drip cap",
    StepCode.HEAD_MEMBRANE: "Lay the head membrane down onto the top of the unit, over the jamb strips",
    StepCode.HEAD_STRIP: "Lay the head strip over both jamb strips and all below it",
    StepCode.CLOSE_BARRIER: "Fold the head flap down over the head strip and tape its cuts",
    StepCode.AIR_SEAL: "Seal inside around the unit over backer rod",
}

_BEAD_LIES = {
    Mounting.FLANGE: "on the back of the flange",
    Mounting.CASING: "near the outer edge of the casing",
    Mounting.BOX_FRAME: "for the frame",
}
_BEAD_RUNS = {
    SillBead.OPEN: "jambs and head, not the sill",
    SillBead.DRAIN_GAPS: "jambs, head and sill, with a gap at each end of the sill to drain",
    SillBead.FULL: "jambs, head and sill",
}
_FASTENED = {
    Mounting.FLANGE: "Fasten the flange",
    Mounting.CASING: "Fasten through the casing",
    Mounting.BOX_FRAME: "Fasten through the frame",
}


def _sill_strip(detail: DetailFacts) -> str:
    if detail.barrier_before_window:
        return "Fasten the sill strip over the WRB, along the rough-opening edge"
    return "Fasten the sill strip along the rough-opening edge only; its lower edge stays free"


def _jamb_strips(detail: DetailFacts) -> str:
    if detail.jamb_flashing_over_flange:
        return "Lay both jamb strips over the flange and over the sill strip"
    return "Lay both jamb strips over the sill strip"


def _setting_bead(detail: DetailFacts) -> str:
    return f"Run the bead {_BEAD_LIES[detail.mounting]}: {_BEAD_RUNS[detail.sill_bead]}"


def _fasten(detail: DetailFacts) -> str:
    if detail.has_straps and detail.mounting is not Mounting.FLANGE:
        return "Screw straps to the jambs and fasten them to the framing inside"
    return _FASTENED[detail.mounting]


def _drip_cap(detail: DetailFacts) -> str:
    if not is_bedded_drip_cap(detail):
        return "Set the drip cap past the trim at both sides"
    where = " over the membrane" if detail.has_head_membrane else ""
    return f"Bed the drip cap in sealant{where}, past the trim at both sides"


_BY_DETAIL: dict[StepCode, Callable[[DetailFacts], str]] = {
    StepCode.SILL_STRIP: _sill_strip,
    StepCode.JAMB_STRIPS: _jamb_strips,
    StepCode.SETTING_BEAD: _setting_bead,
    StepCode.FASTEN: _fasten,
    StepCode.DRIP_CAP: _drip_cap,
}
