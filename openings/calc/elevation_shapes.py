"""What each step adds to the elevation of an opening: rectangles, in lay order.

Where strips, membrane, cap and unit lie is `openings.calc.extents`, from which the water path follows too. How thick a
pan or a frame is drawn is our choice, since no detail says it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from typing import NamedTuple

from openings.calc import extents
from openings.calc.extents import Rect
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.geometry import FLANGE
from openings.calc.lay_looks import KEEP_OUT_IN
from openings.calc.lay_order import steps_for
from openings.calc.step_code import StepCode

PAN_SHOWN_IN = Decimal("0.75")
FRAME_SHOWN_IN = Decimal(2)
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


def _shape(kind: str, lies: Rect, title: str) -> Shape:
    return Shape(kind, lies.left_in, lies.top_in, lies.width_in, lies.height_in, title)


def _sill_strip(opening: OpeningFacts, detail: DetailFacts, say: Say) -> Sequence[Shape]:
    lies = extents.sill_strip(opening, detail)
    strip = _shape("strip", lies, f"sill strip {say(lies.width_in)}")
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
    return [
        _shape("strip", lies, f"{side} jamb strip {say(lies.height_in)}")
        for side, lies in zip(("left", "right"), extents.jamb_strips(opening, detail), strict=True)
    ]


def _head_strip(opening: OpeningFacts, detail: DetailFacts, say: Say) -> Sequence[Shape]:
    lies = extents.head_strip(opening, detail)
    return [_shape("strip", lies, f"head strip {say(lies.width_in)}")]


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
    lies = extents.unit(opening)
    frame_in = min(FRAME_SHOWN_IN, lies.width_in / 5, lies.height_in / 5)
    glass = Rect(lies.left_in + frame_in, lies.top_in + frame_in, lies.right_in - frame_in, lies.bottom_in - frame_in)
    title = f"unit {say(lies.width_in)} × {say(lies.height_in)}"
    return [*_edge(opening, detail, say), _shape("unit", lies, title), _shape("glass", glass, "glass")]


def _edge(opening: OpeningFacts, detail: DetailFacts, say: Say) -> Sequence[Shape]:
    """Return the flange or the casing around the unit, if there is one."""
    lies = extents.edge_of_unit(opening, detail)
    if detail.mounting is FLANGE:
        return [_shape("flange", lies, "flange")]
    if detail.casing_width_in == 0:
        return []
    return [_shape("casing", lies, f"casing {say(detail.casing_width_in)} wide")]


def _head_membrane(opening: OpeningFacts, detail: DetailFacts, say: Say) -> Sequence[Shape]:
    lies = extents.head_membrane(opening, detail)
    return [_shape("membrane", lies, f"head membrane {say(lies.width_in)}")]


def _drip_cap(opening: OpeningFacts, detail: DetailFacts, say: Say) -> Sequence[Shape]:
    lies = extents.drip_cap(opening, detail)
    return [_shape("drip-cap", lies, f"drip cap {say(lies.width_in)}")]


def _counter_flashing(opening: OpeningFacts, detail: DetailFacts, say: Say) -> Sequence[Shape]:
    lies = extents.second_strip(opening, detail)
    return [_shape("strip", lies, f"counter-flashing strip {say(lies.width_in)}")]


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
