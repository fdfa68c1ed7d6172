"""A grid of cells → the rows of a window schedule and everything wrong in them."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from jobs.errors import Fault
from openings.calc.tape import Size
from openings.errors import BadSchedule
from openings.schedules.body import Body, body_of
from openings.schedules.cells import Wrong, reader_for, shown
from openings.schedules.columns import Meaning
from openings.schedules.grid import Grid, Unread
from openings.schedules.headings import PAIRS, Column, Headings, find_headings, what_is_missing
from openings.schedules.rows import ColumnRead, ScheduleRead, ScheduleRow

_TEXTS = (Meaning.OPERATION, Meaning.FLOOR, Meaning.DETAIL, Meaning.REMARKS)

_Found = tuple[int, Column, str]
"""A line of the body, the column in it and what would be right there."""

_Values = dict[Meaning, list[Any]]
"""Column by column what each line means: the kind of value its meaning has, or Wrong."""


def read_table(grid: Grid) -> ScheduleRead:
    """Return the window schedule that a grid holds.

    Raises:
        BadSchedule: there are no headings of a schedule, they are ambiguous, or no rows beneath them.
    """
    headings = find_headings(grid)
    if headings is None:
        raise BadSchedule(what_is_missing(grid))
    body = body_of(grid, headings)
    values = _values(body, headings, decimal_comma=grid.decimal_comma)
    found = [
        *_unreadable(values, headings),
        *_wrong_sizes(values, headings),
        *_repeated_marks(values, body, headings),
    ]
    wrong_lines = {line for line, _, _ in found}
    return ScheduleRead(
        rows=tuple(_rows(values, body, without=wrong_lines)),
        faults=tuple(_fault(*one, body=body) for one in sorted(found, key=lambda one: (one[0], one[1].index))),
        columns={
            meaning.value: ColumnRead(heading=column.text, letter=column.letter)
            for meaning, column in headings.columns.items()
        },
        notes=(*grid.notes, *headings.notes, *body.notes),
    )


def _values(body: Body, headings: Headings, *, decimal_comma: bool) -> _Values:
    """Return the value of every cell, column by column; whole sizes are split into their two sides."""
    defaults: dict[Meaning, Any] = {Meaning.QUANTITY: 1, **dict.fromkeys(_TEXTS, "")}
    values: _Values = {meaning: [defaults.get(meaning)] * len(body.rows) for meaning in Meaning}
    values[Meaning.FLOOR] = list(body.floors)
    for meaning, column in headings.columns.items():
        reader = reader_for(column, unit=headings.unit, decimal_comma=decimal_comma)
        index = column.index
        values[meaning] = list(map(reader.__getitem__, [line[index] for line in body.lines]))
    for width, height, size in PAIRS:
        if size in headings.columns:
            values[width] = [value.width_in if isinstance(value, Size) else value for value in values[size]]
            values[height] = [value.height_in if isinstance(value, Size) else value for value in values[size]]
    return values


def _unreadable(values: _Values, headings: Headings) -> Iterator[_Found]:
    for meaning, column in headings.columns.items():
        if Wrong in set(map(type, values[meaning])):
            for line, value in enumerate(values[meaning]):
                if isinstance(value, Wrong):
                    yield line, column, value.detail


def _wrong_sizes(values: _Values, headings: Headings) -> Iterator[_Found]:
    """Yield sizes that are missing, half given, or larger than the opening they go into."""
    (ro_width, ro_height, _), (unit_width, unit_height, _) = PAIRS
    sides = zip(values[ro_width], values[ro_height], values[unit_width], values[unit_height], strict=True)
    columns = {
        meaning: headings.columns.get(meaning) or headings.columns.get(size)
        for *pair, size in PAIRS
        for meaning in pair
    }
    first = next(column for column in columns.values() if column)
    for line, (ro_w, ro_h, unit_w, unit_h) in enumerate(sides):
        if ro_w is None and ro_h is None and unit_w is None and unit_h is None:
            yield (
                line,
                first,
                "the row gives neither a rough opening nor a unit size; fill in width and height",
            )
        elif (ro_w is None) is not (ro_h is None):
            column = columns[ro_width if ro_w is None else ro_height]
            yield line, column or first, "one side of the rough opening is missing; fill it in"
        elif (unit_w is None) is not (unit_h is None):
            column = columns[unit_width if unit_w is None else unit_height]
            yield line, column or first, "one side of the unit is missing; fill it in"
        elif (
            isinstance(ro_w, Decimal) and isinstance(ro_h, Decimal)
            and isinstance(unit_w, Decimal) and isinstance(unit_h, Decimal)
            and (unit_w > ro_w or unit_h > ro_h)
        ):  # fmt: skip
            detail = f"the unit ({unit_w} × {unit_h} in) is larger than its rough opening ({ro_w} × {ro_h} in)"
            yield line, columns[unit_width] or first, detail


def _repeated_marks(values: _Values, body: Body, headings: Headings) -> Iterator[_Found]:
    marks = [(line, mark.casefold()) for line, mark in enumerate(values[Meaning.MARK]) if isinstance(mark, str)]
    first_lines: dict[str, int] = {}
    for line, mark in marks:
        first = first_lines.setdefault(mark, line)
        if first != line:
            rows = f"row {body.rows[first]} and in row {body.rows[line]}"
            yield line, headings.columns[Meaning.MARK], f"the mark stands in {rows}; each mark stands once"


def _fault(line: int, column: Column, detail: str, *, body: Body) -> Fault:
    row, cell = body.rows[line], body.lines[line][column.index]
    if isinstance(cell, Unread):
        detail = f"the cell {column.letter}{row} {cell.value}"
    return Fault(field=column.text, row=row, value=shown(cell), detail=detail)


def _rows(values: _Values, body: Body, *, without: set[int]) -> Iterator[ScheduleRow]:
    sides = (Meaning.RO_WIDTH, Meaning.RO_HEIGHT, Meaning.UNIT_WIDTH, Meaning.UNIT_HEIGHT)
    named = (Meaning.MARK, Meaning.QUANTITY, *sides, *_TEXTS, Meaning.WEIGHT)
    lines = zip(body.rows, *(values[meaning] for meaning in named), strict=True)
    for number, (row, mark, quantity, ro_w, ro_h, unit_w, unit_h, *texts, weight_lb) in enumerate(lines):
        if number not in without:
            operation, floor, detail, remarks = texts
            yield ScheduleRow(
                row=row,
                mark=mark,
                quantity=quantity,
                ro_width_in=ro_w,
                ro_height_in=ro_h,
                unit_width_in=unit_w,
                unit_height_in=unit_h,
                operation=operation,
                floor=floor,
                detail=detail,
                remarks=remarks,
                weight_lb=weight_lb,
            )
