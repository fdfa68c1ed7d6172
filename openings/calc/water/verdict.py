"""Whether a wall sheds water, and what of it does not."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from jobs.calc.sentence import Sentence
from openings.calc.extents import Rect
from openings.calc.step_code import StepCode
from openings.calc.units import US, Units
from openings.calc.water.cells import Grid, grid_of
from openings.calc.water.drops import End, Event, Fall, Kind, Start, falls
from openings.calc.water.faults import OF_THE_PAN, TOLD, Name, Severity, name_of
from openings.calc.water.layers import Layer, Pan, Role, Wall
from openings.calc.water.rules import Cell, findings, wrong_in

CAUTION = Sentence(
    "This follows water down the layers as they are drawn. It cannot see wind-driven rain, capillarity, permeance, "
    "drying, holes of fasteners, how well anything is bonded, or depth: the makers' instructions, local code and what "
    "the crew sees on the wall go before it."
)
SOURCES = (
    "AAMA 2400-10", "Building Science Corp. Info-302", "IRC R703.2", "IRC R703.4", "AWDI manual p. 23",
)  # fmt: skip
REFUSING = (Severity.LEAK, Severity.SECOND_LINE)

SHEETS_AT_THE_HEAD = {Role.HEAD_STRIP, Role.MEMBRANE, Role.SECOND_STRIP}
COURSE_OVER_A_JAMB = (Role.WRB, Role.JAMB_STRIP)
END_OF_A_CAP = (Role.CAP, Role.JAMB_STRIP)
MOST_PLACES = 12
Point = tuple[Decimal, Decimal]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One fault of a wall.

    Args:
        layers: names of the layers that it lies between, the one that makes it first.
        step: the step that makes it; empty where others lay that layer, or nobody.
        places: where it shows on the face of the wall.
        path: a drop that shows it, from where it starts to where it ends; empty where no drop does.
    """

    name: Name
    severity: Severity
    layers: tuple[str, ...]
    step: str
    places: tuple[Rect, ...]
    path: tuple[Point, ...]

    @property
    def what(self) -> Sentence:
        return self.what_in(US)

    @property
    def mend(self) -> Sentence:
        return self.mend_in(US)

    def what_in(self, units: Units) -> Sentence:
        """Return what is wrong, its lengths in the units asked for."""
        return TOLD[self.name].what(units)

    def mend_in(self, units: Units) -> Sentence:
        """Return what would mend it, its lengths in the units asked for."""
        return TOLD[self.name].mend(units)

    @property
    def source(self) -> str:
        return TOLD[self.name].source


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """What a wall does with water; the faults, the worst first.

    Args:
        not_judged: why the wall could not be judged as a whole, and what of it was; None where it was.
    """

    faults: tuple[Fault, ...]
    not_judged: Sentence | None = None

    @property
    def passes(self) -> bool:
        """Return whether nothing is wrong; a note is nothing wrong."""
        return all(fault.severity is Severity.NOTE for fault in self.faults)

    @property
    def leaks(self) -> bool:
        """Return whether water gets into the wall, or would without its second line."""
        return bool(self.refusing)

    @property
    def refusing(self) -> tuple[Fault, ...]:
        """Return the faults for which a detail is refused."""
        return tuple(fault for fault in self.faults if fault.severity in REFUSING)


def water_path(wall: Wall) -> Verdict:
    """Return whether a wall sheds water: a drop starts in every cell and is followed down.

    Raises:
        BadWall: its edges make more cells than are judged.

    Source:
        Shingle laps, order of the pieces: AAMA 2400-10; AWDI manual p. 23; IRC R703.4. Pan: Building Science Corp.
        Info-302. Laps of the WRB: IRC R703.2. How water is followed, and what a fault does: our choice.
    """
    grid = grid_of(wall)
    found = _Found(grid)
    for fall in falls(grid):
        found.note_fall(fall)
    for finding in findings(grid):
        found.add(finding.name, finding.severity, finding.layers, finding.cells)
    return Verdict(faults=found.faults())


def judged_pan(pan: Pan | None, width_in: Decimal) -> Verdict:
    """Return whether a pan by itself drains, whatever lies around it."""
    names = wrong_in(pan, width_in) if pan else ()
    return Verdict(
        faults=tuple(
            Fault(name=name, severity=Severity.LEAK, layers=(), step=_step_of(name, ()), places=(), path=())
            for name in names
        )
    )


_ORDER = list(Severity)


@dataclass
class _Seen:
    severity: Severity
    layers: list[Layer] = field(default_factory=list)
    cells: set[Cell] = field(default_factory=set)
    path: tuple[Point, ...] = ()


class _Found:
    """Gathers the faults of a wall by name."""

    def __init__(self, grid: Grid) -> None:
        self._grid = grid
        self._layers = grid.wall.layers
        self._seen: dict[Name, _Seen] = {}

    def add(
        self,
        name: Name,
        severity: Severity,
        layers: Iterable[Layer],
        cells: Iterable[Cell],
        path: tuple[Point, ...] = (),
    ) -> None:
        seen = self._seen.setdefault(name, _Seen(severity))
        is_worse = _ORDER.index(severity) < _ORDER.index(seen.severity)
        if is_worse:
            seen.severity = severity
        if path and (is_worse or not seen.path):
            seen.path = path
        seen.layers += [layer for layer in layers if layer not in seen.layers]
        seen.cells.update(cells)

    def note_fall(self, fall: Fall) -> None:
        """Add the fault that a drop shows, if it is one."""
        for event in fall.events:
            if event.kind is Kind.LAP:
                self._add_event(event, Severity.SECOND_LINE, fall)
        if fall.end is End.DRAINED:
            for event in fall.events:
                if event.kind is Kind.BOND:
                    self._add_event(event, Severity.NOTE, fall)
                elif event.kind is Kind.BEHIND and self._is_fault(event, fall.start):
                    self._add_event(event, Severity.DRAINS, fall)
            return
        blamed = self._blamed(fall)
        if fall.start is Start.SECOND and (self._role(blamed.outer), self._role(blamed.inner)) == END_OF_A_CAP:
            return
        if fall.start is Start.SECOND and self._is_off_the_end_of_the_head(blamed):
            return
        severity = Severity.SECOND_LINE if fall.start is Start.SECOND else Severity.LEAK
        self._add_event(blamed, severity, fall)

    def _is_fault(self, event: Event, start: Start) -> bool:
        """Return whether a lap the wrong way round that drains again is one: rain enters, or no WRB is in it.

        Sheets at the head that lie behind one another drain onto each other, and what runs down a jamb strip behind
        the end of a drip cap runs on down that strip to the sill: neither is one where no rain enters (our choice).
        Nor is a course of WRB that begins over a jamb strip: what creeps onto the strip beside the unit stays on it
        down to the sill strip, however many courses lie over it.
        """
        if (self._role(event.outer), self._role(event.inner)) == COURSE_OVER_A_JAMB:
            return False
        if start is not Start.SECOND:
            return True
        pair = {self._role(event.outer), self._role(event.inner)}
        return Role.WRB not in pair and not pair <= SHEETS_AT_THE_HEAD and pair != set(END_OF_A_CAP)

    def _is_off_the_end_of_the_head(self, event: Event) -> bool:
        """Return whether water falls off a sheet at the head beside the jamb strips.

        Head flashing may go on past them, to the next stud (AAMA 2400-10 note 3). Water that is behind the WRB there
        would be on the sheathing without it too.
        """
        if event.kind is not Kind.BARE or self._role(event.outer) not in SHEETS_AT_THE_HEAD:
            return False
        cell = self._grid.rect(event.row, event.column)
        jambs = [self._layers[place] for place in self._grid.wall.of_role(Role.JAMB_STRIP)]
        return (
            bool(jambs)
            and all(cell.right_in <= jamb.left_in or cell.left_in >= jamb.right_in for jamb in jambs)
            and not 0 <= cell.left_in < self._grid.wall.width_in
        )

    def _blamed(self, fall: Fall) -> Event:
        """Return what a drop that does not drain is owed to: the last lap or side that let it in.

        Courses of WRB that rain does not reach are passed over, or they would be blamed for strips above them.
        """
        if fall.end is End.DAMMED:
            return fall.events[-1]
        behind = [event for event in fall.events if event.kind in (Kind.BEHIND, Kind.SIDE)]
        owed = [event for event in behind if fall.start is Start.RAIN or self._role(event.outer) is not Role.WRB]
        return (owed or behind or list(fall.events))[-1]

    def _add_event(self, event: Event, severity: Severity, fall: Fall) -> None:
        layers = [self._layers[place] for place in (event.outer, event.inner) if place is not None]
        name, cell = self._name(event, layers), (event.row, event.column)
        if name is Name.CAP_LEG_UNCOVERED and severity is Severity.DRAINS:
            severity = Severity.SECOND_LINE  # no water may get behind the leg, wherever it then runs: common practice
        self.add(name, severity, layers, [cell], self._path(fall))

    def _name(self, event: Event, layers: Sequence[Layer]) -> Name:
        if event.kind is Kind.BARE and event.outer is None:
            return Name.BARE_WALL
        name = name_of(event.kind, self._role(event.outer), self._role(event.inner))
        if name is Name.COURSES_REVERSED and event.inner not in self._grid.stacks[event.row][event.column]:
            return Name.COURSES_LAP  # one ends where the next begins
        if event.inner is None or (flap := self._layers[event.inner].flap) is None:
            return name
        if event.kind is Kind.SIDE and name is Name.OPEN_SIDE:
            return Name.FLAP_UNTAPED
        is_flap_inside = self._grid.late[event.row][event.column] >> event.inner & 1
        if name is Name.WRB_UNDER_HEAD and not is_flap_inside:
            return Name.FLAP_CUT_SHORT if flap.fold_in > layers[0].top_in else Name.FLAP_CORNER
        return name

    def _role(self, place: int | None) -> Role | None:
        return None if place is None else self._layers[place].role

    def _path(self, fall: Fall) -> tuple[Point, ...]:
        return tuple(_middle(self._grid.rect(*cell)) for cell in fall.cells)

    def faults(self) -> tuple[Fault, ...]:
        """Return what was found, the worst first."""
        ranked = sorted(
            self._seen.items(), key=lambda item: (_ORDER.index(item[1].severity), list(Name).index(item[0]))
        )
        return tuple(
            Fault(
                name=name,
                severity=seen.severity,
                layers=tuple(layer.name for layer in seen.layers),
                step=_step_of(name, seen.layers),
                places=tuple(_joined(self._grid, seen.cells))[:MOST_PLACES],
                path=seen.path,
            )
            for name, seen in ranked
        )


def _step_of(name: Name, layers: Sequence[Layer]) -> str:
    """Return the step that makes a fault: of the layer that makes it, or of the pan, which may lie on no face."""
    if layers:
        return layers[0].step
    return StepCode.PAN if name in OF_THE_PAN else ""


def _middle(rect: Rect) -> Point:
    return (rect.left_in + rect.right_in) / 2, (rect.top_in + rect.bottom_in) / 2


def _joined(grid: Grid, cells: Iterable[Cell]) -> Iterator[Rect]:
    """Yield the cells as few rectangles: runs along a row, and equal runs below each other as one."""
    runs: list[tuple[int, int, int, int]] = []  # first row, last row, first column, last column
    open_runs: dict[tuple[int, int], int] = {}
    by_row: dict[int, list[int]] = {}
    for row, column in cells:
        by_row.setdefault(row, []).append(column)
    for row in sorted(by_row):
        still_open: dict[tuple[int, int], int] = {}
        for first, last in _runs(sorted(by_row[row])):
            known = open_runs.get((first, last))
            if known is not None and runs[known][1] == row - 1:
                runs[known] = runs[known][0], row, first, last
            else:
                known = len(runs)
                runs.append((row, row, first, last))
            still_open[first, last] = known
        open_runs = still_open
    for top, bottom, first, last in runs:
        yield Rect(grid.xs[first], grid.ys[top], grid.xs[last + 1], grid.ys[bottom + 1])


def _runs(columns: Sequence[int]) -> Iterator[tuple[int, int]]:
    first = last = columns[0]
    for column in columns[1:]:
        if column > last + 1:
            yield first, last
            first = column
        last = column
    yield first, last
