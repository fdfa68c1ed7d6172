"""What the crew must see at each step before the next one covers it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from decimal import Decimal

from jobs.calc.sentence import Sentence
from openings.calc.facts import DetailFacts
from openings.calc.geometry import head_cut_in, is_bedded_drip_cap, is_cap_under_head_strip, laps_over_sill_strip
from openings.calc.step_code import StepCode
from openings.calc.terms import HeadFlashing, Mounting, SillBead
from openings.calc.units import US, Units

KEEP_OUT_IN = Decimal(9)
"""Length at the end of a strip that stays unfastened for a barrier that follows: of the sill strip AAMA 2400-10
cl. 5.7.3.3; at the bottom of a jamb strip from memory."""


def bead_in(detail: DetailFacts) -> Decimal:
    """Return the size of the bead in which the unit is set; 0 where there is none."""
    return detail.flange_bead_in if detail.mounting is Mounting.FLANGE else detail.setting_bead_in


def looks_of(code: StepCode, detail: DetailFacts, units: Units = US) -> tuple[Sentence, ...]:
    """Return the looks that a step of this detail must have once it is done.

    Source:
        Beside each title: `openings.calc.lay_titles.SOURCES`.
    """
    return tuple(_LOOKS[code](detail, units))


def _fold_barrier(detail: DetailFacts, units: Units) -> Iterator[Sentence]:
    yield Sentence("both cuts run {length} at 45° from the top corners", length=units.say(head_cut_in(detail)))
    yield Sentence("the flap is taped up, clear of the head")


def _sill_strip(detail: DetailFacts, units: Units) -> Iterator[Sentence]:
    yield Sentence("both ends reach at least to where the outer edge of the jamb strips will lie")
    if detail.barrier_before_window:
        yield Sentence("it lies over the WRB")
    else:
        yield Sentence(
            "nothing fastens its lower edge, nor the last {length} at each end, so that the WRB can go up behind it",
            length=units.say(KEEP_OUT_IN),
        )


def _corner_pieces(_detail: DetailFacts, _units: Units) -> Iterator[Sentence]:
    yield Sentence("a piece sits tight in each lower corner, without gap or fold")


def _pan(detail: DetailFacts, units: Units) -> Iterator[Sentence]:
    if detail.pan_turn_up_in:
        yield Sentence("it turns up {length} at each trimmer", length=units.say(detail.pan_turn_up_in))
    if detail.back_dam_in:
        yield Sentence("its back dam stands {length}", length=units.say(detail.back_dam_in))
    if detail.sill_slope_deg:
        yield Sentence("the sill slopes to the outside")
    if laps_over_sill_strip(detail):
        yield Sentence(
            "it is slit at both front corners, and its flap is folded down and out over the sill strip by {length}",
            length=units.say(detail.pan_front_lap_in),
        )
    yield Sentence("no cut and no fastener goes through its base")


def _jamb_strips(detail: DetailFacts, units: Units) -> Iterator[Sentence]:
    yield Sentence(
        "both lap over the sill strip and stop {length} short of its lower edge",
        length=units.say(detail.jamb_strip_short_in),
    )
    if not detail.barrier_before_window:
        yield Sentence(
            "nothing fastens the last {length} at the bottom, so that the WRB can go up behind",
            length=units.say(KEEP_OUT_IN),
        )
    if detail.jamb_flashing_over_flange:
        yield Sentence("they cover the flange and its fasteners")


def _joint_bead(detail: DetailFacts, units: Units) -> Iterator[Sentence]:
    yield Sentence("the bead of {size} runs without a break and is tooled", size=units.say(detail.joint_bead_in))


def _straps(_detail: DetailFacts, _units: Units) -> Iterator[Sentence]:
    yield Sentence("every strap of the detail is on the jambs and the head, screwed tight")
    yield Sentence("each reaches far enough in to be bent over the framing")


def _setting_bead(detail: DetailFacts, units: Units) -> Iterator[Sentence]:
    yield Sentence(
        "a bead of {size} runs without a break along both jambs and the head", size=units.say(bead_in(detail))
    )
    yield Sentence("the unit and those who lift it stand ready: it is set before the bead skins over")
    if detail.sill_bead is SillBead.OPEN:
        yield Sentence("no sealant lies along the sill")
    elif detail.sill_bead is SillBead.DRAIN_GAPS:
        yield Sentence(
            "along the sill it stops {length} short of each jamb", length=units.say(detail.sill_drain_gap_in)
        )
    else:
        yield Sentence("it runs on along the sill")


def _set_unit(detail: DetailFacts, _units: Units) -> Iterator[Sentence]:
    if detail.mounting is Mounting.FLANGE:
        yield Sentence("mechanically joined corners of the flange are sealed over the whole seam")
    yield from _drains(detail)
    yield Sentence("somebody supports the unit until it is fastened")


def _drains(detail: DetailFacts) -> Iterator[Sentence]:
    if detail.sill_bead is SillBead.OPEN:
        yield Sentence("the sill is open to drain")
    elif detail.sill_bead is SillBead.DRAIN_GAPS:
        yield Sentence("both gaps at the sill are open to drain")


def _shim(_detail: DetailFacts, _units: Units) -> Iterator[Sentence]:
    yield Sentence("shims stand in opposing pairs and do not bend the frame")
    yield Sentence("level, plumb, sides, diagonals and twist are within the limits of a set unit")


def _fasten(detail: DetailFacts, _units: Units) -> Iterator[Sentence]:
    yield Sentence("every fastener of the detail is there and holds")
    if detail.has_pan:
        yield Sentence("none goes through the base of the pan")
    if detail.mounting is Mounting.CASING and not detail.has_straps:
        yield Sentence("every head through the casing is sealed")


def _tool_bead(detail: DetailFacts, _units: Units) -> Iterator[Sentence]:
    if detail.sill_bead is SillBead.OPEN:
        yield Sentence("squeeze-out shows on both jambs and the head")
    else:
        yield Sentence("squeeze-out shows on both jambs, the head and the sill")
    yield Sentence("it is tooled without a break")
    yield from _drains(detail)


def _drip_cap(detail: DetailFacts, units: Units) -> Iterator[Sentence]:
    yield Sentence("it runs {length} past the trim at both sides", length=units.say(detail.drip_cap_past_in))
    if is_bedded_drip_cap(detail):
        yield Sentence("its bedding has no gap: no water gets behind the upright leg")


def _counter_flashing(_detail: DetailFacts, _units: Units) -> Iterator[Sentence]:
    yield _leg_is_covered()


def _leg_is_covered() -> Sentence:
    return Sentence("the upright leg is covered from end to end: no water gets behind it")


def _head_membrane(detail: DetailFacts, units: Units) -> Iterator[Sentence]:
    if detail.head_flashing is HeadFlashing.BEFORE_MEMBRANE:
        yield _leg_is_covered()
    else:
        yield Sentence("it laps down onto the top of the unit")
    yield Sentence(
        "it runs {length} past the unit at each side, over both jamb strips",
        length=units.say(detail.head_membrane_lap_in),
    )


def _head_strip(detail: DetailFacts, _units: Units) -> Iterator[Sentence]:
    if is_cap_under_head_strip(detail):
        yield _leg_is_covered()
    yield Sentence("it laps over both jamb strips and reaches at least their outer edges")


def _close_barrier(detail: DetailFacts, _units: Units) -> Iterator[Sentence]:
    if detail.has_head_strip:
        yield Sentence("the flap lies over the head strip")
    else:
        yield Sentence("the flap lies over what covers the head")
    yield Sentence("both cuts are taped")


def _air_seal(_detail: DetailFacts, _units: Units) -> Iterator[Sentence]:
    yield Sentence("rod and bead run without a break along every side that has a gap")


_LOOKS: dict[StepCode, Callable[[DetailFacts, Units], Iterator[Sentence]]] = {
    StepCode.FOLD_BARRIER: _fold_barrier,
    StepCode.SILL_STRIP: _sill_strip,
    StepCode.CORNER_PIECES: _corner_pieces,
    StepCode.PAN: _pan,
    StepCode.JAMB_STRIPS: _jamb_strips,
    StepCode.JOINT_BEAD: _joint_bead,
    StepCode.STRAPS: _straps,
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
