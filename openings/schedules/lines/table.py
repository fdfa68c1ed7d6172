"""A grid of cells → the rows of a window schedule and everything wrong in them."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from jobs.errors import Fault
from openings.calc.tape import Size
from openings.errors import BadSchedule
from openings.schedules.grid import Cell, Grid, Unread
from openings.schedules.headings.of_table import Column, Headings
from openings.schedules.layout import FACTS, PAIRS, Meaning
from openings.schedules.lines import asides, orders, sizes, totals
from openings.schedules.lines.body import Body, body_of
from openings.schedules.lines.cells import Wrong, reader_for, shown
from openings.schedules.lines.counts import Counts, counts_of
from openings.schedules.lines.facts import fact_reader, facts_of
from openings.schedules.lines.marks import named
from openings.schedules.lines.repeats import ALIKE, repeats_in
from openings.schedules.lines.unfold import Openings, spread, unfolded
from openings.schedules.lines.units import units_of
from openings.schedules.rows import NO_FACTS, Question, ScheduleRow, WrongLine, first_faults

MOST_WRONG_LINES = 500
_TEXTS = (Meaning.OPERATION, Meaning.FLOOR, Meaning.DETAIL, Meaning.REMARKS)
_SIDES = (Meaning.RO_WIDTH, Meaning.RO_HEIGHT, Meaning.UNIT_WIDTH, Meaning.UNIT_HEIGHT)

_Found = tuple[int, Column, str]
"""A line of the body, the column in it and what would be right there."""

_Cells = dict[Meaning, list[Cell]]

_Values = dict[Meaning, Sequence[Any]]
"""Column by column what each line means: the kind of value its meaning has, or Wrong."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TableRead:
    """The rows of one table, everything wrong in them, and what must be settled about them."""

    rows: tuple[ScheduleRow, ...]
    faults: tuple[Fault, ...]
    notes: tuple[str, ...]
    questions: tuple[Question, ...] = ()
    wrong_lines: tuple[WrongLine, ...] = ()


def read_table(grid: Grid, headings: Headings) -> TableRead:
    """Return the rows between the lines that the headings name.

    Raises:
        BadSchedule: there are no rows beneath the headings, too many, or none that is not left out.
    """
    whole = body_of(grid, headings)
    asked = list(asides.questions_of(whole, headings.asides))
    left, left_notes = asides.left_out(whole, asides.as_asked(headings.asides, asked))
    if len(left) == len(whole.rows):
        raise BadSchedule(f"Every row would be left out. {' '.join(left_notes)} Leave out less.")
    body = whole.without(left)
    mark = headings.columns[Meaning.MARK]
    cells: _Cells = {meaning: body.column(column.index) for meaning, column in headings.columns.items()}
    units = units_of(headings, cells, decimal_comma=grid.decimal_comma)
    values = _values(cells, body, headings, units=units.units, decimal_comma=grid.decimal_comma)
    counts = _counts(values, body, headings)
    quantities = counts.sums() if counts else values[Meaning.QUANTITY] if _has_quantities(headings) else None
    names = named(values[Meaning.MARK], quantities=quantities, rows=body.rows, column=mark, settled=headings.marks)
    found = [
        *_unreadable(values, headings),
        *sizes.wrong_sizes(values, headings),
        *((line, mark, detail) for line, detail in names.wrong),
        *(counts.wrong if counts else ()),
        *((line, mark, detail) for line, detail in spread(names.several, counts)),
    ]
    openings = unfolded(
        values[Meaning.MARK],
        quantities=values[Meaning.QUANTITY],
        floors=values[Meaning.FLOOR],
        several=names.several,
        counts=counts,
    )
    notes = [*sizes.found_in_texts(values, body, headings), *units.notes, *names.notes]
    found.extend(_repeated(openings, values, body, headings, notes, wrong={line for line, _, _ in found}))
    rows = _rows(openings, values, body, headings, without={line for line, _, _ in found})
    return TableRead(
        rows=tuple(rows),
        faults=first_faults([_fault(*one, body=body) for one in sorted(found, key=lambda one: (one[0], one[1].index))]),
        notes=(*body.notes, *left_notes, *notes),
        questions=(
            *units.questions,
            *orders.questions_of(headings, cells, units.units, comma=grid.decimal_comma),
            *names.questions,
            *asked,
            *(
                totals.questions_of(body.totals, _openings_of_lines(openings, len(body.rows)), headings)
                if body.totals
                else ()
            ),
        ),
        wrong_lines=tuple(_wrong_lines({line for line, _, _ in found}, body, headings)),
    )


def _openings_of_lines(openings: Openings, many: int) -> list[int]:
    """Return how many openings each line stands for; a quantity that cannot be read counts as none."""
    counts = [0] * many
    for line, quantity in zip(openings.lines, openings.quantities, strict=True):
        counts[line] += quantity if isinstance(quantity, int) else 0
    return counts


def _has_quantities(headings: Headings) -> bool:
    return Meaning.QUANTITY in headings.columns or bool(headings.counts)


def _values(
    cells: _Cells, body: Body, headings: Headings, *, units: dict[Meaning, Any], decimal_comma: bool
) -> _Values:
    """Return the value of every cell, column by column; whole sizes are split into their two sides."""
    defaults: dict[Meaning, Any] = {Meaning.QUANTITY: 1, **dict.fromkeys(_TEXTS, "")}
    values: _Values = {meaning: [defaults.get(meaning)] * len(body.rows) for meaning in Meaning}
    values[Meaning.FLOOR] = body.floors
    for meaning, column in headings.columns.items():
        if meaning in FACTS:
            reader = fact_reader(column, unit=units[meaning], decimal_comma=decimal_comma)
        else:
            reader = reader_for(
                column, unit=units[meaning], decimal_comma=decimal_comma, has_counts=bool(headings.counts)
            )
        values[meaning] = list(map(reader.__getitem__, cells[meaning]))
    if Meaning.FLOOR in headings.columns and any(body.floors):
        values[Meaning.FLOOR] = [
            place if place != "" else floor for place, floor in zip(values[Meaning.FLOOR], body.floors, strict=True)
        ]
    for width, height, size in PAIRS:
        if size in headings.columns:
            values[width] = [value.width_in if isinstance(value, Size) else value for value in values[size]]
            values[height] = [value.height_in if isinstance(value, Size) else value for value in values[size]]
    return values


def _counts(values: _Values, body: Body, headings: Headings) -> Counts | None:
    if not headings.counts:
        return None
    total = headings.columns.get(Meaning.QUANTITY)
    return counts_of(
        [body.column(column.index) for column in headings.counts],
        headings.counts,
        places=values[Meaning.FLOOR],
        quantities=values[Meaning.QUANTITY] if total else [None] * len(body.rows),
        total=total,
    )


def _repeated(
    openings: Openings, values: _Values, body: Body, headings: Headings, notes: list[str], *, wrong: set[int]
) -> Iterator[_Found]:
    """Yield rows that contradict an earlier one of their mark, and give each mark one spelling."""
    mark, lines = headings.columns[Meaning.MARK].index, openings.of(body.lines)

    def said(place: int) -> Hashable:
        return tuple(cell for at, cell in enumerate(lines[place]) if at != mark)

    repeats = repeats_in(
        openings.marks,
        floors=openings.floors,
        rows=openings.of(body.rows),
        values={meaning: openings.of(values[meaning]) for meaning in ALIKE},
        unreadable={place for place, line in enumerate(openings.lines) if line in wrong} if wrong else set(),
        has_quantities=bool(headings.counts) or set(values[Meaning.QUANTITY]) != {1},
        said=said,
    )
    openings.marks = repeats.spelled
    notes.extend(repeats.notes)
    whole = {side: size for *pair, size in PAIRS for side in pair}
    for clash in repeats.clashes:
        meaning = clash.meaning if clash.meaning in headings.columns else whole[clash.meaning]
        yield openings.lines[clash.place], headings.columns[meaning], clash.detail


def _unreadable(values: _Values, headings: Headings) -> Iterator[_Found]:
    for meaning, column in headings.columns.items():
        if Wrong in set(map(type, values[meaning])):
            for line, value in enumerate(values[meaning]):
                if isinstance(value, Wrong):
                    yield line, column, value.detail


def _wrong_lines(wrong: set[int], body: Body, headings: Headings) -> Iterator[WrongLine]:
    columns = sorted([*headings.columns.values(), *headings.counts], key=lambda column: column.index)
    for line in sorted(wrong)[:MOST_WRONG_LINES]:
        cells = tuple((column.text, shown(body.lines[line][column.index])[:80]) for column in columns)
        yield WrongLine(row=body.rows[line], cells=cells)


def _fault(line: int, column: Column, detail: str, *, body: Body) -> Fault:
    row, cell = body.rows[line], body.lines[line][column.index]
    if isinstance(cell, Unread):
        detail = f"the cell {column.letter}{row} {cell.value}"
    return Fault(field=column.text, row=row, value=shown(cell), detail=detail)


def _rows(
    openings: Openings, values: _Values, body: Body, headings: Headings, *, without: set[int]
) -> Iterator[ScheduleRow]:
    texts = (Meaning.OPERATION, Meaning.DETAIL, Meaning.REMARKS)
    said = [meaning for meaning in headings.columns if meaning in FACTS]
    facts = facts_of(values, said) if said else [NO_FACTS] * len(body.rows)
    columns = [
        openings.of(column)
        for column in (body.rows, *(values[one] for one in (*_SIDES, *texts, Meaning.WEIGHT)), facts)
    ]
    lines = zip(openings.lines, openings.marks, openings.quantities, openings.floors, *columns, strict=True)
    for (
        line,
        mark,
        quantity,
        floor,
        row,
        ro_w,
        ro_h,
        unit_w,
        unit_h,
        operation,
        detail,
        remarks,
        weight_lb,
        fact,
    ) in lines:
        if line not in without:
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
                facts=fact,
            )
