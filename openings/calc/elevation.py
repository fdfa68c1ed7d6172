"""A rough opening drawn to scale, seen from outside, in lay order: what laps over is drawn later.

The origin is the upper left corner of the rough opening; x runs right, y down, in inches.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from openings.calc.elevation_shapes import Say, Shape, shapes_of
from openings.calc.extents import FLANGE_SHOWN_IN
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.geometry import (
    FLANGE,
    Points,
    anchor_points,
    flange_points,
    has_shimmed_straps,
    head_gap_in,
    jamb_gap_in,
    jamb_shims_beside_straps_in,
    shim_points,
    spread,
)
from openings.calc.tape import format_length
from openings.calc.units import US, Units

TEXTS_ACROSS = 32
"""How many lines of text the longer side of the drawing holds."""


class Point(NamedTuple):
    """A fastener, a strap or a shim; a shimmed strap has a pair of shims behind it."""

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
        """Return the height of the lettering."""
        return max(self.width_in, self.height_in) / TEXTS_ACROSS

    @property
    def dot_in(self) -> Decimal:
        """Return the radius of a point."""
        return self.text_in / 5

    @property
    def number_in(self) -> Decimal:
        """Return the radius of the ring around a number."""
        return self.text_in * 3 / 4


def elevation_of(opening: OpeningFacts, detail: DetailFacts, *, units: Units = US) -> Elevation:
    """Return the drawing of one opening with what its detail puts around it."""
    say = units.say if units.is_metric else format_length
    shapes = tuple(shapes_of(opening, detail, say))
    left_in, top_in = min(s.x_in for s in shapes), min(s.y_in for s in shapes)
    right_in, bottom_in = max(s.right_in for s in shapes), max(s.bottom_in for s in shapes)
    margin_in = 6 * max(right_in - left_in, bottom_in - top_in) / TEXTS_ACROSS
    return Elevation(
        shapes=shapes,
        points=(*_fasteners(opening, detail), *_shims(opening, detail)),
        dimensions=_dimensions(opening, (left_in, top_in, right_in, bottom_in), margin_in / 2, say),
        left_in=left_in - margin_in,
        top_in=top_in - margin_in,
        width_in=right_in - left_in + 2 * margin_in,
        height_in=bottom_in - top_in + 2 * margin_in,
    )


def _fasteners(opening: OpeningFacts, detail: DetailFacts) -> Iterator[Point]:
    if detail.mounting is FLANGE:
        points, corner_in = flange_points(opening, detail), detail.flange_fastener_corner_in
        yield from _around("fastener", points, opening, corner_in=corner_in, past_in=FLANGE_SHOWN_IN / 2)
    points, corner_in = anchor_points(opening, detail), detail.strap_corner_in
    if detail.has_straps:
        kind = "shimmed strap" if has_shimmed_straps(detail) else "strap"
        yield from _around(kind, points, opening, corner_in=corner_in, past_in=Decimal(0))
    elif detail.mounting is not FLANGE:
        yield from _around("fastener", points, opening, corner_in=corner_in, past_in=detail.casing_width_in / 2)


def _shims(opening: OpeningFacts, detail: DetailFacts) -> Iterator[Point]:
    """Yield the shims beside those at straps, whose own pair lies behind them, see `_fasteners`."""
    left_in, top_in = jamb_gap_in(opening), head_gap_in(opening)
    for down_in in jamb_shims_beside_straps_in(opening, detail):
        yield Point("shim", left_in, top_in + down_in)
        yield Point("shim", left_in + opening.unit_width_in, top_in + down_in)
    for across_in in spread(
        opening.unit_width_in, count=shim_points(opening, detail).sill, corner_in=detail.shim_end_in
    ):
        yield Point("shim", left_in + across_in, top_in + opening.unit_height_in)


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
    opening: OpeningFacts, bounds: tuple[Decimal, Decimal, Decimal, Decimal], away_in: Decimal, say: Say
) -> tuple[Dimension, ...]:
    """Return the rough opening below and at the left, the unit above and at the right."""
    left_in, top_in, right_in, bottom_in = bounds
    zero = Decimal(0)
    unit_x_in, unit_y_in = jamb_gap_in(opening), head_gap_in(opening)
    ro_width, ro_height = say(opening.ro_width_in), say(opening.ro_height_in)
    if opening.drawn_ro_in:
        drawn_width, drawn_height = map(say, opening.drawn_ro_in)
        ro_width, ro_height = f"{ro_width} (drawn {drawn_width})", f"{ro_height} (drawn {drawn_height})"
    unit_width, unit_height = say(opening.unit_width_in), say(opening.unit_height_in)
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
