"""The layers of an installation detail, from its steps and from the extents by which it is drawn and cut."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache
from itertools import pairwise

from jobs.calc.sentence import Sentence
from openings.calc import extents
from openings.calc.extents import Rect
from openings.calc.facts import DetailFacts, OpeningFacts, require_fit
from openings.calc.geometry import (
    BOX_FRAME,
    FLANGE,
    ROOT_OF_2,
    head_cut_in,
    is_bedded_drip_cap,
    is_flashed_here,
)
from openings.calc.lay_looks import bead_in
from openings.calc.lay_order import steps_for
from openings.calc.step_code import StepCode
from openings.calc.terms import SillBead
from openings.calc.water.layers import Edge, Flap, Layer, Pan, Role, Tuck, Wall
from openings.calc.water.verdict import Verdict, judged_pan, water_path

AROUND_IN = Decimal(10)
"""How far the wall goes on beyond all flashing; further out nothing happens to water (our choice)."""

NOSE_IN = Decimal("0.5")
"""How far the sill of a unit without flange stands down over the wall, where its water drips off (our choice)."""

JOINT_IN = Decimal("0.25")
"""A sealed joint around a frame that stands within the wall counts as a lap of so much (our choice)."""

COURSE_LAP_IN = Decimal(2)
"""IRC R703.2."""

TAPE_IN = Decimal(2)
"""Width of the tape over the cuts of the head flap (our choice)."""

FLAP_STEPS = 12
"""A cut at 45° is followed in so many steps: 0.25 and 3 in gave the same verdicts."""

NOT_JUDGED = Sentence(
    "The wall was flashed before this detail begins, and how is not part of it: only the pan was looked at."
)

BONDED, FASTENED, FREE = Edge.BONDED, Edge.FASTENED, Edge.FREE
WRB = "WRB"


@lru_cache(maxsize=2048)
def verdict_of(detail: DetailFacts, opening: OpeningFacts | None = None) -> Verdict:
    """Return whether a detail sheds water, on one opening or on the usual one. Remembered.

    A detail for a wall that was flashed before is not judged but for its pan, and the verdict says so.

    Raises:
        BadDetail: the opening cannot take the detail, or its own order is none of its steps.
    """
    opening = opening or reference_opening(detail)
    require_fit(opening, detail)
    if not is_flashed_here(detail):
        return replace(judged_pan(_pan_of(opening, detail), opening.ro_width_in), not_judged=NOT_JUDGED)
    return water_path(layers_of(opening, detail))


def reference_opening(detail: DetailFacts) -> OpeningFacts:
    """Return the opening on which a detail is judged by itself: 36 × 54 in, or what its pan and clearances need."""
    width_in = max(Decimal(36), detail.ro_clearance_width_in + 12)
    height_in = max(
        Decimal(54), detail.ro_clearance_height_in + 12, detail.pan_turn_up_in + 12, detail.back_dam_in + 12
    )
    return OpeningFacts(
        ro_width_in=width_in,
        ro_height_in=height_in,
        unit_width_in=width_in - detail.ro_clearance_width_in,
        unit_height_in=height_in - detail.ro_clearance_height_in,
    )


def layers_of(opening: OpeningFacts, detail: DetailFacts) -> Wall:
    """Return the wall of one opening as this detail lays it, in the order of its steps.

    A WRB that follows the window is laid last and by others, as AAMA 2400-10 cl. 5.7.3.3 has it: a lower course up
    behind the sill strip, an upper one over it, the jambs and the head. One that precedes the window lies first, and
    its head flap is closed at the step that closes it.

    Raises:
        BadDetail: its own order is none of its steps.
    """
    codes = [step.code for step in steps_for(detail)]
    laid = [layer for code in codes if code in _LAID for layer in _LAID[code](opening, detail, codes)]
    if detail.barrier_before_window:
        layers = [_wrap_first(opening, detail, codes, laid), *laid]
    else:
        layers = [*laid, *_courses(opening, detail, laid)]
    pan = _pan_of(opening, detail)
    return Wall(width_in=opening.ro_width_in, height_in=opening.ro_height_in, layers=tuple(layers), pan=pan)


def _sill_strip(opening: OpeningFacts, detail: DetailFacts, _codes: Sequence[StepCode]) -> Iterator[Layer]:
    yield Layer(
        name="sill strip",
        role=Role.SILL_STRIP,
        rects=(extents.sill_strip(opening, detail),),
        top=FASTENED,
        step=StepCode.SILL_STRIP,
    )


def _pan(opening: OpeningFacts, detail: DetailFacts, _codes: Sequence[StepCode]) -> Iterator[Layer]:
    lies = extents.pan_front(opening, detail)
    if lies.height_in > 0:
        yield Layer(name="pan", role=Role.PAN, rects=(lies,), sides=BONDED, step=StepCode.PAN)


def _jamb_strips(opening: OpeningFacts, detail: DetailFacts, codes: Sequence[StepCode]) -> Iterator[Layer]:
    """Yield both jamb strips; over a flange they are bedded on it (AAMA 2400, from memory)."""
    is_bedded = detail.jamb_flashing_over_flange and _is_before(codes, StepCode.SET_UNIT, StepCode.JAMB_STRIPS)
    for side, lies in zip(("left", "right"), extents.jamb_strips(opening, detail), strict=True):
        yield Layer(
            name=f"{side} jamb strip",
            role=Role.JAMB_STRIP,
            rects=(lies,),
            top=FASTENED,
            sides=BONDED if is_bedded else FASTENED,
            step=StepCode.JAMB_STRIPS,
        )


def _unit(opening: OpeningFacts, detail: DetailFacts, codes: Sequence[StepCode]) -> Iterator[Layer]:
    """Yield the unit with its flange, casing or sealed joint; sealed where its bead is run before it is set."""
    is_sealed = bead_in(detail) > 0 and _is_before(codes, StepCode.SETTING_BEAD, StepCode.SET_UNIT)
    along_sill = BONDED if is_sealed and detail.sill_bead is not SillBead.OPEN else FREE
    edge = BONDED if is_sealed else FREE
    yield Layer(
        name="unit",
        role=Role.UNIT,
        rects=(_face_of_unit(opening, detail),),
        top=edge,
        sides=edge,
        bottom=along_sill,
        bottom_gaps=2 if detail.sill_bead is SillBead.DRAIN_GAPS else 0,
        step=StepCode.SET_UNIT,
    )


def _face_of_unit(opening: OpeningFacts, detail: DetailFacts) -> Rect:
    left_in, top_in, right_in, bottom_in = extents.edge_of_unit(opening, detail)
    if detail.mounting is BOX_FRAME:
        left_in, top_in = min(left_in, -JOINT_IN), min(top_in, -JOINT_IN)
        right_in = max(right_in, opening.ro_width_in + JOINT_IN)
    top_in = min(top_in, extents.top_of_unit_in(opening, detail))
    if detail.mounting is not FLANGE:
        bottom_in = opening.ro_height_in + NOSE_IN
    return Rect(left_in, top_in, right_in, bottom_in)


def _drip_cap(opening: OpeningFacts, detail: DetailFacts, _codes: Sequence[StepCode]) -> Iterator[Layer]:
    edge = BONDED if is_bedded_drip_cap(detail) else FREE
    lies = extents.drip_cap(opening, detail)
    yield Layer(name="drip cap", role=Role.CAP, rects=(lies,), top=edge, sides=edge, step=StepCode.DRIP_CAP)


def _second_strip(opening: OpeningFacts, detail: DetailFacts, _codes: Sequence[StepCode]) -> Iterator[Layer]:
    yield Layer(
        name="second strip",
        role=Role.SECOND_STRIP,
        rects=(extents.second_strip(opening, detail),),
        top=BONDED,
        sides=BONDED,
        step=StepCode.COUNTER_FLASHING,
    )


def _head_membrane(opening: OpeningFacts, detail: DetailFacts, _codes: Sequence[StepCode]) -> Iterator[Layer]:
    yield Layer(
        name="head membrane",
        role=Role.MEMBRANE,
        rects=(extents.head_membrane(opening, detail),),
        top=BONDED,
        sides=BONDED,
        step=StepCode.HEAD_MEMBRANE,
    )


def _head_strip(opening: OpeningFacts, detail: DetailFacts, _codes: Sequence[StepCode]) -> Iterator[Layer]:
    lies = extents.head_strip(opening, detail)
    yield Layer(name="head strip", role=Role.HEAD_STRIP, rects=(lies,), top=FASTENED, step=StepCode.HEAD_STRIP)


_LAID: dict[StepCode, Callable[[OpeningFacts, DetailFacts, Sequence[StepCode]], Iterator[Layer]]] = {
    StepCode.SILL_STRIP: _sill_strip,
    StepCode.PAN: _pan,
    StepCode.JAMB_STRIPS: _jamb_strips,
    StepCode.SET_UNIT: _unit,
    StepCode.DRIP_CAP: _drip_cap,
    StepCode.COUNTER_FLASHING: _second_strip,
    StepCode.HEAD_MEMBRANE: _head_membrane,
    StepCode.HEAD_STRIP: _head_strip,
}
"""What a step puts on the face of the wall; the other steps put nothing there."""

AT_THE_HEAD = (StepCode.DRIP_CAP, StepCode.COUNTER_FLASHING, StepCode.HEAD_MEMBRANE, StepCode.HEAD_STRIP)


def _is_before(codes: Sequence[StepCode], first: StepCode, then: StepCode) -> bool:
    return first in codes and then in codes and codes.index(first) < codes.index(then)


def _pan_of(opening: OpeningFacts, detail: DetailFacts) -> Pan | None:
    if not detail.has_pan:
        return None
    return Pan(
        turn_up_in=detail.pan_turn_up_in,
        length_in=opening.ro_width_in + 2 * detail.pan_turn_up_in,
        back_dam_in=detail.back_dam_in,
        slope_deg=detail.sill_slope_deg,
        front_lap_in=detail.pan_front_lap_in,
        has_corner_pieces=detail.has_corner_pieces,
    )


def _wall_around(laid: Sequence[Layer]) -> Rect:
    rects = [rect for layer in laid for rect in layer.rects]
    return Rect(
        min(rect.left_in for rect in rects) - AROUND_IN,
        min(rect.top_in for rect in rects) - AROUND_IN,
        max(rect.right_in for rect in rects) + AROUND_IN,
        max(rect.bottom_in for rect in rects) + AROUND_IN,
    )


def _wrap_first(opening: OpeningFacts, detail: DetailFacts, codes: Sequence[StepCode], laid: Sequence[Layer]) -> Layer:
    """Return the WRB in one sheet, cut out at the rough opening."""
    flap_in = head_cut_in(detail) / ROOT_OF_2
    left_in, top_in, right_in, bottom_in = _wall_around(laid)
    top_in = min(top_in, -flap_in - AROUND_IN)
    left_in, right_in = min(left_in, -flap_in - AROUND_IN), max(right_in, opening.ro_width_in + flap_in + AROUND_IN)
    nothing, width_in, sill_in = Decimal(0), opening.ro_width_in, opening.ro_height_in
    return Layer(
        name=WRB,
        role=Role.WRB,
        rects=(
            Rect(left_in, top_in, nothing, bottom_in),
            Rect(nothing, top_in, width_in, nothing),
            Rect(width_in, top_in, right_in, bottom_in),
            Rect(nothing, sill_in, width_in, bottom_in),
        ),
        flap=_flap(opening, flap_in, codes, laid),
        step=StepCode.FOLD_BARRIER,
    )


def _flap(opening: OpeningFacts, flap_in: Decimal, codes: Sequence[StepCode], laid: Sequence[Layer]) -> Flap | None:
    """Return the head flap, closed after what its step comes after; none where it was not folded up in time."""
    if any(not _is_before(codes, StepCode.FOLD_BARRIER, code) for code in codes if code in AT_THE_HEAD):
        return None
    before = codes[: codes.index(StepCode.CLOSE_BARRIER)]
    closed_after = [layer.name for layer in laid if layer.step in before]
    if not closed_after:
        return None
    return Flap(rects=head_flap(opening.ro_width_in, flap_in), closed_after=closed_after[-1])


def head_flap(width_in: Decimal, height_in: Decimal) -> tuple[Rect, ...]:
    """Return a flap over the head of an opening, cut at 45° from its top corners, as steps from the opening up.

    Each is as wide as the flap at its upper end, and half the tape over the cut wider.
    """
    at_in = [(height_in * number / FLAP_STEPS).quantize(Decimal("0.001")) for number in range(FLAP_STEPS + 1)]
    return tuple(
        Rect(-high_in - TAPE_IN / 2, -high_in, width_in + high_in + TAPE_IN / 2, -low_in)
        for low_in, high_in in pairwise(at_in)
    )


def _courses(opening: OpeningFacts, detail: DetailFacts, laid: Sequence[Layer]) -> tuple[Layer, Layer]:
    """Return the two courses of WRB that others lay last."""
    left_in, top_in, right_in, bottom_in = _wall_around(laid)
    sill_in, lap_in = opening.ro_height_in, opening.ro_height_in + COURSE_LAP_IN
    edge = extents.edge_of_unit(opening, detail)
    inner_left_in, inner_top_in = Decimal(0), Decimal(0)
    if detail.mounting is not FLANGE:
        inner_left_in, inner_top_in = min(inner_left_in, edge.left_in), min(inner_top_in, edge.top_in)
    inner_right_in = opening.ro_width_in - inner_left_in
    names = {layer.name for layer in laid}
    lower = Layer(
        name=f"{WRB}, lower course",
        role=Role.WRB,
        rects=(Rect(left_in, sill_in, right_in, bottom_in),),
        tucks=(Tuck("sill strip"),) if "sill strip" in names else (),
    )
    upper = Layer(
        name=f"{WRB}, upper course",
        role=Role.WRB,
        rects=(
            Rect(left_in, top_in, inner_left_in, lap_in),
            Rect(inner_left_in, top_in, inner_right_in, inner_top_in),
            Rect(inner_right_in, top_in, right_in, lap_in),
        ),
    )
    return lower, upper
