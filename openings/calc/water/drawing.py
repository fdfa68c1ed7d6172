"""The wall drawn: its face with the faults marked, and sections through it, from the sheathing outward."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from jobs.calc.sentence import Sentence
from openings.calc.extents import Rect
from openings.calc.water.cells import Grid, bounds_of, grid_of
from openings.calc.water.layers import Layer, Role, Wall
from openings.calc.water.verdict import Point, Verdict

TEXTS_ACROSS = 30
"""How many lines of text the longer side of the drawing holds."""

LEVELS_ACROSS = 28
"""How many layers beside one another are as wide as the wall is high (our choice: sheets have no thickness)."""

_KINDS = {
    Role.WRB: "wrb", Role.MEMBRANE: "membrane", Role.SECOND_STRIP: "membrane", Role.CAP: "drip-cap",
    Role.PAN: "pan", Role.CORNER_PIECE: "pan", Role.UNIT: "unit",
}  # fmt: skip


class Sheet(NamedTuple):
    """A piece of a layer; `kind` says what it is."""

    kind: str
    title: str
    rect: Rect


class Mark(NamedTuple):
    """A fault by its number in the list: where it is, and a drop that shows it."""

    number: int
    places: tuple[Rect, ...]
    path: tuple[Point, ...]

    @property
    def at(self) -> Point:
        """Return where its number is written: at its first place, else where its drop begins."""
        if not self.places:
            return self.path[0]
        left_in, top_in, right_in, bottom_in = self.places[0]
        return (left_in + right_in) / 2, (top_in + bottom_in) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing in inches: what lies on it, what is marked, and what it spans."""

    title: Sentence
    sheets: tuple[Sheet, ...]
    opening: Rect
    marks: tuple[Mark, ...]
    bounds: Rect

    @property
    def text_in(self) -> Decimal:
        """Return the height of the lettering."""
        return max(self.bounds.width_in, self.bounds.height_in) / TEXTS_ACROSS


def face_of(wall: Wall, verdict: Verdict) -> Picture:
    """Return the wall from outside, as its layers lie, with the places of its faults and the drops that show them."""
    laid = [Sheet(_kind(layer.role), layer.name, rect) for layer in _as_they_lie(wall) for rect in layer.rects]
    flaps = [Sheet("wrb flap", layer.name, rect) for layer in wall.layers if layer.flap for rect in layer.flap.rects]
    marks = [
        Mark(number, fault.places, fault.path)
        for number, fault in enumerate(verdict.faults, start=1)
        if fault.places or fault.path
    ]
    return Picture(
        title=Sentence("The wall from outside, with the faults marked"),
        sheets=(*laid, *flaps),
        opening=wall.opening,
        marks=tuple(marks),
        bounds=bounds_of(wall.layers),
    )


def _as_they_lie(wall: Wall) -> list[Layer]:
    """Return the layers from the inside out, each that is tucked behind others before them."""
    names = [layer.name for layer in wall.layers]

    def depth(layer: Layer) -> tuple[int, bool]:
        own = names.index(layer.name)
        return min([own, *(names.index(tuck.behind) for tuck in layer.tucks)]), not layer.tucks

    return sorted(wall.layers, key=depth)


def sections_of(wall: Wall) -> tuple[Picture, ...]:
    """Return how the layers lie over one another in two sections: the middle of the opening, and the left jamb."""
    grid = grid_of(wall)
    jamb_in = next((wall.layers[place].left_in / 2 for place in wall.of_role(Role.JAMB_STRIP)), Decimal(-6))
    return (
        _section(grid, wall.width_in / 2, Sentence("Through the middle of the opening, the inside at the left")),
        _section(grid, jamb_in, Sentence("Through the left jamb strip, the inside at the left")),
    )


def _section(grid: Grid, at_in: Decimal, title: Sentence) -> Picture:
    column = next(
        (number for number in grid.columns if grid.xs[number] <= at_in < grid.xs[number + 1]), grid.columns[0]
    )
    level_in = (grid.ys[-1] - grid.ys[0]) / LEVELS_ACROSS
    deepest = max(len(grid.stacks[row][column]) for row in grid.rows)
    return Picture(
        title=title,
        sheets=tuple(_bars(grid, column, level_in)),
        opening=Rect(-level_in, Decimal(0), Decimal(0), grid.wall.height_in),
        marks=(),
        bounds=Rect(-level_in, grid.ys[0], (deepest + 1) * level_in, grid.ys[-1]),
    )


def _bars(grid: Grid, column: int, level_in: Decimal) -> Iterator[Sheet]:
    """Yield each layer of a column as bars: as far out as it lies, as long as it lies there."""
    stacks = [grid.stacks[row][column] for row in grid.rows]
    for place, layer in enumerate(grid.wall.layers):
        levels = [stack.index(place) if place in stack else None for stack in stacks]
        for first, last, level in _runs(levels):
            rect = Rect(level * level_in, grid.ys[first], (level + Decimal("0.7")) * level_in, grid.ys[last + 1])
            yield Sheet(_kind(layer.role), layer.name, rect)


def _runs(levels: Sequence[int | None]) -> Iterator[tuple[int, int, int]]:
    """Yield the first row, the last row and the level of each run of rows at one level."""
    first = 0
    for row in range(1, len(levels) + 1):
        if row == len(levels) or levels[row] != levels[first]:
            if (level := levels[first]) is not None:
                yield first, row - 1, level
            first = row


def _kind(role: Role) -> str:
    return _KINDS.get(role, "strip")
