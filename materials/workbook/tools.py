"""The sheet of what is carried along beside the draw, and of how strips are held."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from openpyxl import Workbook

from materials.workbook.rows import HeldRow, ToolRow
from materials.workbook.sheet import Sheet, Span
from materials.workbook.styles import Style
from materials.workbook.tables import TOOLS

_PART_COLUMNS: Final = 2


def write_tools(
    workbook: Workbook, *, heading: str, footer: str, tools: Sequence[ToolRow], held: Sequence[HeldRow]
) -> None:
    """Write tools and small supplies, and below them how each strip is held."""
    sheet = Sheet(workbook, title="Tools", footer=footer, widths=[column.width for column in TOOLS], head_count=2)
    sheet.write((Style.TITLE, heading))
    sheet.write(*((Style.HEADING, column.heading) for column in TOOLS))
    sheet.write_rows(TOOLS, tools)
    if not tools:
        sheet.write((Style.TITLE, "Nothing to carry along."))
    if held:
        sheet.write((Style.GAP, None))
        sheet.write((Style.TITLE, "How strips are held"))
    for row in held:
        rest = len(TOOLS) - _PART_COLUMNS
        sheet.write_spans(Span(Style.STRONG, row.part, _PART_COLUMNS), Span(Style.TEXT, row.said, rest))
    sheet.print_only(len(TOOLS))
