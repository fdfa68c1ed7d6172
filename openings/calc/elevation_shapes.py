"""What each step adds to the elevation of an opening: rectangles, in lay order.

Lengths and the widths of strips and membrane are to scale. How thick or tall a pan, a flange, a frame or a drip cap is
drawn is our choice, since no detail says it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from typing import NamedTuple

from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.geometry import (
    FLANGE,
    drip_cap_in,
    head_gap_in,
    head_membrane_in,
    jamb_gap_in,
    second_strip_in,
    strip_runs,
)
from openings.calc.lay_looks import KEEP_OUT_IN
from openings.calc.lay_order import steps_for
from openings.calc.step_code import StepCode
from openings.calc.terms import HeadFlashing

PAN_SHOWN_IN = Decimal("0.75")
FLANGE_SHOWN_IN = Decimal("1.375")
FRAME_SHOWN_IN = Decimal(2)
DRIP_CAP_SHOWN_IN = Decimal("1.5")
PLACES, NUMBERS_APART = 14, 5
"""A horizontal shape has so many places for its number, and the next step's number goes so many further on."""

Say = Callable[[Decimal], str]
"""Writes a length: in tape notation, or in millimeters."""


class Shape(NamedTuple):
    """A rectangle; `kind` names the part, `number` the step of the lay order that begins with it."""

    kind: str
    x_in: Decimal
    y_in: Decimal
    width_in: Decimal
    height_in: Decimal
    title: str
    number: int | None = None

    @property
    def right_in(self) -> Decimal:
        return self.x_in + self.width_in

    @property
    def bottom_in(self) -> Decimal:
        return self.y_in + self.height_in

    @property
    def mark_in(self) -> tuple[Decimal, Decimal]:
        """Return the place of its number: mid-height where upright, else where those laid next do not cover it."""
        if self.height_in > self.width_in:
            return self.x_in + self.width_in / 2, self.y_in + self.height_in / 2
        place = NUMBERS_APART * (self.number or 0) % PLACES + 1
        return self.x_in + self.width_in * place / (PLACES + 1), self.y_in + self.height_in / 2


def shapes_of(opening: OpeningFacts, detail: DetailFacts, say: Say) -> Iterator[Shape]:
    """Yield the rough opening, then what each step of the lay order adds, under the number of the step."""
    size = f"{say(opening.ro_width_in)} × {say(opening.ro_height_in)}{' as built' if opening.drawn_ro_in else ''}"
    yield Shape(
        "rough-opening", Decimal(0), Decimal(0), opening.ro_width_in, opening.ro_height_in, f"rough opening {size}"
    )
    for number, step in enumerate(steps_for(detail), start=1):
        if step.code in _DRAWN:
            first, *others = _DRAWN[step.code](opening, detail, say)
            yield first._replace(number=number)
            yield from others


def _sill_strip(opening: OpeningFacts, detail: DetailFacts, say: Say) -> Sequence[Shape]:
    strip_in, run_in = detail.strip_width_in, strip_runs(opening, detail).sill_in
    strip = Shape("strip", -strip_in, opening.ro_height_in, run_in, strip_in, f"sill strip {say(run_in)}")
    return [strip] if detail.barrier_before_window else [strip, *_left_free(strip)]


def _left_free(strip: Shape) -> Iterator[Shape]:
    """Yield the parts of a sill strip left unfastened, so that the WRB can go up behind it later."""
    title = "left free: the WRB goes up behind it later"
    end_in = min(KEEP_OUT_IN, strip.width_in / 2)
    for x_in in (strip.x_in, strip.right_in - end_in):
        yield Shape("left-free", x_in, strip.y_in, end_in, strip.height_in, title)
    band_in, y_in = strip.height_in / 4, strip.bottom_in - strip.height_in / 4
    yield Shape("left-free", strip.x_in + end_in, y_in, strip.width_in - 2 * end_in, band_in, title)


def _jamb_strips(opening: OpeningFacts, detail: DetailFacts, say: Say) -> Sequence[Shape]:
    strip_in, run_in = detail.strip_width_in, strip_runs(opening, detail).jamb_in
    top_in = detail.jamb_strip_short_in - strip_in
    return [
        Shape("strip", x_in, top_in, strip_in, run_in, f"{side} jamb strip {say(run_in)}")
        for side, x_in in (("left", -strip_in), ("right", opening.ro_width_in))
    ]


def _head_strip(opening: OpeningFacts, detail: DetailFacts, say: Say) -> Sequence[Shape]:
    strip_in, run_in = detail.strip_width_in, strip_runs(opening, detail).head_in
    return [Shape("strip", -strip_in, -strip_in, run_in, strip_in, f"head strip {say(run_in)}")]


def _pan(opening: OpeningFacts, detail: DetailFacts, say: Say) -> Sequence[Shape]:
    width_in, sill_in, up_in = opening.ro_width_in, opening.ro_height_in, detail.pan_turn_up_in
    length = say(width_in + 2 * up_in)
    lies = Shape("pan", Decimal(0), sill_in - PAN_SHOWN_IN, width_in, PAN_SHOWN_IN, f"pan membrane {length}")
    turned_up = [
        Shape("pan", x_in, sill_in - up_in, PAN_SHOWN_IN, up_in, f"pan turned up {say(up_in)}")
        for x_in in (Decimal(0), width_in - PAN_SHOWN_IN)
        if up_in > 0
    ]
    dam_in = detail.back_dam_in
    dam = Shape("back-dam", Decimal(0), sill_in - dam_in, width_in, dam_in, f"back dam {say(dam_in)}")
    return [lies, *turned_up, *([dam] if dam_in else [])]


def _unit(opening: OpeningFacts, detail: DetailFacts, say: Say) -> Sequence[Shape]:
    x_in, y_in = jamb_gap_in(opening), head_gap_in(opening)
    width_in, height_in = opening.unit_width_in, opening.unit_height_in
    frame_in = min(FRAME_SHOWN_IN, width_in / 5, height_in / 5)
    size = f"{say(width_in)} × {say(height_in)}"
    glass = Shape("glass", x_in + frame_in, y_in + frame_in, width_in - 2 * frame_in, height_in - 2 * frame_in, "glass")
    return [*_edge(opening, detail, say), Shape("unit", x_in, y_in, width_in, height_in, f"unit {size}"), glass]


def _edge(opening: OpeningFacts, detail: DetailFacts, say: Say) -> Sequence[Shape]:
    """Return the flange or the casing around the unit; casing stands on jambs and head, the sill is bare."""
    x_in, y_in = jamb_gap_in(opening), head_gap_in(opening)
    width_in, height_in = opening.unit_width_in, opening.unit_height_in
    if detail.mounting is FLANGE:
        past_in = FLANGE_SHOWN_IN
        return [
            Shape("flange", x_in - past_in, y_in - past_in, width_in + 2 * past_in, height_in + 2 * past_in, "flange")
        ]
    past_in = detail.casing_width_in
    if past_in == 0:
        return []
    title = f"casing {say(past_in)} wide"
    return [Shape("casing", x_in - past_in, y_in - past_in, width_in + 2 * past_in, height_in + past_in, title)]


def _top_in(opening: OpeningFacts, detail: DetailFacts) -> Decimal:
    return head_gap_in(opening) - detail.casing_width_in


def _over_head(
    kind: str, run_in: Decimal, height_in: Decimal, *, bottom_in: Decimal, name: str, opening: OpeningFacts, say: Say
) -> Shape:
    x_in = (opening.ro_width_in - run_in) / 2
    return Shape(kind, x_in, bottom_in - height_in, run_in, height_in, f"{name} {say(run_in)}")


def _head_membrane(opening: OpeningFacts, detail: DetailFacts, say: Say) -> Sequence[Shape]:
    run_in, bottom_in, wide_in = (
        head_membrane_in(opening, detail),
        _top_in(opening, detail),
        detail.head_membrane_width_in,
    )
    if detail.head_flashing is HeadFlashing.BEFORE_MEMBRANE:
        bottom_in -= DRIP_CAP_SHOWN_IN / 2
    name = "head membrane"
    return [_over_head("membrane", run_in, wide_in, bottom_in=bottom_in, name=name, opening=opening, say=say)]


def _drip_cap(opening: OpeningFacts, detail: DetailFacts, say: Say) -> Sequence[Shape]:
    run_in, top_in = drip_cap_in(opening, detail), _top_in(opening, detail)
    return [
        _over_head("drip-cap", run_in, DRIP_CAP_SHOWN_IN, bottom_in=top_in, name="drip cap", opening=opening, say=say)
    ]


def _counter_flashing(opening: OpeningFacts, detail: DetailFacts, say: Say) -> Sequence[Shape]:
    run_in = second_strip_in(opening, detail)
    bottom_in = _top_in(opening, detail) - DRIP_CAP_SHOWN_IN / 2
    name = "counter-flashing strip"
    return [
        _over_head("strip", run_in, detail.strip_width_in, bottom_in=bottom_in, name=name, opening=opening, say=say)
    ]


_DRAWN: dict[StepCode, Callable[[OpeningFacts, DetailFacts, Say], Sequence[Shape]]] = {
    StepCode.SILL_STRIP: _sill_strip,
    StepCode.PAN: _pan,
    StepCode.JAMB_STRIPS: _jamb_strips,
    StepCode.SET_UNIT: _unit,
    StepCode.DRIP_CAP: _drip_cap,
    StepCode.COUNTER_FLASHING: _counter_flashing,
    StepCode.HEAD_MEMBRANE: _head_membrane,
    StepCode.HEAD_STRIP: _head_strip,
}
