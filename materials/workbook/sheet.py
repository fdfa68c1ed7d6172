"""Writing one worksheet: cells that stay what they are, tables, and the page they print on."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cached_property
from itertools import repeat
from typing import Any, Final, Generic, NamedTuple, TypeVar

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.cell_range import CellRange
from openpyxl.worksheet.dimensions import RowDimension
from openpyxl.worksheet.page import PageMargins
from openpyxl.worksheet.worksheet import Worksheet

from materials.workbook.styles import LOOKS, Style

Value = str | int | Decimal | date | None
Row = TypeVar("Row")

_READ_AS_FORMULA: Final = ("=", "+", "-", "@")
_UNWRITABLE: Final = re.compile("\r\n?|[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")


@dataclass(frozen=True, slots=True)
class Column(Generic[Row]):
    """One column of a table: heading, width in characters, look, and what stands in it for a row.

    A column that is not printed serves those who compute in the workbook; it stands right of the others.
    """

    heading: str
    width: int
    style: Style
    value: Callable[[Row], Value]
    is_printed: bool = True


class Span(NamedTuple):
    """A value in a cell that covers so many columns."""

    style: Style
    value: Value
    columns: int


class Pen:
    """Writes the values of one column in one style: its cell is built once and filled anew for each line."""

    def __init__(self, sheet: Any, *, style: Style, width: float) -> None:
        self._sheet = sheet
        self._style = style
        self._width = width
        self._look = LOOKS[style]
        self._heights_pt: dict[str, int] = {}
        self._line_pt = self._look.height_pt("", width=width)
        self._cell = self._build_cell()

    def height_pt(self, value: Value) -> int:
        """Return the height of a line that shows the value."""
        if not isinstance(value, str):
            return self._line_pt
        if value not in self._heights_pt:
            self._heights_pt[value] = self._look.height_pt(value, width=self._width)
        return self._heights_pt[value]

    def fill(self, value: Value) -> WriteOnlyCell:
        """Return a cell that holds the value until the next call; text stays text whatever it begins with."""
        if isinstance(value, str):
            return self._fill_text(value) if value else self.fill(None)
        self._cell.value = float(value) if isinstance(value, Decimal) else value
        return self._cell

    def fill_over(self, value: Value, columns: int) -> Iterator[WriteOnlyCell | None]:
        """Yield the cells of so many columns, the first with the value, for one that covers them all."""
        yield self.fill(value)
        yield from repeat(self._covered_cell, columns - 1)

    def _fill_text(self, text: str) -> WriteOnlyCell:
        cell = self._guarded_cell if text.startswith(_READ_AS_FORMULA) else self._cell
        cell.value = _UNWRITABLE.sub(_writable, text)
        cell.data_type = "s"
        return cell

    @cached_property
    def _guarded_cell(self) -> WriteOnlyCell:
        cell = self._build_cell()
        cell.quotePrefix = True
        return cell

    @cached_property
    def _covered_cell(self) -> WriteOnlyCell | None:
        """A cell under another: programs draw the edges of the whole from the edges of its cells."""
        return self._build_cell() if self._look.edge or self._look.fill else None

    def _build_cell(self) -> WriteOnlyCell:
        cell = WriteOnlyCell(self._sheet)
        cell.style = self._style
        return cell


class Sheet:
    """One worksheet of a write-only workbook, on US Letter, one page wide.

    Args:
        widths: of the columns, in characters.
        head_count: how many of the first lines stay in sight and are printed on every page.
    """

    def __init__(
        self,
        workbook: Workbook,
        *,
        title: str,
        footer: str,
        widths: Sequence[float],
        head_count: int,
        is_landscape: bool = False,
    ) -> None:
        self._sheet: Any = workbook.create_sheet(title)
        self._widths = widths
        self._line = 0
        self._pens: dict[tuple[int, Style, float], Pen] = {}
        self._row_attributes: dict[int, dict[str, str]] = {}
        self._set_columns(head_count)
        self._set_page(is_landscape=is_landscape)
        self._set_footer(footer)

    def write(self, *cells: tuple[Style, Value]) -> None:
        """Write the next line."""
        self._write_line(cells, self._widths)

    def write_pair(self, label: tuple[Style, Value], fact: tuple[Style, Value]) -> None:
        """Write the next line as two cells, the second over all the columns that are left."""
        label_width, *widths = self._widths
        covered = [(fact[0], None)] * (len(widths) - 1)
        self._write_line([label, fact, *covered], [label_width, sum(widths), *widths[1:]])
        self._merge(2, len(self._widths))

    def write_spans(self, *spans: Span, height_pt: int = 0) -> None:
        """Write the next line from its first column on, each value in a cell that covers its columns.

        Args:
            height_pt: of the line; 0 for as tall as its text.
        """
        pens, end = [], 0
        self._line += 1
        for span in spans:
            start, end = end, end + span.columns
            pens.append(self._pen(0, span.style, sum(self._widths[start:end])))
            if span.columns > 1:
                self._merge(start + 1, end)
        self._set_height(height_pt or max(pen.height_pt(span.value) for pen, span in zip(pens, spans, strict=True)))
        # A generator, of which each cell is written before the next is filled: a pen may come twice in a line.
        self._sheet.append(
            cell for pen, span in zip(pens, spans, strict=True) for cell in pen.fill_over(span.value, span.columns)
        )

    def write_rows(self, columns: Sequence[Column[Row]], rows: Sequence[Row]) -> None:
        """Write a line for each row."""
        pens = [Pen(self._sheet, style=column.style, width=column.width) for column in columns]
        values = [column.value for column in columns]
        for row in rows:
            self._append(pens, [value(row) for value in values])

    def print_only(self, column_count: int) -> None:
        """Print what has been written in the first columns, and no others."""
        self._sheet.print_area = f"A1:{get_column_letter(column_count)}{self._line}"

    def _write_line(self, cells: Sequence[tuple[Style, Value]], widths: Sequence[float]) -> None:
        places = [(place, style, width) for place, ((style, _), width) in enumerate(zip(cells, widths, strict=False))]
        self._append([self._pen(*place) for place in places], [value for _, value in cells])

    def _pen(self, place: int, style: Style, width: float) -> Pen:
        key = place, style, width
        if key not in self._pens:
            self._pens[key] = Pen(self._sheet, style=style, width=width)
        return self._pens[key]

    def _append(self, pens: Sequence[Pen], values: Sequence[Value]) -> None:
        self._line += 1
        self._set_height(max(map(Pen.height_pt, pens, values)))
        self._sheet.append(list(map(Pen.fill, pens, values)))

    def _merge(self, first: int, last: int) -> None:
        place = CellRange(min_col=first, min_row=self._line, max_col=last, max_row=self._line)
        # Not `merged_cells.add`, which looks through all ranges before it adds one.
        self._sheet.merged_cells.ranges.add(place)

    def _set_height(self, height_pt: int) -> None:
        if height_pt not in self._row_attributes:
            self._row_attributes[height_pt] = dict(RowDimension(self._sheet, ht=height_pt))
        self._sheet.row_dimensions[self._line] = self._row_attributes[height_pt]

    def _set_columns(self, head_count: int) -> None:
        for index, width in enumerate(self._widths, 1):
            self._sheet.column_dimensions[get_column_letter(index)].width = width
        self._sheet.freeze_panes = f"A{head_count + 1}"
        self._sheet.print_title_rows = f"1:{head_count}"

    def _set_page(self, *, is_landscape: bool) -> None:
        page = self._sheet.page_setup
        page.paperSize = Worksheet.PAPERSIZE_LETTER
        page.orientation = Worksheet.ORIENTATION_LANDSCAPE if is_landscape else Worksheet.ORIENTATION_PORTRAIT
        page.fitToWidth, page.fitToHeight = 1, 0
        self._sheet.sheet_properties.pageSetUpPr.fitToPage = True
        self._sheet.page_margins = PageMargins(left=0.3, right=0.3, top=0.4, bottom=0.6, header=0.3, footer=0.3)

    def _set_footer(self, text: str) -> None:
        footer = self._sheet.HeaderFooter.oddFooter
        footer.left.text = text.replace("&", "&&")
        footer.center.text = "&A"
        footer.right.text = "Page &P of &N"


def write_table(
    workbook: Workbook,
    *,
    title: str,
    heading: str,
    footer: str,
    columns: Sequence[Column[Row]],
    rows: Sequence[Row],
    when_empty: str,
    is_landscape: bool = False,
) -> None:
    """Write a worksheet that is one table; where there are no rows, one line says so."""
    sheet = Sheet(
        workbook,
        title=title,
        footer=footer,
        widths=[column.width for column in columns],
        head_count=2,
        is_landscape=is_landscape,
    )
    sheet.write((Style.TITLE, heading))
    sheet.write(*((Style.HEADING, column.heading) for column in columns))
    sheet.write_rows(columns, rows)
    if not rows:
        sheet.write((Style.TITLE, when_empty))
    sheet.print_only(sum(column.is_printed for column in columns))


def _writable(found: re.Match[str]) -> str:
    return "\n" if found[0].startswith("\r") else "\ufffd"
