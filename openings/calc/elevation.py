"""A rough opening drawn to scale, seen from outside, in lay order: what laps over is drawn later.

The origin is the upper left corner of the rough opening; x runs right, y down, in inches. Lengths and strip
widths are to scale. How thick or tall a pan, a flange, a frame, a membrane or a drip cap is drawn is our
choice, since no detail says it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.geometry import (
    FLANGE,
    JAMB_STRIP_SHORT_IN,
    Points,
    anchor_points,
    drip_cap_in,
    flange_points,
    head_gap_in,
    head_membrane_in,
    jamb_gap_in,
    shim_points,
    strip_runs,
)
from openings.calc.lay_order import StepCode, steps_for
from openings.calc.tape import format_length

PAN_SHOWN_IN = Decimal("0.75")
FLANGE_SHOWN_IN = Decimal("1.375")
FRAME_SHOWN_IN = Decimal(2)
MEMBRANE_SHOWN_IN = Decimal(6)
DRIP_CAP_SHOWN_IN = Decimal("1.5")

TEXTS_ACROSS = 32
"""How many lines of text the longer side of the drawing holds."""


class Shape(NamedTuple):
    """A rectangle; `kind` names the part."""

    kind: str
    x_in: Decimal
    y_in: Decimal
    width_in: Decimal
    height_in: Decimal
    title: str

    @property
    def right_in(self) -> Decimal:
        return self.x_in + self.width_in

    @property
    def bottom_in(self) -> Decimal:
        return self.y_in + self.height_in


class Point(NamedTuple):
    """A fastener or a shim."""

    kind: str
    x_in: Decimal
    y_in: Decimal


class Dimension(NamedTuple):
    """A dimension line from one end to the other and the text at its middle."""

    text: str
    x1_in: Decimal
    y1_in: Decimal
    x2_in: Decimal
    y2_in: Decimal

    @property
    def is_upright(self) -> bool:
        return self.x1_in == self.x2_in

    @property
    def middle_in(self) -> tuple[Decimal, Decimal]:
        return (self.x1_in + self.x2_in) / 2, (self.y1_in + self.y2_in) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Elevation:
    """The drawing: shapes in the order in which they are laid, points, dimensions, and what it all spans."""

    shapes: tuple[Shape, ...]
    points: tuple[Point, ...]
    dimensions: tuple[Dimension, ...]
    left_in: Decimal
    top_in: Decimal
    width_in: Decimal
    height_in: Decimal

    @property
    def text_in(self) -> Decimal:
        """Height of the lettering."""
        return max(self.width_in, self.height_in) / TEXTS_ACROSS

    @property
    def dot_in(self) -> Decimal:
        """Radius of a point."""
        return self.text_in / 5


def elevation_of(opening: OpeningFacts, detail: DetailFacts) -> Elevation:
    """Return the drawing of one opening with what its detail puts around it."""
    shapes = tuple(_shapes(opening, detail))
    left_in, top_in = min(s.x_in for s in shapes), min(s.y_in for s in shapes)
    right_in, bottom_in = max(s.right_in for s in shapes), max(s.bottom_in for s in shapes)
    margin_in = 6 * max(right_in - left_in, bottom_in - top_in) / TEXTS_ACROSS
    return Elevation(
        shapes=shapes,
        points=(*_fasteners(opening, detail), *_shims(opening, detail)),
        dimensions=_dimensions(opening, (left_in, top_in, right_in, bottom_in), margin_in / 2),
        left_in=left_in - margin_in,
        top_in=top_in - margin_in,
        width_in=right_in - left_in + 2 * margin_in,
        height_in=bottom_in - top_in + 2 * margin_in,
    )


def spread(length_in: Decimal, *, count: int, corner_in: Decimal) -> tuple[Decimal, ...]:
    """Return where points stand along a side: the outer ones `corner_in` from its ends, the others evenly between.

    >>> [int(at) for at in spread(Decimal(40), count=3, corner_in=Decimal(4))]
    [4, 20, 36]
    """
    if count == 1:
        return (length_in / 2,)
    step_in = (length_in - 2 * corner_in) / (count - 1)
    return tuple(corner_in + number * step_in for number in range(count))


def _shapes(opening: OpeningFacts, detail: DetailFacts) -> Iterator[Shape]:
    ro_in = f"{format_length(opening.ro_width_in)} × {format_length(opening.ro_height_in)}"
    yield Shape(
        "rough-opening", Decimal(0), Decimal(0), opening.ro_width_in, opening.ro_height_in, f"rough opening {ro_in}"
    )
    for step in steps_for(detail):
        if step.code in _DRAWN:
            yield from _DRAWN[step.code](opening, detail)


def _sill_strip(opening: OpeningFacts, detail: DetailFacts) -> Sequence[Shape]:
    strip_in, run_in = detail.strip_width_in, strip_runs(opening, detail).sill_in
    return [Shape("strip", -strip_in, opening.ro_height_in, run_in, strip_in, f"sill strip {format_length(run_in)}")]


def _jamb_strips(opening: OpeningFacts, detail: DetailFacts) -> Sequence[Shape]:
    strip_in, run_in = detail.strip_width_in, strip_runs(opening, detail).jamb_in
    top_in = JAMB_STRIP_SHORT_IN - strip_in
    return [
        Shape("strip", x_in, top_in, strip_in, run_in, f"{side} jamb strip {format_length(run_in)}")
        for side, x_in in (("left", -strip_in), ("right", opening.ro_width_in))
    ]


def _head_strip(opening: OpeningFacts, detail: DetailFacts) -> Sequence[Shape]:
    strip_in, run_in = detail.strip_width_in, strip_runs(opening, detail).head_in
    return [Shape("strip", -strip_in, -strip_in, run_in, strip_in, f"head strip {format_length(run_in)}")]


def _pan(opening: OpeningFacts, detail: DetailFacts) -> Sequence[Shape]:
    width_in, sill_in, up_in = opening.ro_width_in, opening.ro_height_in, detail.pan_turn_up_in
    length = format_length(width_in + 2 * up_in)
    lies = Shape("pan", Decimal(0), sill_in - PAN_SHOWN_IN, width_in, PAN_SHOWN_IN, f"pan membrane {length}")
    turned_up = [
        Shape("pan", x_in, sill_in - up_in, PAN_SHOWN_IN, up_in, f"pan turned up {format_length(up_in)}")
        for x_in in (Decimal(0), width_in - PAN_SHOWN_IN)
        if up_in > 0
    ]
    return [lies, *turned_up]


def _unit(opening: OpeningFacts, detail: DetailFacts) -> Sequence[Shape]:
    x_in, y_in = jamb_gap_in(opening), head_gap_in(opening)
    width_in, height_in = opening.unit_width_in, opening.unit_height_in
    frame_in = min(FRAME_SHOWN_IN, width_in / 5, height_in / 5)
    size = f"{format_length(width_in)} × {format_length(height_in)}"
    glass = Shape("glass", x_in + frame_in, y_in + frame_in, width_in - 2 * frame_in, height_in - 2 * frame_in, "glass")
    return [*_edge(opening, detail), Shape("unit", x_in, y_in, width_in, height_in, f"unit {size}"), glass]


def _edge(opening: OpeningFacts, detail: DetailFacts) -> Sequence[Shape]:
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
    title = f"casing {format_length(past_in)} wide"
    return [Shape("casing", x_in - past_in, y_in - past_in, width_in + 2 * past_in, height_in + past_in, title)]


def _top_in(opening: OpeningFacts, detail: DetailFacts) -> Decimal:
    return head_gap_in(opening) - detail.casing_width_in


def _over_head(
    kind: str, run_in: Decimal, height_in: Decimal, *, bottom_in: Decimal, name: str, opening: OpeningFacts
) -> Shape:
    x_in = (opening.ro_width_in - run_in) / 2
    return Shape(kind, x_in, bottom_in - height_in, run_in, height_in, f"{name} {format_length(run_in)}")


def _head_membrane(opening: OpeningFacts, detail: DetailFacts) -> Sequence[Shape]:
    run_in, top_in = head_membrane_in(opening, detail), _top_in(opening, detail)
    return [_over_head("membrane", run_in, MEMBRANE_SHOWN_IN, bottom_in=top_in, name="head membrane", opening=opening)]


def _drip_cap(opening: OpeningFacts, detail: DetailFacts) -> Sequence[Shape]:
    run_in, top_in = drip_cap_in(opening, detail), _top_in(opening, detail)
    return [_over_head("drip-cap", run_in, DRIP_CAP_SHOWN_IN, bottom_in=top_in, name="drip cap", opening=opening)]


def _counter_flashing(opening: OpeningFacts, detail: DetailFacts) -> Sequence[Shape]:
    run_in = drip_cap_in(opening, detail) + 2 * detail.head_membrane_lap_in
    bottom_in = _top_in(opening, detail) - DRIP_CAP_SHOWN_IN / 2
    name = "counter-flashing strip"
    return [_over_head("strip", run_in, detail.strip_width_in, bottom_in=bottom_in, name=name, opening=opening)]


_DRAWN: dict[StepCode, Callable[[OpeningFacts, DetailFacts], Sequence[Shape]]] = {
    StepCode.SILL_STRIP: _sill_strip,
    StepCode.PAN: _pan,
    StepCode.JAMB_STRIPS: _jamb_strips,
    StepCode.SET_UNIT: _unit,
    StepCode.DRIP_CAP: _drip_cap,
    StepCode.COUNTER_FLASHING: _counter_flashing,
    StepCode.HEAD_MEMBRANE: _head_membrane,
    StepCode.HEAD_STRIP: _head_strip,
}


def _fasteners(opening: OpeningFacts, detail: DetailFacts) -> Iterator[Point]:
    if detail.mounting is FLANGE:
        points, corner_in = flange_points(opening, detail), detail.flange_fastener_corner_in
        past_in = FLANGE_SHOWN_IN / 2
    else:
        points, corner_in = anchor_points(opening, detail), detail.strap_corner_in
        past_in = detail.casing_width_in / 2
    yield from _around("fastener", points, opening, corner_in=corner_in, past_in=past_in)


def _shims(opening: OpeningFacts, detail: DetailFacts) -> Iterator[Point]:
    yield from _around("shim", shim_points(opening, detail), opening, corner_in=detail.shim_end_in, past_in=Decimal(0))


def _around(
    kind: str, points: Points, opening: OpeningFacts, *, corner_in: Decimal, past_in: Decimal
) -> Iterator[Point]:
    """Yield points on jambs, head and sill, `past_in` outside the unit."""
    left_in, top_in = jamb_gap_in(opening), head_gap_in(opening)
    right_in, bottom_in = left_in + opening.unit_width_in, top_in + opening.unit_height_in
    for down_in in spread(opening.unit_height_in, count=points.jamb, corner_in=corner_in):
        yield Point(kind, left_in - past_in, top_in + down_in)
        yield Point(kind, right_in + past_in, top_in + down_in)
    for count, y_in in ((points.head, top_in - past_in), (points.sill, bottom_in + past_in)):
        if count:
            for across_in in spread(opening.unit_width_in, count=count, corner_in=corner_in):
                yield Point(kind, left_in + across_in, y_in)


def _dimensions(
    opening: OpeningFacts, bounds: tuple[Decimal, Decimal, Decimal, Decimal], away_in: Decimal
) -> tuple[Dimension, ...]:
    """Return the rough opening below and at the left, the unit above and at the right."""
    left_in, top_in, right_in, bottom_in = bounds
    zero = Decimal(0)
    unit_x_in, unit_y_in = jamb_gap_in(opening), head_gap_in(opening)
    ro_width, ro_height = format_length(opening.ro_width_in), format_length(opening.ro_height_in)
    unit_width, unit_height = format_length(opening.unit_width_in), format_length(opening.unit_height_in)
    below_in, beside_in, above_in, opposite_in = (
        bottom_in + away_in,
        left_in - away_in,
        top_in - away_in,
        right_in + away_in,
    )
    return (
        Dimension(f"RO {ro_width}", zero, below_in, opening.ro_width_in, below_in),
        Dimension(f"RO {ro_height}", beside_in, zero, beside_in, opening.ro_height_in),
        Dimension(f"unit {unit_width}", unit_x_in, above_in, unit_x_in + opening.unit_width_in, above_in),
        Dimension(f"unit {unit_height}", opposite_in, unit_y_in, opposite_in, unit_y_in + opening.unit_height_in),
    )
