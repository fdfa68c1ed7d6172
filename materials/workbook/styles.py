"""The few looks that every cell of a workbook shares; black on white, readable at arm's length."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import ceil
from typing import Final

from openpyxl import Workbook
from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Side

from materials.workbook.fitting import line_count

FONT: Final = "Arial"
REGULAR_PT: Final = 11
BOLD_SHARE: Final = 0.92
"""What fits of bold letters where one regular letter fits."""
CELL_PADDING: Final = 0.7
"""Of a cell's width, in digits, what its text cannot use."""
LINE_SPACING: Final = 1.22
ROW_PADDING_PT: Final = 3
MOST_HEIGHT_PT: Final = 409
"""A row of a worksheet is not taller."""


class Style(StrEnum):
    """What a cell is for. None may bear the name of a style that comes with the program, in any case."""

    TITLE = "sheet title"
    HEADING = "heading"
    STRONG = "strong"
    TEXT = "text"
    COUNT = "count"
    EXACT = "exact"
    INCHES = "inches"
    PERSON_H = "person-hours"
    FACT = "fact"
    FACT_PERSON_H = "fact person-hours"
    FACT_DATE = "fact date"
    FACT_TIME = "fact time"
    TICK = "tick"
    WRITE_IN = "write in"
    GAP = "gap"


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How a style looks, and how tall its text stands."""

    size_pt: int = REGULAR_PT
    is_bold: bool = False
    align: str = "left"
    number_format: str = "General"
    fill: str | None = None
    edge: str | None = "thin"
    wraps: bool = True

    def height_pt(self, text: str, *, width: int) -> int:
        """Return the height of a row that shows the text; viewers do not agree on fitting it themselves.

        Args:
            width: of the column, in digits of the regular font.
        """
        digits = (width - CELL_PADDING) * REGULAR_PT / self.size_pt * (BOLD_SHARE if self.is_bold else 1)
        lines = line_count(text, digits=digits) if self.wraps else 1
        return min(ceil(lines * self.size_pt * LINE_SPACING) + ROW_PADDING_PT, MOST_HEIGHT_PT)

    def as_named_style(self, name: str) -> NamedStyle:
        side = Side(style=self.edge, color="000000") if self.edge else Side()
        return NamedStyle(
            name=name,
            font=Font(name=FONT, size=self.size_pt, bold=self.is_bold),
            fill=PatternFill("solid", fgColor=self.fill) if self.fill else PatternFill(),
            border=Border(left=side, right=side, top=side, bottom=side),
            alignment=Alignment(
                horizontal=self.align, vertical="center", wrap_text=self.wraps, indent=self.align == "right"
            ),
            number_format=self.number_format,
        )


LOOKS: Final = {
    Style.TITLE: Look(size_pt=14, is_bold=True, edge=None, wraps=False),
    Style.HEADING: Look(is_bold=True, fill="D9D9D9", edge="medium"),
    Style.STRONG: Look(size_pt=12, is_bold=True),
    Style.TEXT: Look(),
    Style.COUNT: Look(size_pt=12, is_bold=True, align="center", number_format='#,##0;-#,##0;"–"', wraps=False),
    Style.EXACT: Look(align="right", wraps=False),
    Style.INCHES: Look(align="right", number_format="#,##0.00###", wraps=False),
    Style.PERSON_H: Look(align="right", number_format="#,##0.00", wraps=False),
    Style.FACT: Look(size_pt=12, is_bold=True),
    Style.FACT_PERSON_H: Look(size_pt=12, number_format='#,##0.00 "person-hours"'),
    Style.FACT_DATE: Look(size_pt=12, is_bold=True, number_format="[$-409]dddd, mmmm d, yyyy"),
    Style.FACT_TIME: Look(number_format="[$-409]mmmm d, yyyy h:mm AM/PM"),
    Style.TICK: Look(size_pt=16, align="center", wraps=False),
    Style.WRITE_IN: Look(size_pt=16, edge="medium"),
    Style.GAP: Look(size_pt=4, edge=None),
}


def add_styles(workbook: Workbook) -> None:
    """Make every `Style` known to the workbook under its own name."""
    # Column widths are counted in digits of the Normal style's font, so it must be the font of the cells.
    workbook._named_styles["Normal"].font = Font(name=FONT, size=REGULAR_PT)
    for style, look in LOOKS.items():
        workbook.add_named_style(look.as_named_style(style))
