"""A wall as it is laid: sheets on its face with their edges, in lay order, which is the order outward.

The origin is the upper left corner of the rough opening; x runs right, y down, in inches, seen from outside.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import NamedTuple

from jobs.calc.say import field_name
from openings.calc.extents import Rect
from openings.calc.facts import MAX_SIDE_IN
from openings.calc.units import US
from openings.errors import BadWall

MOST_LAYERS, MOST_RECTANGLES, MOST_REACH_IN = 24, 40, Decimal(1200)
"""More layers, more rectangles of one, or a wall further from the opening is a slip (our choice)."""


class Role(StrEnum):
    """What a layer is in the wall."""

    WRB = "WRB"
    SILL_STRIP = "sill strip"
    JAMB_STRIP = "jamb strip"
    HEAD_STRIP = "head strip"
    MEMBRANE = "head membrane"
    SECOND_STRIP = "second strip"
    CAP = "drip cap"
    PAN = "pan"
    CORNER_PIECE = "corner piece"
    UNIT = "unit"


class Edge(StrEnum):
    """How an edge lies on what is beneath it. A fastened edge lets water pass as a free one does."""

    FREE = "free"
    FASTENED = "fastened"
    BONDED = "bonded"


class Tuck(NamedTuple):
    """Behind which earlier layer a layer is put, and where; everywhere without a place."""

    behind: str
    where: Rect | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Flap:
    """A part of a layer that is cut, folded away, and folded back over what was laid meanwhile.

    Args:
        rects: what is folded, from the opening up; its sides and its lower edge are cut, its upper edge is the fold.
        is_taped: whether the cuts are taped once it is closed.
        closed_after: name of the layer after which it is closed; after all of them where empty.
    """

    rects: tuple[Rect, ...]
    is_taped: bool = True
    closed_after: str = ""

    @property
    def fold_in(self) -> Decimal:
        """Return how high the fold lies."""
        return min(rect.top_in for rect in self.rects)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One sheet, or the unit with its flange or casing.

    Args:
        top, sides, bottom: how its edges lie on what is beneath.
        bottom_gaps: how many gaps a bonded bottom has for water to run out.
        tucks: the earlier layers behind which it is put.
        cuts: where it is slit, each as a line.
        step: the step of the lay order that makes it; empty where others lay it.
    """

    name: str
    role: Role
    rects: tuple[Rect, ...]
    top: Edge = Edge.FREE
    sides: Edge = Edge.FREE
    bottom: Edge = Edge.FREE
    bottom_gaps: int = 0
    tucks: tuple[Tuck, ...] = ()
    flap: Flap | None = None
    cuts: tuple[Rect, ...] = ()
    step: str = ""

    @property
    def is_sealed_above(self) -> bool:
        """Return whether no water comes behind it from above or from beside."""
        return self.top is Edge.BONDED and self.sides is Edge.BONDED

    @property
    def holds_water(self) -> bool:
        """Return whether what runs behind it cannot run out at its bottom."""
        return self.bottom is Edge.BONDED and not self.bottom_gaps

    @property
    def top_in(self) -> Decimal:
        return min(rect.top_in for rect in self.rects)

    @property
    def left_in(self) -> Decimal:
        return min(rect.left_in for rect in self.rects)

    @property
    def right_in(self) -> Decimal:
        return max(rect.right_in for rect in self.rects)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pan:
    """What of a pan cannot be seen on the face of the wall.

    Args:
        length_in: of the membrane, over sill and both turn-ups.
        is_slit_through_base: whether a slit runs back into the sill, as at the front corners it must not.
    """

    turn_up_in: Decimal
    length_in: Decimal
    back_dam_in: Decimal
    slope_deg: Decimal
    front_lap_in: Decimal
    is_slit_through_base: bool = False
    is_fastened_through_base: bool = False
    has_corner_pieces: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """The rough opening, the layers in lay order, and what of a pan does not lie on the face.

    Raises:
        BadWall: no layer or too many, a name twice, no extent, a cut that is no line, a pan of which nothing is said,
            or a tuck or a flap that names no layer.
    """

    width_in: Decimal
    height_in: Decimal
    layers: tuple[Layer, ...]
    pan: Pan | None = None

    def __post_init__(self) -> None:
        if not self.layers or len(self.layers) > MOST_LAYERS:
            raise _bad("layers", len(self.layers), f"the wall has {len(self.layers)} layers; give 1 to {MOST_LAYERS}")
        for field, side_in in (("ro_width_in", self.width_in), ("ro_height_in", self.height_in)):
            if not 0 < side_in <= MAX_SIDE_IN:
                sentence = f"it is {US.say(side_in)}; it must be above 0 and at most {US.say(MAX_SIDE_IN)}"
                raise _bad(field, side_in, f"the {field_name(field)}: {sentence}")
        names = [layer.name for layer in self.layers]
        for layer in self.layers:
            if names.count(layer.name) > 1:
                raise _bad("layers", layer.name, f"two layers are called {layer.name}; give each a name of its own")
            _require_extent(layer)
            _require_names(layer, names)
        if self.pan is None and next(self.of_role(Role.PAN), None) is not None:
            raise _bad("pan", "", "a layer is a pan; say of it how far it turns up, how long it is, and how it dams")

    @property
    def opening(self) -> Rect:
        return Rect(Decimal(0), Decimal(0), self.width_in, self.height_in)

    def of_role(self, *roles: Role) -> Iterator[int]:
        """Yield the places, in lay order, of the layers that have one of the roles."""
        return (place for place, layer in enumerate(self.layers) if layer.role in roles)


def _require_extent(layer: Layer) -> None:
    rects = (*layer.rects, *(layer.flap.rects if layer.flap else ()))
    if not layer.rects or len(rects) + len(layer.cuts) > MOST_RECTANGLES:
        sentence = f"{layer.name} has {len(rects)} rectangles; give 1 to {MOST_RECTANGLES}, cuts and flap included"
        raise _bad("layers", layer.name, sentence)
    for rect in rects:
        if rect.width_in <= 0 or rect.height_in <= 0:
            sentence = (
                f"{layer.name} has a rectangle without width or height; give left before right, top before bottom"
            )
            raise _bad("layers", layer.name, sentence)
    for cut in layer.cuts:
        if min(cut.width_in, cut.height_in) != 0 or max(cut.width_in, cut.height_in) <= 0:
            raise _bad("layers", layer.name, f"{layer.name} has a cut that is no line; give it no width, or no height")
    for where in (tuck.where for tuck in layer.tucks if tuck.where):
        if where.width_in <= 0 or where.height_in <= 0:
            sentence = f"{layer.name} is behind another in a place without width or height"
            raise _bad("layers", layer.name, f"{sentence}; give left before right, top before bottom")
    places = (*rects, *layer.cuts, *(tuck.where for tuck in layer.tucks if tuck.where))
    if any(abs(at) > MOST_REACH_IN for rect in places for at in rect):
        raise _bad("layers", layer.name, f"{layer.name} reaches further than {MOST_REACH_IN} in from the opening")


def _require_names(layer: Layer, names: Sequence[str]) -> None:
    named = [tuck.behind for tuck in layer.tucks]
    if layer.flap and layer.flap.closed_after:
        named.append(layer.flap.closed_after)
    for name in named:
        if name not in names or name == layer.name:
            raise _bad("layers", name, f"{layer.name} names {name}, which is no other layer of this wall")


def _bad(field: str, value: object, sentence: str) -> BadWall:
    return BadWall.of(field, str(value), sentence)
