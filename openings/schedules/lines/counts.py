"""Columns that count the openings of one floor each."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from openings.errors import BadSchedule
from openings.schedules.grid import Cell
from openings.schedules.headings.of_table import Column
from openings.schedules.lines.cells import (
    MAX_QUANTITY,
    MAX_TEXT_LETTERS,
    CellReader,
    Wrong,
    is_none_given,
    read_text,
    refuse_date,
)

Counted = tuple[tuple[str, int], ...]
"""Floors with at least one opening, and how many."""


@dataclass(frozen=True, slots=True)
class Counts:
    """How many openings each line has on each floor, and which cells are wrong."""

    lines: list[Counted] = field(default_factory=list)
    wrong: list[tuple[int, Column, str]] = field(default_factory=list)

    def sums(self) -> list[int]:
        return [sum(count for _, count in floors) for floors in self.lines]


def counts_of(
    cells: Sequence[Sequence[Cell]],
    columns: Sequence[Column],
    *,
    places: Sequence[Any],
    quantities: Sequence[Any],
    total: Column | None,
) -> Counts:
    """Return the counts of each line.

    Args:
        cells: of each column of counts, line by line.
        places: where in the building each line is besides; stands before the floor.
        quantities: what the column of totals says of each line; None where it says nothing.
        total: that column, if there is one.
    """
    found = Counts()
    reader = CellReader(read_count)
    names = [column.heading.floor or column.text for column in columns]
    for line, (place, quantity, *counted) in enumerate(zip(places, quantities, *cells, strict=True)):
        values = [reader[cell] for cell in counted]
        wrong = [
            (line, column, value.detail)
            for column, value in zip(columns, values, strict=True)
            if isinstance(value, Wrong)
        ]
        before = f"{place}, " if place and isinstance(place, str) else ""
        floors = tuple(
            (f"{before}{name}"[:MAX_TEXT_LETTERS], value)
            for name, value in zip(names, values, strict=True)
            if isinstance(value, int) and value
        )
        found.lines.append(floors)
        found.wrong.extend(wrong)
        count = sum(value for _, value in floors)
        if not wrong and not floors:
            filled = f"; the total of {quantity} does not say where they are" if isinstance(quantity, int) else ""
            found.wrong.append(
                (line, columns[0], f"the row counts no opening on any floor{filled}; fill in its counts")
            )
        elif not wrong and total and isinstance(quantity, int) and quantity != count:
            adds = " + ".join(str(value) for _, value in floors)
            sentence = f"the total is {quantity}, but the floors add up to {count} ({adds}); correct one of them"
            found.wrong.append((line, total, sentence))
    return found


def read_count(cell: Cell) -> int:
    """Return how many openings a floor has; blank is none.

    Raises:
        BadSchedule: it is no whole number from 0 to 999.
    """
    if is_none_given(cell):
        return 0
    refuse_date(cell, example="2")
    text = read_text(cell)
    if not re.fullmatch(r"\d{1,9}", text, re.ASCII) or int(text) > MAX_QUANTITY:
        raise BadSchedule(f"the count must be a whole number from 0 to {MAX_QUANTITY}, or blank for none")
    return int(text)
