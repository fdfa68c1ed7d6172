"""The cells of a list that is no window schedule: crews, jobs, products.

`sheets_of` gives every sheet as rows of text, as a person would type them into a form; `listed_rows` finds the
headings asked for and gives each line beneath them by field.
"""

from __future__ import annotations

import datetime
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from decimal import Decimal

from jobs.errors import Fault
from openings.errors import BadList, BadSchedule
from openings.schedules.delimited import grid_of
from openings.schedules.file.kinds import MODEL, TEXT, kind_of
from openings.schedules.grid import Cell, Grid, Refused, Unread, column_letter
from openings.schedules.readers import check_file_size
from openings.schedules.workbook import grids_of

MAX_ROWS = 5_000
MAX_COLUMNS = 200
"""No firm has so many crews, jobs or products to list (our choice)."""
MAX_LETTERS = 2_000
SEARCHED_ROWS = 30
"""Within so many rows the headings of a list are looked for; titles and notes may stand above them (our choice)."""
_DECIMAL_COMMA = re.compile(r"-?\d{1,9},\d{1,9}")


@dataclass(frozen=True, slots=True, kw_only=True)
class CellRow:
    """A row that is not empty: its number as the user counts, and its cells as text from column A on.

    Numbers stand as `12.5`, dates as `2026-11-30`, times as `07:00`, marks of true and false as `yes` and `no`.
    """

    row: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CellSheet:
    """A sheet of a workbook, or a whole text, whose name is empty.

    Args:
        wrong: why a cell has no value, by row as the user counts and column from 0: a formula nobody calculated,
            an error, too long a text.
    """

    name: str
    rows: tuple[CellRow, ...]
    wrong: Mapping[tuple[int, int], str]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedRow:
    """A line of a list: the text of each field that the file has a column for, empty where the cell is."""

    row: int
    values: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class ListRead:
    """A list as it stands in a file.

    Args:
        headings: what each field's column is headed with there, for faults in its words.
        faults: cells without a value; their rows are listed with an empty text.
        notes: what was not read, in sentences.
    """

    sheet: str
    rows: tuple[ListedRow, ...]
    headings: Mapping[str, str]
    faults: tuple[Fault, ...]
    notes: tuple[str, ...]


@contextmanager
def in_words_of_a_list() -> Iterator[None]:
    """Have what is refused of a file speak of a list, since the readers of files speak of schedules.

    Raises:
        BadList: what was within raised `BadSchedule`.
    """
    try:
        yield
    except BadSchedule as error:
        raise BadList(_of_a_list(error.detail), faults=error.faults) from error


def sheets_of(*, filename: str, content: bytes) -> tuple[CellSheet, ...]:
    """Return the sheets of an .xlsx or .csv file that are not hidden.

    Raises:
        BadSchedule: the file is of another kind, is damaged, or has more than `MAX_ROWS` or `MAX_COLUMNS`.
    """
    check_file_size(len(content), filename=filename)
    kind = kind_of(filename=filename, content=content)
    if kind == MODEL:
        raise BadSchedule("A building model holds no list; upload the list as .xlsx or .csv.")
    grids, notes = ([grid_of(content)], ()) if kind == TEXT else grids_of(content)
    return tuple(_sheet(grid, notes) for grid in grids)


def listed_rows(
    sheets: Sequence[CellSheet], *, columns: Mapping[str, Sequence[str]], required: Sequence[str]
) -> ListRead:
    """Return the lines of a list, by field.

    >>> rows = (CellRow(row=1, cells=("Crew", "Size", "Colour")), CellRow(row=2, cells=("North", "3", "red")))
    >>> sheet = CellSheet(name="Crews", rows=rows, wrong={})
    >>> read = listed_rows([sheet], columns={"name": ["Crew", "Name"], "people": ["People", "Size"]}, required=["name"])
    >>> [(line.row, line.values) for line in read.rows], read.notes
    ([(2, {'name': 'North', 'people': '3'})], ('The column “Colour” was not read.',))

    Args:
        columns: the headings under which each field may stand; letters alone count, not case, spaces or signs.
        required: the fields without whose columns there is no such list.

    Raises:
        BadList: no sheet has the required headings in its first `SEARCHED_ROWS` rows, two columns give the same
            field, or no line stands beneath the headings.
    """
    for sheet in sheets:
        for at, row in enumerate(sheet.rows[:SEARCHED_ROWS]):
            places = _places(row, columns)
            if all(field in places for field in required):
                _require_once(row, columns)
                others = [other.name for other in sheets if other is not sheet and other.rows]
                return _list(sheet, row, sheet.rows[at + 1 :], places, others)
    wanted = _quoted(columns[field][0] for field in required)
    raise BadList(
        f"No row has the headings {wanted}. Head the columns with: {_quoted(names[0] for names in columns.values())}."
    )


def _of_a_list(detail: str) -> str:
    return detail.replace("a window schedule", "a list").replace("window schedule", "list").replace("schedule", "list")


def _sheet(grid: Grid, notes: tuple[str, ...]) -> CellSheet:
    what = f"The sheet “{grid.name}”" if grid.name else "The text"
    filled = [(number, line) for number, line in enumerate(grid.lines, start=1) if any(cell != "" for cell in line)]
    width = max((_width(line) for _, line in filled), default=0)
    if len(filled) > MAX_ROWS or width > MAX_COLUMNS:
        raise BadSchedule(
            f"{what} has {len(filled):,} rows and {width:,} columns; a list has at most {MAX_ROWS:,} and "
            f"{MAX_COLUMNS}. Copy the list alone into a new workbook and upload that."
        )
    wrong: dict[tuple[int, int], str] = {}
    rows = []
    for number, line in filled:
        cells = []
        for column, cell in enumerate(line[:width]):
            text, problem = _text(cell)
            if grid.decimal_comma and _DECIMAL_COMMA.fullmatch(text):
                text = text.replace(",", ".")
            if problem:
                wrong[number, column] = problem
            cells.append(text)
        rows.append(CellRow(row=number, cells=tuple(cells)))
    return CellSheet(name=grid.name, rows=tuple(rows), wrong=wrong, notes=(*notes, *grid.notes))


def _width(line: Sequence[Cell]) -> int:
    return next((len(line) - back for back, cell in enumerate(reversed(line)) if cell != ""), 0)


def _text(cell: Cell) -> tuple[str, str]:
    """Return the text of a cell, and why it has none."""
    match cell:
        case Unread():
            return "", cell.value
        case Refused():
            return cell.shown, cell.detail
        case str():
            too_long = f"has {len(cell):,} letters; at most {MAX_LETTERS:,} are read"
            return ("", too_long) if len(cell) > MAX_LETTERS else (cell.strip(), "")
        case bool():
            return "yes" if cell else "no", ""
        case int() | float():
            # Fifteen digits are what a spreadsheet shows; the rest is what binary fractions add.
            return f"{Decimal(format(cell, '.15g')):f}", ""
        case datetime.datetime():
            is_date = cell.time() == datetime.time()
            return cell.date().isoformat() if is_date else cell.isoformat(" ", "minutes"), ""
        case datetime.date():
            return cell.isoformat(), ""
        case datetime.time():
            return cell.isoformat("minutes"), ""
        case _:
            return str(cell), ""


def _places(row: CellRow, columns: Mapping[str, Sequence[str]]) -> dict[str, int]:
    """Return the column, from 0, of each field that the row has a heading for."""
    known = {_plain(name): field for field, names in columns.items() for name in names}
    places: dict[str, int] = {}
    for column, cell in enumerate(row.cells):
        if field := known.get(_plain(cell)):
            places.setdefault(field, column)
    return places


def _require_once(row: CellRow, columns: Mapping[str, Sequence[str]]) -> None:
    known = {_plain(name): field for field, names in columns.items() for name in names}
    count = Counter(field for cell in row.cells if (field := known.get(_plain(cell))))
    for field, times in count.items():
        if times > 1:
            raise BadList(f"Row {row.row} has {times} columns for “{columns[field][0]}”; leave one of them.")


def _plain(heading: str) -> str:
    return "".join(letter for letter in heading.casefold() if letter.isalnum())


def _list(
    sheet: CellSheet, head: CellRow, body: Sequence[CellRow], places: Mapping[str, int], others: Sequence[str]
) -> ListRead:
    rows = [
        ListedRow(row=line.row, values={field: line.cells[column] for field, column in places.items()})
        for line in body
        if any(line.cells[column] for column in places.values())
        or any((line.row, column) in sheet.wrong for column in places.values())
    ]
    if not rows:
        raise BadList(f"No line stands beneath the headings in row {head.row}.")
    unread = [cell for column, cell in enumerate(head.cells) if cell and column not in places.values()]
    return ListRead(
        sheet=sheet.name,
        rows=tuple(rows),
        headings={field: head.cells[column] for field, column in places.items()},
        faults=tuple(
            Fault(field=head.cells[column], row=row, detail=f"cell {column_letter(column)}{row} {problem}")
            for (row, column), problem in sheet.wrong.items()
            if row > head.row and column in places.values()
        ),
        notes=(
            *sheet.notes,
            *(f"The column “{name}” was not read." for name in unread),
            *(f"The sheet “{name}” was not read." for name in others),
        ),
    )


def _quoted(names: Iterator[str]) -> str:
    return ", ".join(f"“{name}”" for name in names)
