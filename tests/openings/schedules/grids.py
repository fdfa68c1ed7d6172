"""Tables whose columns are known, so that a test is about their rows alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from openings.calc.tape import LengthUnit
from openings.schedules import Meaning
from openings.schedules.grid import Grid, Merge
from openings.schedules.headings.of_table import Column, Headings
from openings.schedules.headings.plain import Heading
from openings.schedules.layout import Marks
from openings.schedules.lines.table import TableRead, read_table

MARK, QTY = Meaning.MARK, Meaning.QUANTITY
RO_W, RO_H, RO = Meaning.RO_WIDTH, Meaning.RO_HEIGHT, Meaning.RO_SIZE
COUNT = Meaning.COUNT_ON_FLOOR


def rows(
    lines: Sequence[Sequence[Any]],
    *columns: Meaning | Heading,
    marks: Marks | None = None,
    unit: LengthUnit = "in",
    is_unit_stated: bool = False,
    last_line: int | None = None,
    merges: tuple[Merge, ...] = (),
    decimal_comma: bool = False,
    row_numbers: tuple[int, ...] = (),
) -> TableRead:
    """Return what stands in the lines beneath the first one, whose cells are the headings.

    Args:
        columns: what each column means, from the left.
    """
    width = max(map(len, lines))
    filled = [line if len(line) == width and None not in line else _filled(line, width) for line in lines]
    known = [
        Column(
            index=index,
            text=str(lines[0][index]),
            heading=column if isinstance(column, Heading) else Heading(meaning=column),
        )
        for index, column in enumerate(columns)
    ]
    return read_table(
        Grid(lines=filled, merges=merges, decimal_comma=decimal_comma, row_numbers=row_numbers),
        Headings(
            columns={column.heading.meaning: column for column in known if column.heading.meaning is not COUNT},
            counts=tuple(column for column in known if column.heading.meaning is COUNT),
            first_line=1,
            last_line=last_line,
            unit=unit,
            is_unit_stated=is_unit_stated,
            marks=marks,
            notes=(),
        ),
    )


def _filled(line: Sequence[Any], width: int) -> list[Any]:
    return [*("" if cell is None else cell for cell in line), *[""] * (width - len(line))]


def settled(meaning: Meaning, unit: str = "") -> Heading:
    return replace(Heading(meaning=meaning), unit=unit, is_settled=True)


def taken(read: TableRead) -> list[tuple[str, int]]:
    """Return marks and quantities, in order."""
    return [(row.mark, row.quantity) for row in read.rows]
