"""What the crew must see at each step before the next one covers it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from decimal import Decimal

from openings.calc.facts import DetailFacts
from openings.calc.geometry import is_bedded_drip_cap, is_flashed_here
from openings.calc.step_code import StepCode
from openings.calc.terms import Mounting, SillBead
from openings.calc.units import US, Units

KEEP_OUT_IN = Decimal(9)
"""Length at the end of a strip that stays unfastened for a barrier that follows: of the sill strip AAMA 2400-10
cl. 5.7.3.3; at the bottom of a jamb strip from memory."""

HEAD_CUT_IN = Decimal(6)
"""Length of the cuts at the head of the barrier (JLC, flashing a window in new construction)."""


def bead_in(detail: DetailFacts) -> Decimal:
    """Return the size of the bead in which the unit is set; 0 where there is none."""
    return detail.flange_bead_in if detail.mounting is Mounting.FLANGE else detail.setting_bead_in


def looks_of(code: StepCode, detail: DetailFacts, units: Units = US) -> tuple[str, ...]:
    """Return the looks that a step of this detail must have once it is done.

    Source:
        Beside each title: `openings.calc.lay_titles.SOURCES`.
    """
    return tuple(_LOOKS[code](detail, units))


def _fold_barrier(_detail: DetailFacts, units: Units) -> Iterator[str]:
    yield f"both cuts run {units.say(HEAD_CUT_IN)} at 45° from the top corners"
    yield "the flap is taped up, clear of the head"


def _sill_strip(detail: DetailFacts, units: Units) -> Iterator[str]:
    yield "both ends reach at least the outer edge of the jamb strips"
    if detail.barrier_before_window:
        yield "it lies over the WRB"
    else:
        yield (
            f"nothing fastens its lower edge, nor the last {units.say(KEEP_OUT_IN)} at each end, "
            "so that the WRB can go up behind it"
        )


def _corner_pieces(_detail: DetailFacts, _units: Units) -> Iterator[str]:
    yield "a piece sits tight in each lower corner, without gap or fold"


def _pan(detail: DetailFacts, units: Units) -> Iterator[str]:
    if detail.pan_turn_up_in:
        yield f"it turns up {units.say(detail.pan_turn_up_in)} at each trimmer"
    if detail.back_dam_in:
        yield f"its back dam stands {units.say(detail.back_dam_in)}"
    if detail.sill_slope_deg:
        yield "the sill slopes to the outside"
    if is_flashed_here(detail):
        yield "its front edge laps over the sill strip"
    yield "no cut and no fastener goes through its base"


def _jamb_strips(detail: DetailFacts, units: Units) -> Iterator[str]:
    yield f"both lap over the sill strip and stop {units.say(detail.jamb_strip_short_in)} short of its lower edge"
    if not detail.barrier_before_window:
        yield f"nothing fastens the last {units.say(KEEP_OUT_IN)} at the bottom, so that the WRB can go up behind"
    if detail.jamb_flashing_over_flange:
        yield "they cover the flange and its fasteners"


def _joint_bead(detail: DetailFacts, units: Units) -> Iterator[str]:
    yield f"the bead of {units.say(detail.joint_bead_in)} runs without a break and is tooled"


def _setting_bead(detail: DetailFacts, units: Units) -> Iterator[str]:
    yield f"a bead of {units.say(bead_in(detail))} runs without a break along both jambs and the head"
    if detail.sill_bead is SillBead.OPEN:
        yield "no sealant lies along the sill"
    elif detail.sill_bead is SillBead.DRAIN_GAPS:
        yield f"along the sill it stops {units.say(detail.sill_drain_gap_in)} short of each jamb"
    else:
        yield "it runs on along the sill"


def _set_unit(detail: DetailFacts, _units: Units) -> Iterator[str]:
    if detail.mounting is Mounting.FLANGE:
        yield "mechanically joined corners of the flange are sealed over the whole seam"
    yield from _drains(detail)
    yield "somebody supports the unit until it is fastened"


def _drains(detail: DetailFacts) -> Iterator[str]:
    if detail.sill_bead is SillBead.OPEN:
        yield "the sill is open to drain"
    elif detail.sill_bead is SillBead.DRAIN_GAPS:
        yield "both gaps at the sill are open to drain"


def _shim(_detail: DetailFacts, _units: Units) -> Iterator[str]:
    yield "shims stand in opposing pairs and do not bend the frame"
    yield "level, plumb, sides, diagonals and twist are within the limits of a set unit"


def _fasten(detail: DetailFacts, _units: Units) -> Iterator[str]:
    yield "every fastener of the detail is there and holds"
    if detail.has_pan:
        yield "none goes through the base of the pan"


def _tool_bead(detail: DetailFacts, _units: Units) -> Iterator[str]:
    along = "both jambs and the head" if detail.sill_bead is SillBead.OPEN else "both jambs, the head and the sill"
    yield f"squeeze-out shows on {along}"
    yield "it is tooled without a break"
    yield from _drains(detail)


def _drip_cap(detail: DetailFacts, units: Units) -> Iterator[str]:
    yield f"it runs {units.say(detail.drip_cap_past_in)} past the trim at both sides"
    if is_bedded_drip_cap(detail):
        yield "its bedding has no gap: no water gets behind the upright leg"


def _counter_flashing(_detail: DetailFacts, _units: Units) -> Iterator[str]:
    yield "the upright leg is covered from end to end: no water gets behind it"


def _head_membrane(detail: DetailFacts, units: Units) -> Iterator[str]:
    yield "it laps down onto the top of the unit"
    yield f"it runs {units.say(detail.head_membrane_lap_in)} past the unit at each side, over both jamb strips"


def _head_strip(_detail: DetailFacts, _units: Units) -> Iterator[str]:
    yield "it laps over both jamb strips and reaches at least their outer edges"


def _close_barrier(_detail: DetailFacts, _units: Units) -> Iterator[str]:
    yield "the flap lies over the head strip"
    yield "both cuts are taped"


def _air_seal(_detail: DetailFacts, _units: Units) -> Iterator[str]:
    yield "rod and bead run without a break along every side that has a gap"


_LOOKS: dict[StepCode, Callable[[DetailFacts, Units], Iterator[str]]] = {
    StepCode.FOLD_BARRIER: _fold_barrier,
    StepCode.SILL_STRIP: _sill_strip,
    StepCode.CORNER_PIECES: _corner_pieces,
    StepCode.PAN: _pan,
    StepCode.JAMB_STRIPS: _jamb_strips,
    StepCode.JOINT_BEAD: _joint_bead,
    StepCode.SETTING_BEAD: _setting_bead,
    StepCode.SET_UNIT: _set_unit,
    StepCode.SHIM: _shim,
    StepCode.FASTEN: _fasten,
    StepCode.TOOL_BEAD: _tool_bead,
    StepCode.DRIP_CAP: _drip_cap,
    StepCode.COUNTER_FLASHING: _counter_flashing,
    StepCode.HEAD_MEMBRANE: _head_membrane,
    StepCode.HEAD_STRIP: _head_strip,
    StepCode.CLOSE_BARRIER: _close_barrier,
    StepCode.AIR_SEAL: _air_seal,
}
