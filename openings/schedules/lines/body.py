"""The rows beneath the headings that stand for openings, in order, and notes on the rest."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field, replace
from itertools import accumulate
from operator import attrgetter

from openings.errors import BadSchedule
from openings.schedules.grid import Cell, Grid, Merge, spans
from openings.schedules.headings.of_table import Aside, Column, Headings
from openings.schedules.layout import Meaning
from openings.schedules.lines.cells import feet_with_inches
from openings.schedules.lines.line_kinds import Kind, LineKinds, heading_in, texts_of
from openings.schedules.lines.totals import Stated

MAX_ROWS = 200_000
_MOST_NOTES = 200
"""So many lines that are no openings have a note each; of the rest it says how many."""


@dataclass(frozen=True, slots=True)
class Body:
    """The lines that stand for openings, with the row numbers that the user sees.

    Args:
        rows: the row number of each line.
        lines: the cells, merged ones filled down.
        floors: the floor that a line between the rows gave, for each line.
        heads: what the last line between the rows says that heads some of them, for each line.
        notes: what was passed over or filled in.
        totals: lines that state how many there are.
    """

    rows: list[int] = field(default_factory=list)
    lines: list[list[Cell]] = field(default_factory=list)
    floors: list[str] = field(default_factory=list)
    heads: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    totals: list[Stated] = field(default_factory=list)

    def column(self, index: int) -> list[Cell]:
        """Return the cells of a column, line by line."""
        return [line[index] for line in self.lines]

    def without(self, left: Collection[int]) -> Body:
        """Return the body without some of its lines; what totals count moves up."""
        if not left:
            return self
        kept = [number for number in range(len(self.rows)) if number not in left]
        before = [0, *accumulate(number not in left for number in range(len(self.rows)))]
        return Body(
            rows=[self.rows[number] for number in kept],
            lines=[self.lines[number] for number in kept],
            floors=[self.floors[number] for number in kept],
            heads=[self.heads[number] for number in kept],
            notes=self.notes,
            totals=[
                replace(
                    one,
                    begins=frozenset(before[begin] for begin in one.begins),
                    end=before[one.end],
                    left_out=tuple(self.lines[number] for number in sorted(left) if number < one.end),
                )
                for one in self.totals
            ],
        )


def body_of(grid: Grid, headings: Headings) -> Body:
    """Return the lines beneath the headings that stand for openings.

    Raises:
        BadSchedule: there is none, or more than 200,000.
    """
    body = Body()
    lines = _joined(_filled_down(grid, headings, body.notes), headings)
    numbers = grid.row_numbers or range(1, len(lines) + 1)
    _sort(lines, numbers, LineKinds(grid, headings), headings=headings, body=body)
    if not body.rows:
        last = numbers[headings.first_line - 1] if headings.first_line else 0
        raise BadSchedule(f"There are no rows below the headings, which end in row {last}.")
    if len(body.rows) > MAX_ROWS:
        raise BadSchedule(f"The schedule has {len(body.rows):,} rows; upload at most {MAX_ROWS:,} in one file.")
    _note_hidden(grid, numbers, body)
    return body


def _sort(lines: list[list[Cell]], numbers: Sequence[int], kinds: LineKinds, *, headings: Headings, body: Body) -> None:
    """Put each line into the body, or say in a note what it is."""
    mark, size, doubtful = kinds.mark, kinds.sizes[0], kinds.doubtful
    floor, head, notes = "", "", list[str]()
    last = len(lines) if headings.last_line is None else headings.last_line
    before = Kind.NOTHING
    begins = {Kind.GROUP: 0, Kind.FLOOR: 0}
    for index in range(headings.first_line, last):
        line = lines[index]
        is_opening = before is Kind.OPENING and line[mark] and line[size] and line[mark] not in doubtful
        if not is_opening:
            kind = kinds.kind_of(line, index, above=body.lines) if any(line) else Kind.NOTHING
            if kind is not before:
                kinds.took(kind, count=len(body.rows))
                before = kind
            if kind is Kind.NOTHING:
                continue
            if kind is not Kind.OPENING:
                floor = heading_in(line) if kind is Kind.FLOOR else floor
                head = heading_in(line) if kind in (Kind.FLOOR, Kind.GROUP) else head
                count = len(body.rows)
                if kind is Kind.TOTAL:
                    body.totals.append(Stated(numbers[index], line, frozenset({0, *begins.values()}), count))
                if kind in (Kind.TOTAL, Kind.GROUP, Kind.FLOOR):
                    begins[Kind.GROUP] = count
                if kind is Kind.FLOOR:
                    begins[Kind.FLOOR] = count
                notes.append(_note(line, kind, numbers[index], headings=headings, body=body))
                continue
        body.rows.append(numbers[index])
        body.lines.append(line)
        body.floors.append(floor)
        body.heads.append(head)
    body.notes.extend(notes[:_MOST_NOTES])
    if len(notes) > _MOST_NOTES:
        body.notes.append(f"{len(notes) - _MOST_NOTES:,} more rows were skipped, or head those below them.")


def _note(line: list[Cell], kind: Kind, row: int, *, headings: Headings, body: Body) -> str:
    """Return the note on a line that is no opening; a remark that goes on joins the line above."""
    text = " ".join(texts_of(line))[:80]
    if kind is Kind.FLOOR:
        return f"Row {row} “{heading_in(line)}” heads the rows below it."
    if kind is Kind.GROUP:
        return f"Row {row} “{text}” heads the rows below it; as it names no floor, it was skipped."
    if kind is Kind.CONTINUED:
        remarks = headings.columns[Meaning.REMARKS]
        above = list(body.lines[-1])
        above[remarks.index] = " ".join(texts_of([above[remarks.index], line[remarks.index]]))
        body.lines[-1] = above
        return f"Row {row} “{text}” goes on with “{remarks.text}” of the row above it."
    text = text or ", ".join(str(cell) for cell in line if cell != "")[:80]
    return f"Row {row} “{text}” was skipped."


def _filled_down(grid: Grid, headings: Headings, notes: list[str]) -> list[list[Cell]]:
    """Return the lines with each merged cell repeated in the rows it covers, but for quantities."""
    lines = list(grid.lines)
    last = len(lines) if headings.last_line is None else min(len(lines), headings.last_line)
    by_left: dict[int, list[Merge]] = defaultdict(list)
    for merge in sorted(grid.merges, key=attrgetter("top")):
        if merge.top >= headings.first_line and min(merge.bottom, last - 1) > merge.top:
            by_left[merge.left].append(merge)
    read = [column for meaning, column in headings.columns.items() if meaning is not Meaning.QUANTITY]
    unread = [aside for aside in headings.asides if not aside.is_read]
    columns: list[Column | Aside] = [*read, *headings.inches.values(), *unread]
    for column in columns:
        if column.index not in by_left:
            continue
        blocks = []
        for merge in by_left[column.index]:
            bottom = min(merge.bottom, last - 1)
            for number in range(merge.top + 1, bottom + 1):
                lines[number] = list(lines[number])
                lines[number][column.index] = lines[merge.top][column.index]
            blocks.append(spans(range(merge.top + 1, bottom + 2)))
        notes.append(f"Merged cells of “{column.text}” were taken for each row they cover: {', '.join(blocks)}.")
    return lines


def _joined(lines: list[list[Cell]], headings: Headings) -> list[list[Cell]]:
    """Return the lines with feet and inches of two columns as one length in the column of the feet."""
    pairs = [(headings.columns[meaning].index, inches.index) for meaning, inches in headings.inches.items()]
    if not pairs:
        return lines
    last = len(lines) if headings.last_line is None else headings.last_line
    joined = list(lines)
    for number in range(headings.first_line, min(last, len(lines))):
        line = list(lines[number])
        for feet, inches in pairs:
            line[feet] = feet_with_inches(line[feet], line[inches])
        joined[number] = line
    return joined


def _note_hidden(grid: Grid, numbers: Sequence[int], body: Body) -> None:
    if not grid.hidden_rows:
        return
    rows = set(body.rows)
    hidden = [numbers[at] for at in grid.hidden_rows if at < len(numbers) and numbers[at] in rows]
    if hidden:
        body.notes.append(f"Hidden but read: row {spans(hidden)}.")
