"""Which side of a whole size stands first: asked where neither heading nor cell says and no such heading is known."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from openings.calc.tape import LengthUnit
from openings.errors import BadLength, BadSchedule
from openings.schedules.grid import Cell
from openings.schedules.headings.of_table import Headings
from openings.schedules.layout import WHOLE_SIZES, Meaning
from openings.schedules.lines.cells import point, read_sides, shown
from openings.schedules.rows import Question


def questions_of(
    headings: Headings, cells: Mapping[Meaning, Sequence[Cell]], units: Mapping[Meaning, LengthUnit], *, comma: bool
) -> Iterator[Question]:
    """Yield a question about each column whose sizes can have either side first.

    Args:
        comma: whether a comma between digits is a decimal point.
    """
    for meaning in sorted(WHOLE_SIZES & headings.columns.keys()):
        column = headings.columns[meaning]
        if column.heading.is_order_known:
            continue
        different = dict.fromkeys(cells[meaning])
        if text := next((shown(cell) for cell in different if _is_open(point(cell, comma), units[meaning])), ""):
            yield Question(
                field=f"columns.{column.letter}.height_first",
                heading=column.text,
                detail=f"“{column.text}” ({column.letter}) does not say which side of a size such as “{text}” stands "
                "first; false means the width, true the height. Which?",
                choices=("false", "true"),
            )


def _is_open(cell: Cell, unit: LengthUnit) -> bool:
    """Return whether a cell gives another size when it is read with its height first."""
    try:
        return read_sides(cell, unit=unit, height_first=False) != read_sides(cell, unit=unit, height_first=True)
    except (BadLength, BadSchedule):
        return False
