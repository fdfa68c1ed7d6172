"""Drops that start in every cell of a wall and run down it, and what befalls them.

A drop runs on the face of a layer. It starts there as rain where the layer is the outermost, as a second line where
another lies over it and water can get between them, and as pan water at the front of the pan. It is followed until it
is outside again, dammed, or behind everything.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from enum import Enum
from typing import NamedTuple

from openings.calc.water.cells import Grid, Stack
from openings.calc.water.layers import Edge, Role, Wall

SEEP_IN, SEEP_BETWEEN_WRB_IN = Decimal(2), Decimal(6)
"""How far water creeps sideways behind a free upright edge: 6 in between pieces of WRB, whose vertical laps are as
wide (IRC R703.2); 2 in elsewhere (our choice)."""


class Start(Enum):
    """Where the water comes from, the worst first."""

    RAIN = "rain"
    PAN = "water in the pan"
    SECOND = "second line"


class Kind(Enum):
    """What befalls a drop."""

    BEHIND = "behind the upper edge of a layer"
    SIDE = "behind the upright edge of a layer, and past the end of what it ran on"
    DAM = "held by a sealed lower edge"
    BARE = "off the end of a layer, with nothing below it"
    BOND = "over an upper edge that only its bond closes"
    LAP = "over a lap that is too short"


class Event(NamedTuple):
    """One thing that befalls a drop in a cell; layers by their places in the wall, None for sheathing or void."""

    kind: Kind
    outer: int | None
    inner: int | None
    row: int
    column: int
    lap_in: Decimal | None = None


class End(Enum):
    DRAINED = "outside again"
    LEAKED = "behind everything"
    DAMMED = "held"


class Fall(NamedTuple):
    """A drop from its start to its end."""

    start: Start
    cells: tuple[tuple[int, int], ...]
    events: tuple[Event, ...]
    end: End


class _Move(NamedTuple):
    """One step down: on which layer the drop then runs, and what befell it; None where it is behind everything."""

    onto: int | None
    kind: Kind | None = None
    outer: int | None = None
    inner: int | None = None
    fell_from: int | None = None


class Run(NamedTuple):
    """A drop followed down one column: on which layer it runs, row by row, what befalls it, and how it ends."""

    rows: tuple[tuple[int, int], ...]
    events: tuple[Event, ...]
    end: End


def run_down(grid: Grid, row: int, column: int, place: int) -> Run:
    """Return how a drop runs that starts on a layer of a cell, to the foot of the wall or to where it is held."""
    walk = _Walk(grid)
    rows: list[tuple[int, int]] = []
    befell: list[Event] = []
    while True:
        rows.append((row, place))
        onto, events, end = walk.down(row, column, place)
        befell += events
        if onto is None or end is End.DAMMED or row + 1 == len(grid.rows):
            return Run(tuple(rows), tuple(befell), End.LEAKED if onto is None else end or End.DRAINED)
        row, place = row + 1, onto


def falls(grid: Grid) -> Iterator[Fall]:
    """Yield every drop that something befalls."""
    walk = _Walk(grid)
    yield from walk.rain_and_second_line()
    yield from walk.pan_water()
    yield from walk.sideways()


def least_lap_in(outer: Role, inner: Role) -> Decimal:
    """Return the least lap of one layer down over another.

    Source:
        Courses of WRB, 2 in: IRC R703.2. A quarter inch onto or from a unit or a drip cap, an inch elsewhere: our
        choice.
    """
    if outer is inner is Role.WRB:
        return Decimal(2)
    return Decimal("0.25") if {outer, inner} & {Role.UNIT, Role.CAP} else Decimal(1)


class _Walk:
    def __init__(self, grid: Grid) -> None:
        self._grid = grid
        self._wall: Wall = grid.wall
        self._layers = grid.wall.layers
        self._last_row = len(grid.ys) - 2
        self._moves: dict[tuple[Stack, Stack, int], _Move] = {}
        self._rest: dict[tuple[int, int, int], tuple[tuple[Event, ...], tuple[int, int], End]] = {}
        self._creeps: dict[tuple[Stack, Stack], tuple[tuple[int, int, Start], ...]] = {}

    def rain_and_second_line(self) -> Iterator[Fall]:
        """Yield the falls from every face of every cell; of cells alike below each other from the lowest, which says
        what those above it say."""
        for row, column in self._grid.cells():
            stack = self._grid.stacks[row][column]
            if row < self._last_row and self._grid.stacks[row + 1][column] is stack:
                continue
            if not stack:
                yield self._on_nothing(row, column)
            for at, place in enumerate(stack):
                is_outermost = at == len(stack) - 1
                if is_outermost or not self._layers[stack[at + 1]].is_sealed_above:
                    start = Start.RAIN if is_outermost else Start.SECOND
                    fall = self._fall(start, row, column, place)
                    if fall.events:
                        yield fall

    def _on_nothing(self, row: int, column: int) -> Fall:
        event = Event(Kind.BARE, None, None, row, column)
        return Fall(Start.RAIN, ((row, column),), (event,), End.LEAKED)

    def pan_water(self) -> Iterator[Fall]:
        """Yield the falls from the front of the pan, where a unit lies over it."""
        for place in self._wall.of_role(Role.PAN):
            for row, column in self._grid.tops[place]:
                fall = self._fall(Start.PAN, row, column, place)
                if fall.events:
                    yield fall

    def sideways(self) -> Iterator[Fall]:
        """Yield the falls of water that creeps behind an upright edge."""
        for row in self._grid.rows:
            stacks = self._grid.stacks[row]
            for column in range(len(stacks) - 1):
                if stacks[column] != stacks[column + 1]:
                    yield from self._creep(row, column, 1)
                    yield from self._creep(row, column + 1, -1)

    def _fall(self, start: Start, row: int, column: int, place: int) -> Fall:
        events, last, end = self._follow(row, column, place)
        return Fall(start, ((row, column), last), events, end)

    def _follow(self, row: int, column: int, place: int) -> tuple[tuple[Event, ...], tuple[int, int], End]:
        """Return what befalls a drop from here on, the last cell that it reaches, and how it ends."""
        trail: list[tuple[int, tuple[Event, ...]]] = []
        rest: tuple[tuple[Event, ...], tuple[int, int], End] | None = None
        start_row, at = row, place
        keys: list[tuple[int, int, int]] = []
        while rest is None:
            key = (row, column, at)
            if known := self._rest.get(key):
                rest = known
                break
            keys.append(key)
            onto, events, end = self.down(row, column, at)
            trail.append((row, events))
            if end or onto is None:
                reached = row if end is End.DAMMED else min(row + 1, self._last_row)
                rest = (), (reached, column), end or End.LEAKED
                break
            row, at = row + 1, onto
        for key, (_, events) in zip(reversed(keys), reversed(trail), strict=True):
            rest = (*events, *rest[0]), rest[1], rest[2]
            self._rest[key] = rest
        return self._rest[(start_row, column, place)]

    def down(self, row: int, column: int, place: int) -> tuple[int | None, tuple[Event, ...], End | None]:
        """Return the layer on which a drop then runs, what befalls it, and how it ends, where it does."""
        if row == self._last_row:
            return place, (), End.DRAINED
        above, below = self._grid.stacks[row][column], self._grid.stacks[row + 1][column]
        move = self._move(above, below, place)
        events = tuple(self._events(move, row, column))
        if move.kind is Kind.DAM:
            return place, events, End.DAMMED
        if move.onto is None:
            return None, events, End.LEAKED
        return move.onto, events, End.DRAINED if move.onto == below[-1] else None

    def _events(self, move: _Move, row: int, column: int) -> Iterator[Event]:
        if move.fell_from is not None and move.onto is not None and not self._is_late(row, column, move.fell_from):
            lap_in, outer, inner = self._lap_in(row, column, move.fell_from, move.onto), move.fell_from, move.onto
            if lap_in < least_lap_in(self._layers[outer].role, self._layers[inner].role):
                yield Event(Kind.LAP, outer, inner, row, column, lap_in)
        if move.kind is not None:
            yield Event(move.kind, move.outer, move.inner, min(row + 1, self._last_row), column)

    def _lap_in(self, row: int, column: int, outer: int, inner: int) -> Decimal:
        bottom_in = self._grid.ys[row + 1]
        while row >= 0 and {outer, inner} <= set(self._grid.stacks[row][column]):
            row -= 1
        return bottom_in - self._grid.ys[row + 1]

    def _move(self, above: Stack, below: Stack, place: int) -> _Move:
        key = above, below, place
        if key not in self._moves:
            self._moves[key] = self._step_down(above, below, place)
        return self._moves[key]

    def _step_down(self, above: Stack, below: Stack, place: int) -> _Move:
        at = above.index(place)
        outer = above[at + 1] if at + 1 < len(above) else None
        if outer is not None and outer not in below and self._layers[outer].holds_water:
            return _Move(place, Kind.DAM, outer, place)
        onto = _carrier(above, below, at)
        level = below.index(onto) if onto is not None else -1
        limit = next(
            (below.index(one) for one in above[at + 1 :] if one in below and below.index(one) > level), len(below)
        )
        fell_from = place if onto is not None and onto != place else None
        begun = below[level + 1] if level + 1 < limit else None
        if begun is not None and self._layers[begun].top is not Edge.BONDED:
            return _Move(onto, Kind.BEHIND, begun, place if onto is None else onto, fell_from)
        if onto is None:  # the bond of an edge that begins just there takes no water over it
            return _Move(None, Kind.BARE, place, None)
        if begun is not None:
            return self._over(begun, onto, fell_from, is_rain=outer is None, rest=below[level + 2 : limit])
        return _Move(onto, fell_from=fell_from)

    def _over(self, begun: int, onto: int, fell_from: int | None, *, is_rain: bool, rest: Stack) -> _Move:
        """Return the step over a bonded upper edge, and behind what begins further out without a bond."""
        for further in rest:
            if self._layers[further].top is not Edge.BONDED:
                return _Move(begun, Kind.BEHIND, further, begun, fell_from)
            begun = further
        return _Move(begun, Kind.BOND if is_rain else None, begun, onto, fell_from)

    def _creep(self, row: int, column: int, step: int) -> Iterator[Fall]:
        """Yield the falls of water that creeps from a cell into the next one sideways, and past what it runs on."""
        stacks = self._grid.stacks[row]
        for outer, inner, start in self._edges(stacks[column], stacks[column + step]):
            end = self._end_of(row, column + step, step, outer, inner)
            if end is None:
                continue
            beyond = stacks[end]
            before = stacks[end - step]
            onto = next((one for one in reversed(before[: before.index(inner)]) if one in beyond), None)
            event = Event(Kind.SIDE, outer, inner, row, end)
            if onto is None:
                yield Fall(start, ((row, column), (row, end)), (event,), End.LEAKED)
            elif onto != beyond[-1]:
                events, last, how = self._follow(row, end, onto)
                yield Fall(start, ((row, column), (row, end), last), (event, *events), how)

    def _edges(self, here: Stack, beside: Stack) -> tuple[tuple[int, int, Start], ...]:
        """Return each layer that begins beside without a bond, with the layer on which water creeps behind it."""
        key = here, beside
        if key not in self._creeps:
            self._creeps[key] = tuple(self._find_edges(here, beside))
        return self._creeps[key]

    def _find_edges(self, here: Stack, beside: Stack) -> Iterator[tuple[int, int, Start]]:
        start = Start.RAIN
        for at in range(len(here) - 1, -1, -1):
            common = runs_on = here[at]
            if common not in beside or (start is Start.SECOND and self._layers[here[at + 1]].is_sealed_above):
                continue
            for outer in beside[beside.index(common) + 1 :]:
                if outer in here:
                    break
                if self._layers[outer].sides is not Edge.BONDED:
                    yield outer, runs_on, start
                    break
                runs_on = outer
            start = Start.SECOND

    def _end_of(self, row: int, column: int, step: int, outer: int, inner: int) -> int | None:
        """Return the column in which the inner layer is no longer, if that is within the reach of the water."""
        stacks, xs = self._grid.stacks[row], self._grid.xs
        roles = {self._layers[outer].role, self._layers[inner].role}
        reach_in = SEEP_BETWEEN_WRB_IN if roles == {Role.WRB} else SEEP_IN
        edge_in = xs[column] if step > 0 else xs[column + 1]
        while 0 <= column < len(stacks):
            at_in = xs[column] if step > 0 else xs[column + 1]
            if abs(at_in - edge_in) >= reach_in or outer not in stacks[column]:
                return None
            if not _is_under(inner, outer, stacks[column]):
                return None if self._is_taped(row, column, inner) else column
            column += step
        return None

    def _is_taped(self, row: int, column: int, place: int) -> bool:
        """Return whether a layer ends here because its flap lies further out, with its cut taped."""
        flap = self._layers[place].flap
        return flap is not None and flap.is_taped and self._is_late(row, column, place)

    def _is_late(self, row: int, column: int, place: int) -> bool:
        """Return whether a layer lies in a cell by its flap, whose cut is closed by tape and not by a lap."""
        return bool(self._grid.late[row][column] >> place & 1)


def _is_under(inner: int, outer: int, stack: Stack) -> bool:
    return inner in stack and stack.index(inner) < stack.index(outer)


def _carrier(above: Stack, below: Stack, at: int) -> int | None:
    """Return the outermost layer, from the one at `at` inward, that goes on below and nothing from inside crosses."""
    for number in range(at, -1, -1):
        place = above[number]
        if place in below and not any(one in below and below.index(one) > below.index(place) for one in above[:number]):
            return place
    return None
