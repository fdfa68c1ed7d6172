"""The few looks that every cell of a workbook shares; black on white, readable at arm's length."""

from __future__ import annotations

from dataclasses import dataclass, replace
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
    PERSON_H = "labor hours"
    FACT = "fact"
    FACT_PERSON_H = "fact labor hours"
    FACT_DATE = "fact date"
    FACT_TIME = "fact time"
    TICK = "tick"
    WRITE_IN = "write in"
    GAP = "gap"
    ROLL_GROUP = "roll group"
    ROLL_TICK = "roll tick"
    ROLL = "roll"
    ROLL_CUTS = "roll cuts"
    PIECE = "piece"
    PIECE_UPRIGHT = "piece upright"
    KEPT = "kept"
    KEPT_UPRIGHT = "kept upright"
    SCRAP = "scrap"
    SCRAP_UPRIGHT = "scrap upright"


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How a style looks, and how tall its text stands."""

    size_pt: int = REGULAR_PT
    is_bold: bool = False
    align: str = "left"
    number_format: str = "General"
    fill: str | None = None
    pattern: str = "solid"
    rotation_deg: int = 0
    edge: str | None = "thin"
    wraps: bool = True

    def height_pt(self, text: str, *, width: float) -> int:
        """Return the height of a row that shows the text; viewers do not agree on fitting it themselves.

        Args:
            width: of the column, in digits of the regular font.
        """
        lines = self.line_count(text, width=width) if self.wraps else 1
        return min(ceil(lines * self.line_pt) + ROW_PADDING_PT, MOST_HEIGHT_PT)

    @property
    def line_pt(self) -> float:
        return self.size_pt * LINE_SPACING

    def is_wide_enough(self, text: str, *, width: float) -> bool:
        """Whether no word of the text is broken in a column of that width."""
        return all(self.line_count(word, width=width) == 1 for word in text.split())

    def line_count(self, text: str, *, width: float) -> int:
        """Return how many lines the text takes in a column of that width, in digits of the regular font."""
        return line_count(text, digits=self.digits(width))

    def digits(self, width: float) -> float:
        """Return how many of its digits fit side by side in a column of that width."""
        return (width - CELL_PADDING) * REGULAR_PT / self.size_pt * (BOLD_SHARE if self.is_bold else 1)

    def as_named_style(self, name: str) -> NamedStyle:
        side = Side(style=self.edge, color="000000") if self.edge else Side()
        return NamedStyle(
            name=name,
            font=Font(name=FONT, size=self.size_pt, bold=self.is_bold),
            fill=PatternFill(self.pattern, fgColor=self.fill) if self.fill else PatternFill(),
            border=Border(left=side, right=side, top=side, bottom=side),
            alignment=Alignment(
                horizontal=self.align,
                vertical="center",
                wrap_text=self.wraps,
                indent=self.align == "right",
                text_rotation=self.rotation_deg,
            ),
            number_format=self.number_format,
        )


_KEPT: Final = Look(size_pt=8, align="center")
_PIECE: Final = replace(_KEPT, fill="E6E6E6")
_SCRAP: Final = replace(_KEPT, fill="808080", pattern="lightUp")

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
    Style.FACT_PERSON_H: Look(size_pt=12, number_format='#,##0.00 "labor hours"'),
    Style.FACT_DATE: Look(size_pt=12, is_bold=True, number_format="[$-409]ddd, mmm d, yyyy"),
    Style.FACT_TIME: Look(number_format="[$-409]ddd, mmm d, yyyy h:mm AM/PM"),
    Style.TICK: Look(size_pt=16, align="center", wraps=False),
    Style.WRITE_IN: Look(size_pt=16, edge="medium"),
    Style.GAP: Look(size_pt=4, edge=None),
    Style.ROLL_GROUP: Look(size_pt=12, is_bold=True, fill="D9D9D9"),
    Style.ROLL_TICK: Look(size_pt=16, align="center", edge=None, wraps=False),
    Style.ROLL: Look(size_pt=12, is_bold=True, edge=None),
    Style.ROLL_CUTS: Look(size_pt=10, edge=None),
    Style.PIECE: _PIECE,
    Style.PIECE_UPRIGHT: replace(_PIECE, rotation_deg=90),
    Style.KEPT: _KEPT,
    Style.KEPT_UPRIGHT: replace(_KEPT, rotation_deg=90),
    Style.SCRAP: _SCRAP,
    Style.SCRAP_UPRIGHT: replace(_SCRAP, rotation_deg=90),
}


def add_styles(workbook: Workbook) -> None:
    """Make every `Style` known to the workbook under its own name."""
    # Column widths are counted in digits of the Normal style's font, so it must be the font of the cells.
    workbook._named_styles["Normal"].font = Font(name=FONT, size=REGULAR_PT)
    for style, look in LOOKS.items():
        workbook.add_named_style(look.as_named_style(style))
