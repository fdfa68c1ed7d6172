"""Why each step is done as it is, in one line: many leaks start where nobody knew why (common practice, no source)."""

from __future__ import annotations

from collections.abc import Callable

from jobs.calc.sentence import Sentence
from openings.calc.facts import DetailFacts
from openings.calc.geometry import has_head_membrane, has_second_strip
from openings.calc.step_code import StepCode
from openings.calc.terms import HeadFlashing, Mounting, SillBead


def why_of(code: StepCode, detail: DetailFacts) -> Sentence:
    """Return why a step of this detail is done, and done there."""
    varying = _BY_DETAIL.get(code)
    return varying(detail) if varying else _WHYS[code]


_WHYS = {
    StepCode.FOLD_BARRIER: Sentence(
        "The WRB above must shed over the strip at the head; left down, it would lead water behind it."
    ),
    StepCode.CORNER_PIECES: Sentence(
        "A membrane opens first where it is cut and folded; the piece closes the corner and takes the unit's knock."
    ),
    StepCode.PAN: Sentence(
        "Water that gets past the unit lands on the pan and must run out over the strip, not in and not sideways."
    ),
    StepCode.JOINT_BEAD: Sentence(
        "Water between casing and jamb runs straight into the wall, and nobody reaches the joint once the unit is set."
    ),
    StepCode.STRAPS: Sentence("The outer side of a jamb is out of reach once the unit stands in the opening."),
    StepCode.SET_UNIT: Sentence(
        "Tilted up on its sill the unit presses the bead evenly; slid in, it wipes the bead off."
    ),
    StepCode.SHIM: Sentence(
        "A frame out of level, plumb or square binds its sash and opens its seals, and no fastener corrects that."
    ),
    StepCode.TOOL_BEAD: Sentence(
        "Squeeze-out is the only sign that the bead closed, and sealant that is not tooled is worth about half."
    ),
    StepCode.COUNTER_FLASHING: Sentence(
        "Water that runs down the wall goes behind an uncovered leg and comes out inside."
    ),
    StepCode.HEAD_STRIP: Sentence(
        "It goes over everything below, so that water from above meets no edge to run behind."
    ),
    StepCode.CLOSE_BARRIER: Sentence(
        "The WRB above sheds over the flashing only when its flap lies on it and the cuts are closed."
    ),
    StepCode.AIR_SEAL: Sentence("Air that leaks past the frame carries water in with it; sealed inside, it stays out."),
}

_FASTENED = {
    Mounting.FLANGE: Sentence("The fasteners keep what the shims have set true and press the flange into its bead."),
    Mounting.CASING: Sentence(
        "The fasteners keep what the shims have set true; each is a hole in the sealed face and leaks unless its head "
        "is sealed."
    ),
    Mounting.BOX_FRAME: Sentence("The fasteners keep what the shims have set true."),
}

_BEADS = {
    SillBead.OPEN: Sentence("The bead keeps water out at jambs and head; the open sill lets out what gets in."),
    SillBead.DRAIN_GAPS: Sentence("The bead keeps water out; the gaps at the sill let out what gets in."),
    SillBead.FULL: Sentence("The bead must keep all water out: nothing drains, so that what gets in stays in."),
}

_CAPS = {
    HeadFlashing.BEFORE_MEMBRANE: Sentence(
        "It throws water clear of the unit; set first, so that what follows covers its upright leg."
    ),
    HeadFlashing.AFTER_MEMBRANE: Sentence(
        "It throws water clear of the unit; its bed alone keeps water from behind the upright leg."
    ),
    HeadFlashing.UNDER_SECOND_STRIP: Sentence(
        "It throws water clear of the unit; it lies over the membrane, so a second strip covers its upright leg."
    ),
}


def _sill_strip(detail: DetailFacts) -> Sentence:
    if not detail.has_pan:
        return Sentence(
            "All that follows laps over it; with no pan, what gets past the unit has no way out but over the framing."
        )
    if detail.barrier_before_window:
        return Sentence("It goes on first, so that all that follows laps over it and sheds onto the WRB below.")
    return Sentence("It goes on first, so that all that follows laps over it; the WRB goes up behind its free edge.")


def _jamb_strips(detail: DetailFacts) -> Sentence:
    if detail.jamb_flashing_over_flange:
        return Sentence("Water at the sides stays on the face of the flange and runs out onto the sill strip.")
    return Sentence("What gets behind the edge of the unit meets a strip there and runs down onto the sill strip.")


def _setting_bead(detail: DetailFacts) -> Sentence:
    return _BEADS[detail.sill_bead]


def _fasten(detail: DetailFacts) -> Sentence:
    if detail.has_straps and detail.mounting is not Mounting.FLANGE:
        return Sentence(
            "Straps hold the unit without a hole in its face; fastened before it is true, they hold it wrong."
        )
    return _FASTENED[detail.mounting]


def _drip_cap(detail: DetailFacts) -> Sentence:
    if has_second_strip(detail) and not has_head_membrane(detail):
        return Sentence("It throws water clear of the unit; a second strip covers its upright leg.")
    return _CAPS[detail.head_flashing]


def _head_membrane(detail: DetailFacts) -> Sentence:
    if detail.head_flashing is HeadFlashing.BEFORE_MEMBRANE:
        return Sentence("Water from above runs over the membrane onto the metal, never behind its upright leg.")
    return Sentence("Water from above runs over the membrane onto the top of the unit, never behind it.")


_BY_DETAIL: dict[StepCode, Callable[[DetailFacts], Sentence]] = {
    StepCode.SILL_STRIP: _sill_strip,
    StepCode.JAMB_STRIPS: _jamb_strips,
    StepCode.SETTING_BEAD: _setting_bead,
    StepCode.FASTEN: _fasten,
    StepCode.DRIP_CAP: _drip_cap,
    StepCode.HEAD_MEMBRANE: _head_membrane,
}
