"""Where each piece of a detail lies on the face of the wall: one list, for the drawing and for the water path.

The origin is the upper left corner of the rough opening; x runs right, y down, in inches, seen from outside. How wide a
flange is, how tall a drip cap, and how far a membrane is folded onto the top of a casing, no detail says: our choice.
"""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.geometry import (
    CAP_LEG_IN,
    CASING,
    FLANGE,
    NOTHING,
    drip_cap_in,
    head_gap_in,
    head_membrane_in,
    jamb_gap_in,
    second_strip_in,
    strip_runs,
)
from openings.calc.terms import HeadFlashing

FLANGE_SHOWN_IN = Decimal("1.375")
CAP_LIP_IN = Decimal("0.5")
ONTO_CASING_IN = Decimal("0.5")


class Rect(NamedTuple):
    """A rectangle on the face of the wall; a line is one without width or without height."""

    left_in: Decimal
    top_in: Decimal
    right_in: Decimal
    bottom_in: Decimal

    @property
    def width_in(self) -> Decimal:
        return self.right_in - self.left_in

    @property
    def height_in(self) -> Decimal:
        return self.bottom_in - self.top_in


def sill_strip(opening: OpeningFacts, detail: DetailFacts) -> Rect:
    """Return where the sill strip lies: below the rough opening, past it at both ends by as much as it is wide."""
    strip_in, sill_in = detail.strip_width_in, opening.ro_height_in
    return Rect(-strip_in, sill_in, strip_runs(opening, detail).sill_in - strip_in, sill_in + strip_in)


def jamb_strips(opening: OpeningFacts, detail: DetailFacts) -> tuple[Rect, Rect]:
    """Return where the left and the right jamb strip lie: beside the rough opening, from head strip to sill strip."""
    strip_in, right_in = detail.strip_width_in, opening.ro_width_in
    top_in = detail.jamb_strip_short_in - strip_in
    bottom_in = top_in + strip_runs(opening, detail).jamb_in
    return Rect(-strip_in, top_in, NOTHING, bottom_in), Rect(right_in, top_in, right_in + strip_in, bottom_in)


def head_strip(opening: OpeningFacts, detail: DetailFacts) -> Rect:
    """Return where the head strip lies: down to the rough opening, onto a casing, or over the leg of a drip cap."""
    strip_in, bottom_in = detail.strip_width_in, top_of_unit_in(opening, detail)
    if detail.head_flashing is not HeadFlashing.NONE:
        bottom_in -= CAP_LEG_IN / 2
    elif detail.mounting is CASING:
        bottom_in += ONTO_CASING_IN
    bottom_in = min(NOTHING, bottom_in)
    return Rect(-strip_in, bottom_in - strip_in, strip_runs(opening, detail).head_in - strip_in, bottom_in)


def top_of_unit_in(opening: OpeningFacts, detail: DetailFacts) -> Decimal:
    """Return the height of the top of the unit, over its casing."""
    return head_gap_in(opening) - detail.casing_width_in


def unit(opening: OpeningFacts) -> Rect:
    """Return where the unit itself lies, centered in the rough opening."""
    x_in, y_in = jamb_gap_in(opening), head_gap_in(opening)
    return Rect(x_in, y_in, x_in + opening.unit_width_in, y_in + opening.unit_height_in)


def edge_of_unit(opening: OpeningFacts, detail: DetailFacts) -> Rect:
    """Return where the unit lies with its flange, or with its casing, which stands on jambs and head."""
    left_in, top_in, right_in, bottom_in = unit(opening)
    if detail.mounting is FLANGE:
        past_in = FLANGE_SHOWN_IN
        return Rect(left_in - past_in, top_in - past_in, right_in + past_in, bottom_in + past_in)
    past_in = detail.casing_width_in
    return Rect(left_in - past_in, top_in - past_in, right_in + past_in, bottom_in)


def head_membrane(opening: OpeningFacts, detail: DetailFacts) -> Rect:
    """Return where the head membrane lies: down onto the top of the unit, or over the leg of a cap set before it."""
    bottom_in = top_of_unit_in(opening, detail)
    if detail.head_flashing is HeadFlashing.BEFORE_MEMBRANE:
        bottom_in -= CAP_LEG_IN / 2
    elif detail.mounting is CASING:
        bottom_in += ONTO_CASING_IN
    return _over_head(opening, head_membrane_in(opening, detail), detail.head_membrane_width_in, bottom_in)


def drip_cap(opening: OpeningFacts, detail: DetailFacts) -> Rect:
    """Return where the drip cap lies: its upright leg above the top of the unit, its lip below it."""
    bottom_in = top_of_unit_in(opening, detail) + CAP_LIP_IN
    return _over_head(opening, drip_cap_in(opening, detail), CAP_LEG_IN + CAP_LIP_IN, bottom_in)


def second_strip(opening: OpeningFacts, detail: DetailFacts) -> Rect:
    """Return where the strip over the upright leg of the drip cap lies."""
    bottom_in = top_of_unit_in(opening, detail) - CAP_LEG_IN / 2
    return _over_head(opening, second_strip_in(opening, detail), detail.strip_width_in, bottom_in)


def pan_front(opening: OpeningFacts, detail: DetailFacts) -> Rect:
    """Return where the pan laps down over the sill strip; without height where it does not."""
    sill_in = opening.ro_height_in
    return Rect(NOTHING, sill_in, opening.ro_width_in, sill_in + detail.pan_front_lap_in)


def _over_head(opening: OpeningFacts, run_in: Decimal, height_in: Decimal, bottom_in: Decimal) -> Rect:
    left_in = (opening.ro_width_in - run_in) / 2
    return Rect(left_in, bottom_in - height_in, left_in + run_in, bottom_in)
