"""A .csv file → the rows of its window schedule, whatever its encoding and delimiter."""

from __future__ import annotations

import csv
import io
import re

from openings.errors import BadSchedule
from openings.schedules.grid import Cell, Grid
from openings.schedules.headings import SEARCHED_LINES, find_headings
from openings.schedules.rows import ScheduleRead
from openings.schedules.table import read_table

_DELIMITERS = ",;\t|"
_NAMES = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars"}
_STATED_DELIMITER = re.compile(r"sep=(.)\r?\n", re.IGNORECASE)


def read_delimited(content: bytes) -> ScheduleRead:
    """Return the window schedule of a delimited text.

    Raises:
        BadSchedule: the file is no text, or holds no headings of a schedule.
    """
    text, encoding = _decode(content)
    stated = _STATED_DELIMITER.match(text)
    if stated:
        text = text[stated.end() :]
    delimiter = stated[1] if stated else _delimiter_of(text)
    notes = [] if encoding == "UTF-8" else [f"The text is encoded as {encoding}."]
    if delimiter != ",":
        notes.append(f"The cells are divided by {_NAMES.get(delimiter, f'“{delimiter}”')}.")
    if delimiter == ";":
        notes.append("A comma between digits of a size or weight is read as a decimal point.")
    return read_table(Grid(lines=_lines(text, delimiter=delimiter), decimal_comma=delimiter == ";", notes=tuple(notes)))


def _decode(content: bytes) -> tuple[str, str]:
    """Return the text and the name of its encoding.

    UTF-16 without a mark is known by the zero bytes of its plain letters; what is no UTF-8 is Windows-1252,
    the usual encoding of spreadsheets saved as .csv on Windows.
    """
    guesses = [("utf-8-sig", "UTF-8"), ("cp1252", "Windows-1252")]
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        guesses = [("utf-16", "UTF-16")]
    elif b"\x00" in content[:2000]:
        is_little = content[1:2000:2].count(0) > content[:2000:2].count(0)
        guesses = [("utf-16-le", "UTF-16") if is_little else ("utf-16-be", "UTF-16")]
    for codec, name in guesses:
        try:
            text = content.decode(codec)
        except UnicodeDecodeError:
            continue
        if "\x00" not in text:
            return text, name
    raise BadSchedule("The file is no text, so it is no .csv; save the schedule as .csv (UTF-8) or .xlsx.")


def _delimiter_of(text: str) -> str:
    """Return the delimiter under which the headings can be read; failing that, the commonest."""
    head = "".join(text.splitlines(keepends=True)[:SEARCHED_LINES])
    for delimiter in _DELIMITERS:
        if find_headings(Grid(lines=_lines(head, delimiter=delimiter))):
            return delimiter
    return max(_DELIMITERS, key=head.count)


def _lines(text: str, *, delimiter: str) -> list[list[Cell]]:
    """Return the cells, with empty ones at the end of short lines."""
    if _has_bare_quotes(text, delimiter):
        text = _with_doubled_quotes(text, delimiter)
    try:
        records = list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter))
    except csv.Error as error:
        raise BadSchedule(f"The text cannot be divided into cells ({error}); save it again as .csv (UTF-8).") from error
    width = max(map(len, records), default=0)
    return [[*map(str.strip, record), *[""] * (width - len(record))] for record in records]


def _has_bare_quotes(text: str, delimiter: str) -> bool:
    """Return whether cells in quotes hold inch marks that were not doubled, as some exports write them."""
    bare = re.escape(delimiter)
    return any(
        line.startswith('"') and line.endswith('"') and re.search(rf'[^"{bare}]""(?:{bare}"|$)', line)
        for line in text.splitlines()
    )


def _with_doubled_quotes(text: str, delimiter: str) -> str:
    divider = f'"{delimiter}"'
    return "\n".join(
        '"' + divider.join(cell.replace('"', '""') for cell in line[1:-1].split(divider)) + '"'
        if line.startswith('"') and line.endswith('"')
        else line
        for line in text.splitlines()
    )
