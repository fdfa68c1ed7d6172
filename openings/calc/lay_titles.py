"""What a crew does at each step, in one sentence, and where it is said."""

from __future__ import annotations

from collections.abc import Callable

from jobs.calc.sentence import Sentence
from openings.calc.facts import DetailFacts
from openings.calc.geometry import (
    has_head_membrane,
    is_bedded_drip_cap,
    is_cap_under_head_strip,
    laps_over_sill_strip,
)
from openings.calc.step_code import StepCode
from openings.calc.terms import HeadFlashing, Mounting, SillBead

CP = "common practice, no source"

SOURCES = {
    StepCode.FOLD_BARRIER: "JLC, flashing a window in new construction: cuts at the head; their length: geometry",
    StepCode.SILL_STRIP: "AAMA 2400-10 cl. 5.7.3.2, 5.7.3.3; AWDI manual p. 23",
    StepCode.CORNER_PIECES: CP,
    StepCode.PAN: ("Building Science Corp. Info-302; BSESC/DOE, sill pan page; nothing through the base: trade page"),
    StepCode.JAMB_STRIPS: "AAMA 2400-10 cl. 5.7.3; AWDI manual p. 23; lower ends: AAMA 2400 (text not checked)",
    StepCode.JOINT_BEAD: CP,
    StepCode.STRAPS: CP,
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


def title_of(code: StepCode, detail: DetailFacts) -> Sentence:
    """Return the title of a step of this detail: the work of the crew there."""
    varying = _BY_DETAIL.get(code)
    return varying(detail) if varying else _TITLES[code]


_TITLES = {
    StepCode.FOLD_BARRIER: Sentence("Cut the WRB at 45° from the top corners, fold the head flap up and tape it"),
    StepCode.CORNER_PIECES: Sentence("Set a corner piece in each lower corner"),
    StepCode.JOINT_BEAD: Sentence("Seal the joint of casing and jamb and tool it"),
    StepCode.STRAPS: Sentence("Screw the straps to jambs and head of the unit before it is lifted"),
    StepCode.SET_UNIT: Sentence("Set the unit, sill first, and tilt it up; support it until it is fastened"),
    StepCode.SHIM: Sentence("Shim level, plumb and square; the sash must run freely"),
    StepCode.TOOL_BEAD: Sentence("See squeeze-out on every sealed side and tool it"),
    StepCode.COUNTER_FLASHING: Sentence("Lap the counter-flashing strip over the upright leg of the drip cap"),
    StepCode.AIR_SEAL: Sentence("Seal inside around the unit over backer rod"),
}

_BEADS = {
    (Mounting.FLANGE, SillBead.OPEN): Sentence("Run the bead on the back of the flange: jambs and head, not the sill"),
    (Mounting.FLANGE, SillBead.DRAIN_GAPS): Sentence(
        "Run the bead on the back of the flange: jambs, head and sill, with a gap at each end of the sill to drain"
    ),
    (Mounting.FLANGE, SillBead.FULL): Sentence("Run the bead on the back of the flange: jambs, head and sill"),
    (Mounting.CASING, SillBead.OPEN): Sentence(
        "Run the bead near the outer edge of the casing: jambs and head, not the sill"
    ),
    (Mounting.CASING, SillBead.DRAIN_GAPS): Sentence(
        "Run the bead near the outer edge of the casing: jambs, head and sill, with a gap at each end of the sill to "
        "drain"
    ),
    (Mounting.CASING, SillBead.FULL): Sentence("Run the bead near the outer edge of the casing: jambs, head and sill"),
    (Mounting.BOX_FRAME, SillBead.OPEN): Sentence("Run the bead for the frame: jambs and head, not the sill"),
    (Mounting.BOX_FRAME, SillBead.DRAIN_GAPS): Sentence(
        "Run the bead for the frame: jambs, head and sill, with a gap at each end of the sill to drain"
    ),
    (Mounting.BOX_FRAME, SillBead.FULL): Sentence("Run the bead for the frame: jambs, head and sill"),
}
"""Where the bead lies in which the unit is set, by its mounting and by what the bead does along the sill."""

_FASTENED = {
    Mounting.FLANGE: Sentence("Fasten the flange"),
    Mounting.CASING: Sentence("Fasten through the casing and seal every head"),
    Mounting.BOX_FRAME: Sentence("Fasten through the frame"),
}
_STRAPPED = {
    Mounting.FLANGE: Sentence("Fasten the flange, and the straps to the framing inside"),
    Mounting.CASING: Sentence("Bend the straps in and fasten them to the framing inside"),
    Mounting.BOX_FRAME: Sentence("Bend the straps in and fasten them to the framing inside"),
}


def _sill_strip(detail: DetailFacts) -> Sentence:
    if detail.barrier_before_window:
        return Sentence("Fasten the sill strip over the WRB, along the rough-opening edge")
    return Sentence("Fasten the sill strip along the rough-opening edge only; its lower edge stays free")


def _pan(detail: DetailFacts) -> Sentence:
    if laps_over_sill_strip(detail):
        return Sentence(
            "Lay the pan membrane over the sill and up both trimmers, its slit front folded down over the sill strip"
        )
    return Sentence("Lay the pan membrane over the sill and up both trimmers")


def _jamb_strips(detail: DetailFacts) -> Sentence:
    if detail.jamb_flashing_over_flange:
        return Sentence("Lay both jamb strips over the flange and over the sill strip")
    return Sentence("Lay both jamb strips over the sill strip")


def _setting_bead(detail: DetailFacts) -> Sentence:
    return _BEADS[detail.mounting, detail.sill_bead]


def _fasten(detail: DetailFacts) -> Sentence:
    return _STRAPPED[detail.mounting] if detail.has_straps else _FASTENED[detail.mounting]


def _drip_cap(detail: DetailFacts) -> Sentence:
    if not is_bedded_drip_cap(detail):
        return Sentence("Set the drip cap past the trim at both sides")
    if has_head_membrane(detail):
        return Sentence("Bed the drip cap in sealant over the membrane, past the trim at both sides")
    return Sentence("Bed the drip cap in sealant, past the trim at both sides")


def _head_membrane(detail: DetailFacts) -> Sentence:
    if detail.head_flashing is HeadFlashing.BEFORE_MEMBRANE:
        return Sentence("Lay the head membrane over the upright leg of the drip cap, over the jamb strips")
    return Sentence("Lay the head membrane down onto the top of the unit, over the jamb strips")


def _head_strip(detail: DetailFacts) -> Sentence:
    if is_cap_under_head_strip(detail):
        return Sentence("Lay the head strip over the upright leg of the drip cap and over both jamb strips")
    return Sentence("Lay the head strip over both jamb strips and all below it")


def _close_barrier(detail: DetailFacts) -> Sentence:
    if detail.has_head_strip:
        return Sentence("Fold the head flap down over the head strip and tape its cuts")
    return Sentence("Fold the head flap down over what covers the head and tape its cuts")


_BY_DETAIL: dict[StepCode, Callable[[DetailFacts], Sentence]] = {
    StepCode.SILL_STRIP: _sill_strip,
    StepCode.PAN: _pan,
    StepCode.JAMB_STRIPS: _jamb_strips,
    StepCode.SETTING_BEAD: _setting_bead,
    StepCode.FASTEN: _fasten,
    StepCode.DRIP_CAP: _drip_cap,
    StepCode.HEAD_MEMBRANE: _head_membrane,
    StepCode.HEAD_STRIP: _head_strip,
    StepCode.CLOSE_BARRIER: _close_barrier,
}
