"""The face of a wall cut into cells, each with its stack of layers from the sheathing outward."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from openings.calc.extents import Rect
from openings.calc.water.layers import Layer, Wall
from openings.errors import BadWall

MOST_CELLS, MOST_PIECES = 6000, 40_000
"""More cells, or more pieces of layers in all cells together, take seconds and say no more (our choice)."""

Stack = tuple[int, ...]
"""Places of layers in the lay order of their wall, the innermost first."""


@dataclass(frozen=True)
class Grid:
    """The cells of a wall between the lines of all edges, row by row from the top.

    Args:
        late: for each cell, bit by layer, whether the layer lies there by its flap.
    """

    wall: Wall
    xs: tuple[Decimal, ...]
    ys: tuple[Decimal, ...]
    stacks: tuple[tuple[Stack, ...], ...]
    late: tuple[tuple[int, ...], ...]

    @property
    def rows(self) -> range:
        return range(len(self.ys) - 1)

    @property
    def columns(self) -> range:
        return range(len(self.xs) - 1)

    def rect(self, row: int, column: int) -> Rect:
        """Return where a cell lies."""
        return Rect(self.xs[column], self.ys[row], self.xs[column + 1], self.ys[row + 1])

    def is_opening(self, row: int, column: int) -> bool:
        """Return whether there is no wall behind a cell, but the rough opening."""
        left_in, top_in = self.xs[column], self.ys[row]
        return 0 <= left_in < self.wall.width_in and 0 <= top_in < self.wall.height_in

    def cells(self) -> Iterator[tuple[int, int]]:
        """Yield every cell as its row and its column."""
        return ((row, column) for row in self.rows for column in self.columns)

    @cached_property
    def tops(self) -> dict[int, list[tuple[int, int]]]:
        """Return the cells by layer in which its upper edge lies."""
        found: dict[int, list[tuple[int, int]]] = {place: [] for place in range(len(self.wall.layers))}
        for row, column in self.cells():
            above = self.stacks[row - 1][column] if row else ()
            for place in self.stacks[row][column]:
                if place not in above:
                    found[place].append((row, column))
        return found

    @cached_property
    def bottoms(self) -> dict[int, list[tuple[int, int]]]:
        """Return the cells by layer in which its lower edge lies."""
        found: dict[int, list[tuple[int, int]]] = {place: [] for place in range(len(self.wall.layers))}
        for row, column in self.cells():
            below = self.stacks[row + 1][column] if row + 1 < len(self.rows) else ()
            for place in self.stacks[row][column]:
                if place not in below:
                    found[place].append((row, column))
        return found


def grid_of(wall: Wall) -> Grid:
    """Return the cells of a wall.

    Raises:
        BadWall: its edges make too many of them.
    """
    rects = list(_rects(wall))
    xs = sorted({at for rect in rects for at in (rect.left_in, rect.right_in)})
    ys = sorted({at for rect in rects for at in (rect.top_in, rect.bottom_in)})
    count = (len(xs) - 1) * (len(ys) - 1)
    if count > MOST_CELLS:
        sentence = f"the edges of the layers cut the wall into {count:,} cells; at most {MOST_CELLS:,} can be judged"
        raise BadWall.of("layers", str(count), sentence)
    size = (len(ys) - 1, len(xs) - 1)
    there, late, tucked = _Marks(xs, ys, size), _Marks(xs, ys, size), _Marks(xs, ys, size)
    tucks = [(place, tuck) for place, layer in enumerate(wall.layers) for tuck in layer.tucks]
    for place, layer in enumerate(wall.layers):
        there.mark(layer.rects, place)
        if layer.flap:
            there.mark(layer.flap.rects, place)
            late.mark(layer.flap.rects, place)
    for number, (_, tuck) in enumerate(tucks):
        tucked.mark([tuck.where or Rect(xs[0], ys[0], xs[-1], ys[-1])], number)
    stacker = _Stacker(wall)
    stacks = tuple(
        tuple(stacker.stack(*marks) for marks in zip(*rows, strict=True))
        for rows in zip(there.cells, late.cells, tucked.cells, strict=True)
    )
    pieces = sum(len(stack) for row in stacks for stack in row)
    if pieces > MOST_PIECES:
        sentence = f"the layers lie over one another in {pieces:,} pieces; at most {MOST_PIECES:,} can be judged"
        raise BadWall.of("layers", str(pieces), sentence)
    return Grid(wall, tuple(xs), tuple(ys), stacks, tuple(map(tuple, late.cells)))


def _rects(wall: Wall) -> Iterator[Rect]:
    yield wall.opening
    for layer in wall.layers:
        yield from layer.rects
        yield from layer.flap.rects if layer.flap else ()
    bounds = bounds_of(wall.layers)
    for layer in wall.layers:
        for where in (*layer.cuts, *(tuck.where for tuck in layer.tucks if tuck.where)):
            yield _within(where, bounds)


def bounds_of(layers: Iterable[Layer]) -> Rect:
    """Return what all the layers span together."""
    rects = [rect for layer in layers for rect in layer.rects]
    return Rect(
        min(rect.left_in for rect in rects),
        min(rect.top_in for rect in rects),
        max(rect.right_in for rect in rects),
        max(rect.bottom_in for rect in rects),
    )


def _within(rect: Rect, bounds: Rect) -> Rect:
    left_in, right_in = (min(max(at, bounds.left_in), bounds.right_in) for at in (rect.left_in, rect.right_in))
    top_in, bottom_in = (min(max(at, bounds.top_in), bounds.bottom_in) for at in (rect.top_in, rect.bottom_in))
    return Rect(left_in, top_in, right_in, bottom_in)


class _Marks:
    """Bits by cell."""

    def __init__(self, xs: list[Decimal], ys: list[Decimal], size: tuple[int, int]) -> None:
        self._xs, self._ys = xs, ys
        self.cells = [[0] * size[1] for _ in range(size[0])]

    def mark(self, rects: Iterable[Rect], number: int) -> None:
        bit = 1 << number
        for rect in rects:
            columns = range(bisect_left(self._xs, rect.left_in), bisect_left(self._xs, rect.right_in))
            for row in range(bisect_left(self._ys, rect.top_in), bisect_left(self._ys, rect.bottom_in)):
                cells = self.cells[row]
                for column in columns:
                    if column < len(cells):
                        cells[column] |= bit


class _Stacker:
    """Puts the layers of a cell in order: as they are laid, flaps where they are closed, tucked ones behind theirs."""

    def __init__(self, wall: Wall) -> None:
        self._count = len(wall.layers)
        places = {layer.name: place for place, layer in enumerate(wall.layers)}
        self._closed = {
            place: (places[layer.flap.closed_after] if layer.flap.closed_after else self._count)
            for place, layer in enumerate(wall.layers)
            if layer.flap
        }
        self._tucks = [(place, places[tuck.behind]) for place, layer in enumerate(wall.layers) for tuck in layer.tucks]
        self._known: dict[tuple[int, int, int], Stack] = {}

    def stack(self, there: int, late: int, tucked: int) -> Stack:
        key = there, late, tucked
        if key not in self._known:
            self._known[key] = self._put(there, late, tucked)
        return self._known[key]

    def _put(self, there: int, late: int, tucked: int) -> Stack:
        def laid(place: int) -> tuple[int, int]:
            return (self._closed[place], 1) if late >> place & 1 else (place, 0)

        stack = sorted((place for place in range(self._count) if there >> place & 1), key=laid)
        for number, (place, outer) in enumerate(self._tucks):
            if tucked >> number & 1 and place in stack and outer in stack and stack.index(place) > stack.index(outer):
                stack.remove(place)
                stack.insert(stack.index(outer), place)
        return tuple(stack)
