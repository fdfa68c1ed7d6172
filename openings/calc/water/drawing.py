"""The face of a wall drawn: its layers under the numbers of their steps, where drops run, and the faults marked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from jobs.calc.sentence import Sentence
from openings.calc.extents import Rect
from openings.calc.water.cells import Grid, bounds_of, grid_of
from openings.calc.water.faults import OF_THE_PAN
from openings.calc.water.layers import Layer, Role, Wall
from openings.calc.water.verdict import Fault, Point, Verdict

TEXTS_ACROSS = 28
"""How many lines of text the longer side of the drawing holds."""

PLACES_TRIED = 16
"""So many places of a layer, the largest first, are tried for its number."""

_KINDS = {
    Role.WRB: "wrb", Role.MEMBRANE: "membrane", Role.SECOND_STRIP: "membrane", Role.CAP: "drip-cap",
    Role.PAN: "pan", Role.CORNER_PIECE: "pan", Role.UNIT: "unit",
}  # fmt: skip


class Key(NamedTuple):
    """What stands for a layer in the drawings: the number of the step that lays it, a letter where others do."""

    mark: str
    layer: Layer


class Sheet(NamedTuple):
    """A piece of a layer; `kind` says what it is."""

    kind: str
    title: str
    rect: Rect


class Ring(NamedTuple):
    """A number or a letter at its place."""

    mark: str
    at: Point


class Mark(NamedTuple):
    """A fault by its number in the list: where it is, where its number stands, and a drop that shows it."""

    number: int
    places: tuple[Rect, ...]
    path: tuple[Point, ...]
    at: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing in inches: what lies on it, what is marked, and what it spans.

    Args:
        drops: where rain runs down, each from the top of the wall to its foot.
    """

    title: Sentence
    sheets: tuple[Sheet, ...]
    opening: Rect
    rings: tuple[Ring, ...]
    marks: tuple[Mark, ...]
    drops: tuple[tuple[Point, Point], ...]
    keys: tuple[Key, ...]
    bounds: Rect

    @property
    def text_in(self) -> Decimal:
        """Return the height of the lettering."""
        return _text_in(self.bounds)

    @property
    def ring_in(self) -> Decimal:
        """Return the radius of the ring around a number."""
        return self.text_in * 3 / 4


def keys_of(wall: Wall, numbers: Mapping[str, int]) -> tuple[Key, ...]:
    """Return what stands for each layer; a WRB is another trade's, whichever step folds it.

    Args:
        numbers: of the steps of the lay order, by their codes.
    """
    letters = iter("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    return tuple(
        Key(next(letters) if layer.role is Role.WRB or not number else str(number), layer)
        for layer in wall.layers
        for number in [numbers.get(layer.step)]
    )


def sections_at(wall: Wall) -> tuple[Decimal, Decimal]:
    """Return where the wall is cut: through the middle of the opening, and through the left jamb strip."""
    jamb_in = next((wall.layers[place].left_in / 2 for place in wall.of_role(Role.JAMB_STRIP)), Decimal(-6))
    return wall.width_in / 2, jamb_in


def face_of(wall: Wall, verdict: Verdict, numbers: Mapping[str, int]) -> Picture:
    """Return the wall from outside, as its layers lie, with the places of its faults and the drops that show them."""
    laid = [Sheet(kind_of(layer.role), layer.name, rect) for layer in _as_they_lie(wall) for rect in layer.rects]
    flaps = [Sheet("wrb flap", layer.name, rect) for layer in wall.layers if layer.flap for rect in layer.flap.rects]
    bounds, keys, lettering = bounds_of(wall.layers), keys_of(wall, numbers), _Lettering(bounds_of(wall.layers))
    drops = tuple(((at_in, bounds.top_in), (at_in, bounds.bottom_in)) for at_in in sections_at(wall))
    marks = tuple(
        Mark(number, fault.places, fault.path, lettering.put(_places_of(fault, wall)))
        for number, fault in enumerate(verdict.faults, start=1)
    )
    rings = tuple(Ring(key.mark, at) for key, at in _rings(grid_of(wall), keys, lettering))
    return Picture(
        title=Sentence("The wall from outside"),
        sheets=(*laid, *flaps),
        opening=wall.opening,
        rings=rings,
        marks=marks,
        drops=drops,
        keys=keys,
        bounds=bounds,
    )


def kind_of(role: Role) -> str:
    """Return how a layer is colored."""
    return _KINDS.get(role, "strip")


def _as_they_lie(wall: Wall) -> list[Layer]:
    """Return the layers from the inside out, each that is tucked behind others before them."""
    names = [layer.name for layer in wall.layers]

    def depth(layer: Layer) -> tuple[int, bool]:
        own = names.index(layer.name)
        return min([own, *(names.index(tuck.behind) for tuck in layer.tucks)]), not layer.tucks

    return sorted(wall.layers, key=depth)


def _places_of(fault: Fault, wall: Wall) -> list[Point]:
    """Return where the number of a fault may stand: at its places, its drop, its layers, or at the sill, where that of
    a pan stands at a corner."""
    if fault.name in OF_THE_PAN:
        return [(Decimal(0), wall.height_in), (wall.width_in, wall.height_in)]
    layers = {layer.name: layer for layer in wall.layers}
    rects = [*fault.places, *(rect for name in fault.layers for rect in layers[name].rects)]
    return [*map(_middle, rects), *fault.path, (wall.width_in / 2, wall.height_in)]


def _rings(grid: Grid, keys: Iterable[Key], lettering: _Lettering) -> Iterator[tuple[Key, Point]]:
    """Yield where the mark of each layer stands: where it is the outermost and has room, else in its middle."""
    bare: dict[int, list[Rect]] = {}
    for row, column in grid.cells():
        stack, rect = grid.stacks[row][column], grid.rect(row, column)
        if stack and min(rect.width_in, rect.height_in) >= lettering.ring_in:
            bare.setdefault(stack[-1], []).append(rect)
    for place, key in enumerate(keys):
        largest = sorted(bare.get(place, []), key=lambda rect: rect.width_in * rect.height_in, reverse=True)
        yield key, lettering.put([_middle(rect) for rect in (*largest[:PLACES_TRIED], *key.layer.rects)])


class _Lettering:
    """Puts rings where none lies yet."""

    def __init__(self, bounds: Rect) -> None:
        self.ring_in = _text_in(bounds) * 3 / 4
        self._bounds = bounds
        self._taken: list[Point] = []

    def put(self, places: Sequence[Point]) -> Point:
        """Return the first of the places, or of those beside them, that is free; the first where none is."""
        at = next((place for place in self._tried(places) if self._is_free(place)), places[0])
        self._taken.append(at)
        return at

    def _tried(self, places: Sequence[Point]) -> Iterator[Point]:
        step_in = self.ring_in * 5 / 2
        yield from map(self._inside, places)
        for times in (1, 2, 3, -1, -2, -3):
            for x_in, y_in in places:
                yield self._inside((x_in + times * step_in, y_in))

    def _inside(self, place: Point) -> Point:
        left_in, top_in, right_in, bottom_in = self._bounds
        margin_in = self.ring_in * 4 / 3
        x_in = min(max(place[0], left_in + margin_in), right_in - margin_in)
        y_in = min(max(place[1], top_in + margin_in), bottom_in - margin_in)
        return x_in, y_in

    def _is_free(self, place: Point) -> bool:
        apart_in = self.ring_in * 9 / 4
        return all(abs(place[0] - x_in) >= apart_in or abs(place[1] - y_in) >= apart_in for x_in, y_in in self._taken)


def _text_in(bounds: Rect) -> Decimal:
    return max(bounds.width_in, bounds.height_in) / TEXTS_ACROSS


def _middle(rect: Rect) -> Point:
    return (rect.left_in + rect.right_in) / 2, (rect.top_in + rect.bottom_in) / 2
