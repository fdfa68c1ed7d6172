"""The rows beneath the headings: which are openings, and which totals, floors and remarks between them."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from operator import attrgetter

from openings.errors import BadSchedule
from openings.schedules.cells import is_blank
from openings.schedules.columns import Meaning
from openings.schedules.grid import Cell, Grid, spans
from openings.schedules.headings import PAIRS, Headings

MAX_ROWS = 50_000

_TOTAL = re.compile(r"(?:grand |sub[ -]?)?totals?\b", re.IGNORECASE)
_FLOOR = re.compile(r"\b(?:floor|level|storey|story|basement|penthouse|building|wing|elevation|phase)\b", re.IGNORECASE)
_REMARK = re.compile(r"(?:notes?|legend|remarks?|general)\b|[*•†]|\d+[.)]\s", re.IGNORECASE)
_LONGEST_MARK = 40


@dataclass(frozen=True, slots=True)
class Body:
    """The lines that stand for openings, with their row numbers from 1.

    Args:
        rows: the row number of each line.
        lines: the cells, merged ones filled down.
        floors: the floor that a line between the rows gave, for each line.
        notes: what was passed over or filled in.
    """

    rows: list[int] = field(default_factory=list)
    lines: list[list[Cell]] = field(default_factory=list)
    floors: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def body_of(grid: Grid, headings: Headings) -> Body:
    """Return the lines beneath the headings that stand for openings.

    Raises:
        BadSchedule: there is none, or more than 50,000.
    """
    body = Body()
    lines = _filled_down(grid, headings, body.notes)
    mark = headings.columns[Meaning.MARK].index
    size = next(headings.columns[meaning].index for pair in PAIRS for meaning in pair if meaning in headings.columns)
    heads = {line[mark] for line in grid.lines[: headings.first_line]} - {""}
    wide = {(merge.top, merge.left) for merge in grid.merges if merge.right > merge.left}
    floor = ""
    for number, line in enumerate(lines[headings.first_line :], start=headings.first_line):
        is_opening = line[mark] and line[size] and line[mark] not in heads
        if not is_opening:
            passed = _passed_over(line, number, headings=headings, wide=wide, heads=heads)
            if passed is not None:
                floor = _note(passed, number, body=body, floor=floor)
                continue
        body.rows.append(number + 1)
        body.lines.append(line)
        body.floors.append(floor)
    if not body.rows:
        raise BadSchedule(f"There are no rows beneath the headings, which end in row {headings.first_line}.")
    if len(body.rows) > MAX_ROWS:
        raise BadSchedule(f"The schedule has {len(body.rows):,} rows; send at most {MAX_ROWS:,} in one file.")
    _note_hidden(grid, body)
    return body


@dataclass(frozen=True, slots=True)
class _Passed:
    text: str
    is_floor: bool = False


def _passed_over(
    line: list[Cell], number: int, *, headings: Headings, wide: set[tuple[int, int]], heads: set[Cell]
) -> _Passed | None:
    """Return what a line that is no opening says, or None if it must be read as one."""
    filled = [index for index, cell in enumerate(line) if not is_blank(cell)]
    texts = [" ".join(cell.split()) for index in filled if isinstance(cell := line[index], str)]
    read = {column.index for column in headings.columns.values()}
    if not read & set(filled):
        return _Passed(texts[0] if texts else "")
    sizes = {headings.columns[meaning].index for pair in PAIRS for meaning in pair if meaning in headings.columns}
    if not sizes & set(filled) and any(_TOTAL.match(text) for text in texts):
        return _Passed(next(text for text in texts if _TOTAL.match(text)))
    if line[headings.columns[Meaning.MARK].index] in heads:
        return _Passed(" ".join(texts))
    if len(filled) == 1 and texts:
        if _FLOOR.search(texts[0]) or (number, filled[0]) in wide:
            return _Passed(texts[0], is_floor=len(texts[0]) <= _LONGEST_MARK)
        if _REMARK.match(texts[0]) or len(texts[0]) > _LONGEST_MARK:
            return _Passed(texts[0])
    return None


def _note(passed: _Passed, number: int, *, body: Body, floor: str) -> str:
    """Note a line that was passed over, and return the floor of the lines beneath it."""
    if passed.is_floor:
        body.notes.append(f"Row {number + 1} “{passed.text}” heads the rows beneath it.")
        return passed.text
    if passed.text:
        body.notes.append(f"Row {number + 1} “{passed.text[:80]}” was passed over.")
    return floor


def _filled_down(grid: Grid, headings: Headings, notes: list[str]) -> list[list[Cell]]:
    """Return the lines with each merged cell repeated in the rows it covers, but for marks and quantities."""
    lines = list(grid.lines)
    for meaning, column in headings.columns.items():
        if meaning in (Meaning.MARK, Meaning.QUANTITY):
            continue
        blocks = []
        for merge in sorted(grid.merges, key=attrgetter("top")):
            bottom = min(merge.bottom, len(lines) - 1)
            if merge.left != column.index or merge.top < headings.first_line or bottom <= merge.top:
                continue
            for number in range(merge.top + 1, bottom + 1):
                lines[number] = list(lines[number])
                lines[number][column.index] = lines[merge.top][column.index]
            blocks.append(spans(range(merge.top + 1, bottom + 2)))
        if blocks:
            notes.append(f"Merged cells of “{column.text}” were taken for each row they cover: {', '.join(blocks)}.")
    return lines


def _note_hidden(grid: Grid, body: Body) -> None:
    hidden = [number + 1 for number in grid.hidden_rows if number + 1 in set(body.rows)] if grid.hidden_rows else []
    if hidden:
        body.notes.append(f"Hidden but read: row {spans(hidden)}.")
