"""The unit that a sheet states for all its dimensions, above a table or in a legend beneath it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from openings.calc.tape import LengthUnit
from openings.schedules.grid import Cell
from openings.schedules.headings.plain import length_unit, unit_named, without_unit
from openings.schedules.tables.blocks import text_of
from openings.schedules.tables.table import Table

MOST_LINES = 60
"""How far above and beneath a table such a line is looked for."""

_MOST_CELLS_OF_LEGEND = 2
_UNIT = (
    r"(feet(?:[ -]*+(?:and|&))?[ -]*+inch(?:es)?|mm|millimet(?:er|re)s?|cm|centimet(?:er|re)s?|inch(?:es)?|feet"
    r"|met(?:er|re)s)\b"
)
_STATED = re.compile(
    rf"\b(?:dimensions?|dims?|sizes?|measurements?|units?|openings?|figures)\b[^.;\d]{{0,60}}?"
    rf"(?:\b(?:in|are|is)\s+|[:=(\[]\s*){_UNIT}",
    re.IGNORECASE,
)
_ALONE = re.compile(rf"(?:in\s+|\(|\[)?{_UNIT}[)\]]?", re.IGNORECASE)


def stated_unit(above: Iterable[Sequence[Cell]], beneath: Iterable[Sequence[Cell]]) -> tuple[LengthUnit, str] | None:
    """Return the unit that a line states for all dimensions and that line, or None.

    Args:
        above: the lines above a table.
        beneath: its last lines and those beneath it; only those of a cell or two can be a legend.
    """
    legend = (line for line in beneath if sum(1 for cell in line if cell != "") <= _MOST_CELLS_OF_LEGEND)
    texts = [(text, True) for line in above for cell in line if (text := text_of(cell))]
    texts += [(text, False) for line in legend for cell in line if (text := text_of(cell))]
    for text, is_above in texts:
        stated = _STATED.search(text) or (_ALONE.fullmatch(text) if is_above else None)
        named = unit_named(stated[1]) if stated else _in_brackets(text)
        if unit := length_unit(named):
            return unit, text
    return None


def unit_stated_for(table: Table) -> tuple[LengthUnit | None, str]:
    """Return the unit that is stated above or beneath a table and the text that says so, or None and nothing."""
    lines, columns = table.grid.lines, table.columns
    last = len(lines) if table.last_line is None else table.last_line
    above = lines[max(0, table.block.top - MOST_LINES) : max(0, table.block.top)]
    beneath = lines[max(table.block.bottom, last - MOST_LINES) : last]
    if columns is not None:
        beneath = [line[columns.start : columns.stop] for line in beneath]
    return stated_unit(above, beneath) or (None, "")


def _in_brackets(text: str) -> str:
    """Return the unit in brackets behind a title such as Window schedule (mm)."""
    folded = text.casefold()
    behind = folded.partition("schedule")[2]
    return without_unit(folded)[1] if "(" in behind or "[" in behind else ""
