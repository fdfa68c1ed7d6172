"""A .csv file → the rows of its window schedule, whatever its encoding and delimiter."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Iterator, Mapping
from itertools import chain, islice

from openings.errors import BadSchedule
from openings.schedules.file.extent import require_room
from openings.schedules.file.kinds import TEXT
from openings.schedules.file.text import text_of
from openings.schedules.grid import Cell, Grid
from openings.schedules.layout import Layout
from openings.schedules.reading import read_grids
from openings.schedules.rows import ScheduleRead
from openings.schedules.tables.finding import tables_in
from openings.schedules.tables.heading_lines import SEARCHED_LINES

_DELIMITERS = ",;\t|"
_NAMES = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars"}
_STATED_DELIMITER = re.compile(r"sep=([^\w\s\"]|\t)[ \r\n]*", re.IGNORECASE)
_END = "\x00"
"""Stands in no text; read as a row of its own it shows that no quotation mark is open at the end."""


def read_delimited(content: bytes, *, settled: Layout, remembered: Mapping[str, Layout]) -> ScheduleRead:
    """Return the window schedule of a delimited text.

    Raises:
        BadSchedule: the file is no text, or holds no window schedule.
    """
    return read_grids([grid_of(content)], settled=settled, remembered=remembered, kind=TEXT)


def grid_of(content: bytes) -> Grid:
    """Return the cells of a delimited text, with empty ones at the end of short lines.

    Raises:
        BadSchedule: the file is no text, has too many cells, or a quotation mark in it is never closed.
    """
    text = text_of(content)
    stated = _STATED_DELIMITER.fullmatch(next(text.lines(), ""))
    passed = 1 if stated else 0
    head = list(islice(text.lines(), passed, passed + SEARCHED_LINES))
    delimiter = stated[1] if stated else _delimiter_of(head)
    notes = list(text.notes)
    if delimiter != ",":
        notes.append(f"The cells are divided by {_NAMES.get(delimiter, f'“{delimiter}”')}.")
    if delimiter == ";":
        notes.append("A comma between digits of a size or weight is read as a decimal point.")
    lines: Iterator[str] = islice(text.lines(), passed, None)
    if _has_bare_quotes(text.lines(), delimiter):
        lines = (_with_doubled_quotes(line, delimiter) for line in lines)
    cells = _cells(lines, delimiter=delimiter, passed=passed, notes=notes)
    return Grid(lines=cells, decimal_comma=delimiter == ";", notes=tuple(notes))


def _delimiter_of(head: list[str]) -> str:
    """Return the delimiter under which the headings can be read; failing that, the commonest."""
    for delimiter in _DELIMITERS:
        lines = [_with_doubled_quotes(line, delimiter) for line in head] if _has_bare_quotes(head, delimiter) else head
        try:
            records = list(csv.reader(lines, delimiter=delimiter))
        except csv.Error:
            continue
        width = max(map(len, records), default=0)
        require_room(len(records), width, what="The text")
        if tables_in(Grid(lines=[[*map(str.strip, record), *[""] * (width - len(record))] for record in records])):
            return delimiter
    return max(_DELIMITERS, key="".join(head).count)


def _cells(lines: Iterable[str], *, delimiter: str, passed: int, notes: list[str]) -> list[list[Cell]]:
    """Return the cells; what repeats itself is kept once, and blank lines after the last row are left out.

    Args:
        passed: how many lines of the file stand before these.
        notes: gets a sentence for each row that runs over several lines as if a quotation mark were missing.
    """
    known: dict[str, str] = {}
    rows: list[list[Cell]] = []
    blank: list[Cell] = []
    blank_count = filled_count = width = last_line = 0
    reader = csv.reader(chain(lines, (_END,)), delimiter=delimiter)
    try:
        for record in reader:
            first_line, last_line = last_line + 1, reader.line_num
            if record and record[-1].endswith(_END):
                break
            if last_line > first_line:
                notes.extend(_run_over(record, width, delimiter, first=passed + first_line, last=passed + last_line))
            cells = list(map(str.strip, record))
            if not any(cells):
                blank_count += 1
                continue
            rows.extend([blank] * blank_count)
            rows.append(list(map(known.setdefault, cells, cells)))
            blank_count, filled_count, width = 0, filled_count + 1, max(width, len(cells))
            require_room(filled_count, width, what="The text")
    except csv.Error as error:
        raise _open_quote(passed + last_line + 1) from error
    if record != [_END]:
        raise _open_quote(passed + first_line)
    return _evened(rows, width)


def _evened(rows: list[list[Cell]], width: int) -> list[list[Cell]]:
    for row in rows:
        if len(row) < width:
            row.extend([""] * (width - len(row)))
    return rows


def _open_quote(line: int) -> BadSchedule:
    return BadSchedule(
        f'A cell that begins in line {line} does not end: its quotation mark (") is never closed, or it holds more '
        f"than {csv.field_size_limit():,} letters. Correct that line and upload the file again."
    )


def _run_over(record: list[str], width: int, delimiter: str, *, first: int, last: int) -> list[str]:
    """Return a note if a row of several lines may have swallowed others.

    Args:
        width: cells of the widest row before it.

    Raises:
        BadSchedule: it has: whole rows stand within one of its cells.
    """
    where = f"from line {first} to line {last}"
    for cell in record:
        within = sorted(line.count(delimiter) for line in cell.splitlines()[1:-1])
        if within and (within[-1] >= max(3, width - 1) or (within[-2:][0] >= max(2, width - 1) and len(within) > 1)):
            raise BadSchedule(
                f'A cell runs {where} and holds whole rows: a quotation mark (") is missing there or one too many. '
                "Correct these lines and upload the file again."
            )
        if cell.count(delimiter) >= max(2, width - 1) and len(cell.splitlines()) > 1:
            return [f'A cell runs {where}; look whether a quotation mark (") is missing there.']
    return []


def _has_bare_quotes(lines: Iterable[str], delimiter: str) -> bool:
    """Return whether cells in quotes hold inch marks that were not doubled, as some exports write them."""
    bare = re.escape(delimiter)
    bare_quotes = re.compile(rf'(?=.*"[\r\n]*\Z)".*[^"{bare}]""(?:{bare}"|[\r\n]*\Z)')
    return any(line.startswith('"') and bare_quotes.match(line) for line in lines)


def _with_doubled_quotes(line: str, delimiter: str) -> str:
    line = line.rstrip("\r\n")
    if not (line.startswith('"') and line.endswith('"')):
        return f"{line}\n"
    divider = f'"{delimiter}"'
    return '"' + divider.join(cell.replace('"', '""') for cell in line[1:-1].split(divider)) + '"\n'
