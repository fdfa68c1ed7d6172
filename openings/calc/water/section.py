"""A section through a wall, drawn so that its laps can be seen: long runs shortened, short laps drawn longer.

The inside is at the left. Each layer lies as far right as it lies out. All figures here are of the drawing, not inches.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby, pairwise
from typing import NamedTuple

from jobs.calc.sentence import Sentence
from openings.calc.water.cells import Grid, Stack, grid_of
from openings.calc.water.drawing import Key, keys_of, kind_of, sections_at
from openings.calc.water.drops import End, Run, run_down
from openings.calc.water.faults import OF_THE_PAN
from openings.calc.water.layers import Role, Wall
from openings.calc.water.verdict import Fault, Verdict

WIDTH, TEXT = Decimal(340), Decimal(13)
"""A drawing is as wide as a phone; its lettering is no smaller there than 12 px."""

FAULTS_X, BACK_X, FRAME_X, SHEATHING_X, FACE_X = map(Decimal, (12, 30, 40, 62, 70))
"""From the inside out: the numbers of the faults, the back of the framing, of the unit, of the sheathing, its face."""

LEVELS_WIDE, MOST_LEVEL = Decimal(96), Decimal(16)
LEAST_BAND, MOST_BAND, MOST_OPENING, AN_INCH = map(Decimal, (18, 56, 110, 6))
BESIDE, JOG, DAM, LIP = map(Decimal, (7, 3, 20, 7))
ABOVE_PAN = Decimal(16)
"""How far above the sill a unit comes out over the pan, so that what the pan drains can be seen below it."""
LABELS_APART = Decimal(22)

Point = tuple[Decimal, Decimal]


class Line(NamedTuple):
    """A line through points; `kind` says what it shows."""

    kind: str
    title: str
    through: tuple[Point, ...]

    @property
    def points(self) -> str:
        """Return the points as a drawing writes them."""
        return " ".join(f"{x:.1f},{y:.1f}" for x, y in self.through)


class Block(NamedTuple):
    """What the layers lie on: framing, sheathing, the unit itself."""

    kind: str
    title: str
    left: Decimal
    top: Decimal
    width: Decimal
    height: Decimal


class Label(NamedTuple):
    """A mark in the margin, with a line to what it stands for."""

    mark: str
    name: str
    at: Point
    points_at: Point


class Drop(NamedTuple):
    """A drop from its start to where it drains, or to where it is behind everything or held."""

    line: Line
    is_drained: bool

    @property
    def end(self) -> Point:
        return self.line.through[-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A drawing: blocks, layers, the labels at its right, the faults at its left, the drops, and how high it is."""

    title: Sentence
    blocks: tuple[Block, ...]
    layers: tuple[Line, ...]
    labels: tuple[Label, ...]
    faults: tuple[Label, ...]
    drops: tuple[Drop, ...]
    height: Decimal
    width: Decimal = WIDTH
    text: Decimal = TEXT


def sections_of(wall: Wall, verdict: Verdict, numbers: Mapping[str, int]) -> tuple[Section, ...]:
    """Return how the layers lie over one another in two sections: the middle of the opening, and the left jamb."""
    grid, keys = grid_of(wall), keys_of(wall, numbers)
    titles = (
        Sentence("Through the middle of the opening, the inside at the left"),
        Sentence("Through the left jamb strip, the inside at the left"),
    )
    return tuple(
        _Cut(grid, keys, verdict.faults, at_in).section(title)
        for at_in, title in zip(sections_at(wall), titles, strict=True)
    )


class _Band(NamedTuple):
    """Rows of one stack, and where they are drawn."""

    first: int
    last: int
    stack: Stack
    is_opening: bool
    top: Decimal
    bottom: Decimal

    @property
    def middle(self) -> Decimal:
        return (self.top + self.bottom) / 2


class _Cut:
    """One section while it is drawn."""

    def __init__(self, grid: Grid, keys: Sequence[Key], faults: Sequence[Fault], at_in: Decimal) -> None:
        self._grid, self._keys, self._faults, self._at_in = grid, keys, faults, at_in
        self._layers = grid.wall.layers
        self._column = next((one for one in grid.columns if grid.xs[one] <= at_in < grid.xs[one + 1]), 0)
        self._bands = tuple(_bands(grid, self._column))
        deepest = max(len(band.stack) for band in self._bands)
        self._level = min(MOST_LEVEL, LEVELS_WIDE / max(deepest, 1))
        self._labels_x = FACE_X + self._level * deepest + 34
        self._foot = self._bands[-1].bottom

    def section(self, title: Sentence) -> Section:
        labels = tuple(_spread(sorted(self._labels(), key=lambda label: label.points_at[1]), self._labels_x))
        faults = tuple(_spread(sorted(self._marks(), key=lambda label: label.points_at[1]), FAULTS_X))
        foot = max([self._foot, *(label.at[1] + LABELS_APART / 2 for label in (*labels, *faults))])
        return Section(
            title=title,
            blocks=tuple(self._blocks()),
            layers=tuple(self._lines()),
            labels=labels,
            faults=faults,
            drops=tuple(self._drops()),
            height=foot + TEXT,
        )

    def _x(self, band: _Band, place: int) -> Decimal:
        return FACE_X + self._level * (band.stack.index(place) + Decimal("0.5"))

    @property
    def _sill(self) -> Decimal | None:
        """Return how far down the sill is drawn; None where the section is beside the opening."""
        return next((band.bottom for band in reversed(self._bands) if band.is_opening), None)

    def _blocks(self) -> Iterator[Block]:
        for is_opening, run in groupby(self._bands, key=lambda band: band.is_opening):
            bands = list(run)
            top, high = bands[0].top, bands[-1].bottom - bands[0].top
            if not is_opening:
                yield Block("framing", "framing", BACK_X, top, SHEATHING_X - BACK_X, high)
                yield Block("sheathing", "sheathing", SHEATHING_X, top, FACE_X - SHEATHING_X, high)
                continue
            for place in self._grid.wall.of_role(Role.UNIT):
                if faces := [self._x(band, place) for band in bands if place in band.stack]:
                    yield Block("unit", "unit", FRAME_X, top + 5, max(faces) - FRAME_X, high - ABOVE_PAN - 5)

    def _lines(self) -> Iterator[Line]:
        """Yield each layer as it runs down; the pan from its back dam over the sill, a cap out to its drip."""
        pan_drawn = False
        for place, layer in enumerate(self._layers):
            for run in self._runs(place):
                through = list(self._through(run, place))
                if layer.role is Role.PAN and run[0].top == self._sill:
                    through, pan_drawn = [*self._pan_base(), *through], True
                if layer.role is Role.CAP:
                    through += self._lip(run[-1], place)
                yield Line(kind_of(layer.role), layer.name, tuple(through))
        if self._grid.wall.pan and self._sill is not None and not pan_drawn:
            yield Line("pan", "pan", (*self._pan_base(), (FACE_X, self._sill - 3)))

    def _runs(self, place: int) -> Iterator[list[_Band]]:
        """Yield the bands over which a layer goes on; below the foot of its flap it is cut."""
        run: list[_Band] = []
        for band in self._bands:
            is_there = place in band.stack
            if run and (not is_there or (self._is_late(run[-1], place) and not self._is_late(band, place))):
                yield run
                run = []
            if is_there:
                run.append(band)
        if run:
            yield run

    def _is_late(self, band: _Band, place: int) -> bool:
        return bool(self._grid.late[band.first][self._column] >> place & 1)

    def _through(self, run: Sequence[_Band], place: int) -> Iterator[Point]:
        yield self._x(run[0], place), run[0].top + 1
        for above, below in pairwise(run):
            before, after = self._x(above, place), self._x(below, place)
            if before != after:
                at = self._turn(above, place)
                yield before, at - JOG
                yield after, at + JOG
        yield self._x(run[-1], place), run[-1].bottom - 1

    def _turn(self, band: _Band, place: int) -> Decimal:
        """Return how far down a layer changes its level at the end of a band."""
        is_over_pan = self._layers[place].role is Role.UNIT and band.bottom == self._sill
        return band.bottom - ABOVE_PAN if is_over_pan else band.bottom

    def _pan_base(self) -> tuple[Point, ...]:
        sill, pan = self._sill, self._grid.wall.pan
        if sill is None or pan is None:
            return ()
        dam = [(BACK_X + 4, sill - 3 - DAM)] if pan.back_dam_in else []
        return (*dam, (BACK_X + 4, sill - 3))

    def _lip(self, band: _Band, place: int) -> tuple[Point, ...]:
        out = self._x(band, place) + self._level * Decimal("0.8")
        return (out, band.bottom - 1), (out, band.bottom + LIP)

    def _labels(self) -> Iterator[Label]:
        for place, key in enumerate(self._keys):
            there = [band for band in self._bands if place in band.stack]
            if there:
                shown = max(there, key=lambda band: (band.stack[-1] == place, band.bottom - band.top))
                yield Label(
                    key.mark,
                    key.layer.name,
                    (Decimal(0), Decimal(0)),
                    (self._x(shown, place), shown.top + (shown.bottom - shown.top) * 2 / 3),
                )
            elif key.layer.role is Role.PAN and self._sill is not None:
                yield Label(key.mark, key.layer.name, (Decimal(0), Decimal(0)), (FACE_X, self._sill - 3))

    def _marks(self) -> Iterator[Label]:
        """Yield the faults that lie in this section, by their numbers in the list."""
        for number, fault in enumerate(self._faults, start=1):
            if (at := self._place_of(fault)) is not None:
                yield Label(str(number), str(fault.what), (Decimal(0), Decimal(0)), at)

    def _place_of(self, fault: Fault) -> Point | None:
        if fault.name in OF_THE_PAN and self._sill is not None:
            return FRAME_X, self._sill - 3
        band = next((band for band in self._bands if self._is_at(fault, band)), None)
        if band is None:
            return None
        named = [self._x(band, place) for place in band.stack if self._layers[place].name in fault.layers]
        return sum(named, Decimal(0)) / len(named) if named else FACE_X, band.middle

    def _is_at(self, fault: Fault, band: _Band) -> bool:
        top_in, bottom_in = self._grid.ys[band.first], self._grid.ys[band.last + 1]
        return any(
            place.left_in <= self._at_in < place.right_in and place.top_in < bottom_in and place.bottom_in > top_in
            for place in fault.places
        )

    def _drops(self) -> Iterator[Drop]:
        """Yield rain from the top of the wall, water from the pan, and a drop for each fault that one shows here."""
        if rain := self._bands[0].stack:
            yield self._drawn(run_down(self._grid, 0, self._column, rain[-1]))
        for place in self._grid.wall.of_role(Role.PAN):
            for row, column in self._grid.tops[place]:
                if column == self._column and self._sill is not None:
                    started = ((BACK_X + 11, self._sill - DAM), (BACK_X + 11, self._sill - 9))
                    yield self._drawn(run_down(self._grid, row, column, place), started)
        for fault in self._faults:
            if run := self._run_of(fault):
                yield self._drawn(run)

    def _run_of(self, fault: Fault) -> Run | None:
        """Return a drop, not of rain from the top, that shows a fault in this section."""
        band = next((one for one in self._bands if self._is_at(fault, one)), None)
        if band is None or not fault.path:
            return None
        above = [one for one in self._bands if one.first <= band.first][-2:]
        for start in above:
            for place in reversed(start.stack):
                run = run_down(self._grid, start.first, self._column, place)
                if any(self._shows(event.outer, event.inner, fault) for event in run.events):
                    return run
        return None

    def _shows(self, outer: int | None, inner: int | None, fault: Fault) -> bool:
        names = {self._layers[place].name for place in (outer, inner) if place is not None}
        return bool(names) and names <= set(fault.layers)

    def _drawn(self, run: Run, started: tuple[Point, ...] = ()) -> Drop:
        places = dict(run.rows)
        passed = [(band, places[band.first]) for band in self._bands if band.first in places]
        x = self._x(*passed[0]) + BESIDE
        through = [*started, (x, started[-1][1] if started else passed[0][0].top)]
        for (above, before), (below, after) in pairwise(passed):
            x, then = self._x(above, before) + BESIDE, self._x(below, after) + BESIDE
            if self._is_lip(above, before):
                lip, at = x + self._level, above.bottom
                through += [(x, at - 2 * BESIDE), (lip, at - BESIDE), (lip, at + LIP), (then, at + LIP + JOG)]
            elif x != then:
                at = self._turn(above, before) + (-JOG if then > x else JOG + 1)
                through += [(x, at - JOG), (then, at + JOG)]
        band, place = passed[-1]
        through.append((self._x(band, place) + BESIDE, band.bottom))
        if run.end is End.LEAKED:
            through.append((FACE_X - BESIDE, band.bottom))
        return Drop(Line("drop", "", tuple(through)), run.end is End.DRAINED)

    def _is_lip(self, band: _Band, place: int) -> bool:
        """Return whether a layer is a cap that ends with the band."""
        below = self._bands[self._bands.index(band) + 1 :]
        return self._layers[place].role is Role.CAP and not (below and place in below[0].stack)


def _bands(grid: Grid, column: int) -> Iterator[_Band]:
    """Yield the rows of a column by their stacks, each drawn as high as can be read."""
    top = Decimal(10)
    rows = groupby(
        grid.rows, key=lambda row: (grid.stacks[row][column], grid.is_opening(row, column), grid.late[row][column])
    )
    for (stack, is_opening, _), run in rows:
        numbers = list(run)
        first, last = numbers[0], numbers[-1]
        high = (grid.ys[last + 1] - grid.ys[first]) * AN_INCH
        bottom = top + min(max(high, LEAST_BAND), MOST_OPENING if is_opening else MOST_BAND)
        yield _Band(first, last, stack, is_opening, top, bottom)
        top = bottom


def _spread(labels: Sequence[Label], x: Decimal) -> Iterator[Label]:
    """Yield the labels in a column from the top, each beside what it stands for or below the one before."""
    free = TEXT
    for label in labels:
        y = max(label.points_at[1], free)
        free = y + LABELS_APART
        yield label._replace(at=(x, y))
