"""What to say of a file in which no table of windows is found."""

from __future__ import annotations

from collections.abc import Sequence

from openings.schedules.grid import Grid, column_letter
from openings.schedules.headings.of_table import NEEDED
from openings.schedules.headings.plain import read_heading
from openings.schedules.tables.blocks import MOST_COLUMNS, text_of
from openings.schedules.tables.heading_lines import SEARCHED_LINES
from openings.schedules.tables.table import row_number


def what_is_missing(grids: Sequence[Grid]) -> str:
    """Return the sentence that says which headings were looked for and what was found instead."""
    if not any(grid.lines for grid in grids):
        return f"There is nothing in the file, or nothing on a visible sheet. A schedule needs {NEEDED}."
    best: list[str] = []
    where = ""
    for grid in grids:
        for number, line in enumerate(grid.lines[:SEARCHED_LINES]):
            texts = {
                index: text
                for index, cell in enumerate(line[:MOST_COLUMNS])
                if (text := text_of(cell)) and read_heading(text)
            }
            if len(texts) > max(1, len(best)):
                best = [f"“{text}” ({column_letter(index)})" for index, text in texts.items()]
                where = f"Row {row_number(grid, number)}" + (f" of the sheet “{grid.name}”" if len(grids) > 1 else "")
    hint = "Head the columns so, or say in a mapping what each of them means."
    if not best:
        return f"No row of headings was found. A schedule needs {NEEDED}. {hint}"
    return f"{where} has the headings {', '.join(best)}, but a schedule needs {NEEDED}. {hint}"
