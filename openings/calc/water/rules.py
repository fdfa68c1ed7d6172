"""What no drop shows: pieces that are missing or in the wrong order, the pan, the beads, and sheets that would have
to pass through each other."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from decimal import Decimal
from functools import lru_cache
from typing import NamedTuple

from openings.calc.water.cells import Grid, Stack
from openings.calc.water.faults import LEAST_FRONT_LAP_IN, LEAST_TURN_UP_IN, Name, Severity
from openings.calc.water.layers import Edge, Layer, Pan, Role

Cell = tuple[int, int]
LEAK, SECOND_LINE, NOTE = Severity.LEAK, Severity.SECOND_LINE, Severity.NOTE
HEAD = (Role.HEAD_STRIP, Role.MEMBRANE, Role.CAP, Role.SECOND_STRIP)


class Finding(NamedTuple):
    """A fault that a rule finds: where, and between which layers, the one that makes it first."""

    name: Name
    severity: Severity
    cells: tuple[Cell, ...] = ()
    layers: tuple[Layer, ...] = ()


def findings(grid: Grid) -> Iterator[Finding]:
    """Yield what is against a rule."""
    for rule in _RULES:
        yield from rule(grid)


def _pieces(grid: Grid) -> Iterator[Finding]:
    wall = grid.wall
    roles = [layer.role for layer in wall.layers]
    if Role.UNIT not in roles:
        yield Finding(Name.NO_UNIT, LEAK)
    if Role.SILL_STRIP not in roles:
        yield Finding(Name.NO_SILL_STRIP, LEAK)
    if Role.WRB not in roles:
        yield Finding(Name.NO_WRB, LEAK)
    if wall.pan is None:
        yield Finding(Name.NO_PAN, NOTE)
    jambs = [wall.layers[place] for place in wall.of_role(Role.JAMB_STRIP)]
    if not any(jamb.left_in < 0 for jamb in jambs) or not any(jamb.right_in > wall.width_in for jamb in jambs):
        yield Finding(Name.NO_JAMB_STRIP, LEAK)


def _head_of_unit(grid: Grid) -> Iterator[Finding]:
    """Flashing laps over the whole head of the unit."""
    wall = grid.wall
    flashing = set(wall.of_role(*HEAD))
    for unit in wall.of_role(Role.UNIT):
        bare = [
            (row, column)
            for row, column in grid.tops[unit]
            if row == 0 or not _lapping(grid, row, column, unit) & flashing
        ]
        if bare:
            inside = [
                wall.layers[place]
                for place in flashing
                if any(place in _inside(grid, row, column, unit) for row, column in bare)
            ]
            name = Name.UNIT_OVER_HEAD if inside else Name.NO_HEAD_FLASHING
            yield Finding(name, LEAK, tuple(bare), (wall.layers[unit], *inside))


def _lapping(grid: Grid, row: int, column: int, place: int) -> set[int]:
    """Return the layers that lie over a layer in a cell and go on above."""
    stack = grid.stacks[row][column]
    return set(stack[stack.index(place) + 1 :]) & set(grid.stacks[row - 1][column])


def _inside(grid: Grid, row: int, column: int, place: int) -> tuple[int, ...]:
    stack = grid.stacks[row][column]
    return stack[: stack.index(place)]


def _order(grid: Grid) -> Iterator[Finding]:
    """Yield each pair of layers that lie one over the other in the wrong order, wherever they meet."""
    roles = [layer.role for layer in grid.wall.layers]
    wrong: dict[tuple[int, int], list[Cell]] = {}
    for row, column in grid.cells():
        stack = grid.stacks[row][column]
        for at, outer in enumerate(stack):
            for inner in stack[:at]:
                if (roles[inner], roles[outer]) in _WRONG:
                    wrong.setdefault((inner, outer), []).append((row, column))
    for (inner, outer), cells in wrong.items():
        name, severity = _WRONG[roles[inner], roles[outer]]
        yield Finding(name, severity, tuple(cells), (grid.wall.layers[outer], grid.wall.layers[inner]))


_WRONG = {
    (Role.HEAD_STRIP, Role.JAMB_STRIP): (Name.HEAD_BEFORE_JAMBS, SECOND_LINE),
    (Role.MEMBRANE, Role.JAMB_STRIP): (Name.HEAD_BEFORE_JAMBS, SECOND_LINE),
    (Role.SECOND_STRIP, Role.JAMB_STRIP): (Name.HEAD_BEFORE_JAMBS, SECOND_LINE),
    (Role.JAMB_STRIP, Role.SILL_STRIP): (Name.JAMBS_BEFORE_SILL, SECOND_LINE),
    (Role.PAN, Role.SILL_STRIP): (Name.PAN_BEFORE_SILL, LEAK),
    (Role.UNIT, Role.PAN): (Name.PAN_AFTER_UNIT, LEAK),
    (Role.UNIT, Role.SILL_STRIP): (Name.SILL_OVER_UNIT, LEAK),
    (Role.SILL_STRIP, Role.WRB): (Name.WRB_OVER_SILL, SECOND_LINE),
}
"""What lies inside, what outside, and the fault that this is. WRB over the sill strip counts where it ends there
from above, see `_over_the_sill`."""


def _over_the_sill(grid: Grid) -> Iterator[Finding]:
    """Yield the WRB that begins over the sill strip, or runs down past it: what the strip sheds runs behind it."""
    for finding in _order(grid):
        if finding.name is not Name.WRB_OVER_SILL:
            yield finding
            continue
        outer, inner = (grid.wall.layers.index(layer) for layer in finding.layers)
        covered = set(grid.bottoms[inner]) & set(finding.cells)
        if any(_goes_on_below(grid, row, column, outer) for row, column in covered):
            yield finding


def _goes_on_below(grid: Grid, row: int, column: int, place: int) -> bool:
    return row + 1 < len(grid.rows) and place in grid.stacks[row + 1][column]


def _jambs(grid: Grid) -> Iterator[Finding]:
    """Yield the jamb strips whose tops no head strip covers, and whose tails do not reach the sill strip."""
    wall = grid.wall
    sills, heads = set(wall.of_role(Role.SILL_STRIP)), set(wall.of_role(Role.HEAD_STRIP))
    for jamb in wall.of_role(Role.JAMB_STRIP):
        if heads:
            bare = [cell for cell in grid.tops[jamb] if not set(grid.stacks[cell[0]][cell[1]]) & heads or not cell[0]]
            open_top = bare or [cell for cell in grid.tops[jamb] if not _is_lapped(grid, cell, jamb, heads)]
            if open_top:
                head = wall.layers[min(heads)]
                yield Finding(Name.HEAD_SHORT, SECOND_LINE, tuple(open_top), (head, wall.layers[jamb]))
        short = [cell for cell in grid.bottoms[jamb] if not set(grid.stacks[cell[0]][cell[1]]) & sills]
        if sills and short:
            yield Finding(Name.JAMB_SHORT, SECOND_LINE, tuple(short), (wall.layers[jamb],))


def _is_lapped(grid: Grid, cell: Cell, jamb: int, heads: set[int]) -> bool:
    """Return whether a head strip that lies at the top of a jamb, on whichever side, goes on above it."""
    row, column = cell
    return bool(set(grid.stacks[row][column]) & heads & set(grid.stacks[row - 1][column]))


def _cap_legs(grid: Grid) -> Iterator[Finding]:
    """Yield the drip caps over whose upright leg no flashing laps, unless it is bedded."""
    wall = grid.wall
    covers = set(wall.of_role(Role.MEMBRANE, Role.SECOND_STRIP, Role.HEAD_STRIP))
    for cap in wall.of_role(Role.CAP):
        if wall.layers[cap].top is Edge.BONDED:
            continue
        bare = [
            (row, column) for row, column in grid.tops[cap] if row == 0 or not _lapping(grid, row, column, cap) & covers
        ]
        if bare:
            yield Finding(Name.CAP_LEG_UNCOVERED, LEAK, tuple(bare), (wall.layers[cap],))


def _beads(grid: Grid) -> Iterator[Finding]:
    """The unit is sealed at its head and its jambs (AAMA 2400-10 cl. 5.7.3.4)."""
    for place in grid.wall.of_role(Role.UNIT):
        unit = grid.wall.layers[place]
        if unit.top is not Edge.BONDED:
            yield Finding(Name.NO_HEAD_BEAD, SECOND_LINE, tuple(grid.tops[place]), (unit,))
        if unit.sides is not Edge.BONDED:
            yield Finding(Name.NO_JAMB_BEAD, SECOND_LINE, (), (unit,))


def wrong_in(pan: Pan, width_in: Decimal) -> tuple[Name, ...]:
    """Return what is wrong with a pan by itself, under an opening of that width.

    Source:
        No hole, a dam or a slope, end dams, and a lap over what drains below: Building Science Corp. Info-302.
    """
    wrong = (
        (Name.PAN_NO_FRONT_LAP, pan.front_lap_in < LEAST_FRONT_LAP_IN),
        (Name.PAN_LOW_TURN_UP, pan.turn_up_in < LEAST_TURN_UP_IN),
        (Name.PAN_SHORT, pan.length_in < width_in + 2 * pan.turn_up_in),
        (Name.PAN_LEVEL, pan.back_dam_in == 0 and pan.slope_deg == 0),
        (Name.PAN_SLIT, pan.is_slit_through_base and not pan.has_corner_pieces),
        (Name.PAN_FASTENED, pan.is_fastened_through_base),
    )
    return tuple(name for name, is_wrong in wrong if is_wrong)


def _pan(grid: Grid) -> Iterator[Finding]:
    """Yield what is wrong with the pan, and with its place in the order."""
    wall = grid.wall
    if wall.pan is None:
        return
    layers = tuple(wall.layers[place] for place in wall.of_role(Role.PAN))
    for name in wrong_in(wall.pan, wall.width_in):
        yield Finding(name, LEAK, (), layers)
    sills, units = list(wall.of_role(Role.SILL_STRIP)), list(wall.of_role(Role.UNIT))
    for place in wall.of_role(Role.PAN):
        if units and place > min(units):
            yield Finding(Name.PAN_AFTER_UNIT, LEAK, tuple(grid.tops[place]), (wall.layers[place],))
        if sills and place < min(sills):
            yield Finding(Name.PAN_BEFORE_SILL, LEAK, tuple(grid.tops[place]), (wall.layers[min(sills)],))
    bare = tuple(_without_front_lap(grid))
    if bare:
        yield Finding(Name.PAN_NO_FRONT_LAP, LEAK, bare, layers)


def _without_front_lap(grid: Grid) -> Iterator[Cell]:
    """Yield the cells just below the rough opening over which the pan does not lap down: it must from end to end."""
    pans = set(grid.wall.of_role(Role.PAN))
    for row, column in grid.cells():
        is_below = row > 0 and grid.is_opening(row - 1, column) and not grid.is_opening(row, column)
        if is_below and not pans & set(grid.stacks[row][column]):
            yield row, column


def _butts(grid: Grid) -> Iterator[Finding]:
    """Yield the upright joints at which sheets only meet, with no sheet beneath that goes on from one to the other.

    Where two units meet, the joint is their maker's.
    """
    for row, column in grid.cells():
        here, beside = grid.stacks[row][column], grid.stacks[row][min(column + 1, len(grid.columns) - 1)]
        if not here or not beside or here[0] in beside or beside[0] in here or grid.is_opening(row, column):
            continue
        met = (grid.wall.layers[beside[0]], grid.wall.layers[here[0]])
        roles = {layer.role for layer in met}
        over = next((grid.wall.layers[place] for place in here if place in beside), None)
        if roles != {Role.UNIT} and (over is None or not over.is_sealed_above):
            name = Name.COURSES_SIDE_LAP if roles == {Role.WRB} else Name.OPEN_SIDE
            yield Finding(name, SECOND_LINE if over else LEAK, ((row, column),), met)


def _tucks(grid: Grid) -> Iterator[Finding]:
    layers = {layer.name: layer for layer in grid.wall.layers}
    for layer in grid.wall.layers:
        for tuck in layer.tucks:
            outer = layers[tuck.behind]
            if outer.bottom is not Edge.FREE:
                yield Finding(Name.TUCK_CLOSED, SECOND_LINE, (), (outer, layer))


def _through_each_other(grid: Grid) -> Iterator[Finding]:
    """Yield two sheets that change order from a cell to the next without a cut between."""
    found: dict[tuple[int, int], list[Cell]] = {}
    for row, column in grid.cells():
        here = grid.stacks[row][column]
        for down, across in ((1, 0), (0, 1)):
            beside = (row + down, column + across)
            if beside[0] < len(grid.rows) and beside[1] < len(grid.columns):
                there = grid.stacks[beside[0]][beside[1]]
                if here is not there:
                    for pair in _crossing(here, there):
                        if not any(_is_cut(grid, (row, column), beside, place) for place in pair):
                            found.setdefault(pair, []).append((row, column))
    for pair, cells in found.items():
        layers = tuple(grid.wall.layers[place] for place in pair)
        name = Name.FLAP_CUT_SHORT if any(layer.flap for layer in layers) else Name.OVER_AND_BEHIND
        yield Finding(name, LEAK, tuple(cells), tuple(sorted(layers, key=lambda layer: layer.flap is None)))


@lru_cache(maxsize=4096)
def _crossing(here: Stack, there: Stack) -> tuple[tuple[int, int], ...]:
    """Return the pairs of layers, the inner first, that lie the other way round there."""
    both = [place for place in here if place in there]
    return tuple(
        (inner, outer)
        for at, inner in enumerate(both)
        for outer in both[at + 1 :]
        if there.index(outer) < there.index(inner)
    )


def _is_cut(grid: Grid, here: Cell, beside: Cell, place: int) -> bool:
    """Return whether a layer is cut on the line between two cells."""
    layer = grid.wall.layers[place]
    if layer.flap and _is_late(grid, here, place) != _is_late(grid, beside, place):
        is_fold = here[1] == beside[1] and grid.ys[beside[0]] == layer.flap.fold_in
        return not is_fold
    first, second = grid.rect(*here), grid.rect(*beside)
    if here[0] == beside[0]:
        return any(
            cut.left_in == cut.right_in == second.left_in
            and cut.top_in <= first.top_in
            and cut.bottom_in >= first.bottom_in
            for cut in layer.cuts
        )
    return any(
        cut.top_in == cut.bottom_in == second.top_in and cut.left_in <= first.left_in and cut.right_in >= first.right_in
        for cut in layer.cuts
    )


def _is_late(grid: Grid, cell: Cell, place: int) -> bool:
    return bool(grid.late[cell[0]][cell[1]] >> place & 1)


_RULES: tuple[Callable[[Grid], Iterator[Finding]], ...] = (
    _pieces, _head_of_unit, _over_the_sill, _jambs, _cap_legs, _beads, _pan, _butts, _tucks, _through_each_other,
)  # fmt: skip
