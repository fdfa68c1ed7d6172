"""A window schedule as an Excel workbook of one sheet."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from datetime import date
from decimal import Decimal
from io import BytesIO
from math import ceil
from typing import Any, Final

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.dimensions import RowDimension
from openpyxl.worksheet.page import PageMargins
from openpyxl.worksheet.worksheet import Worksheet

from jobs.calc.say import dated
from openings.schedules.written.fields import HEADINGS, Cell, WrittenOpening, columns_of, in_cell


def workbook_of(rows: Sequence[WrittenOpening], *, title: str, on: date) -> bytes:
    """Return the openings as the bytes of a workbook; see `schedule_xlsx`."""
    workbook = Workbook(write_only=True)
    workbook.properties.title = f"Window schedule: {title}"
    workbook.properties.creator = "Weatherlap"
    columns = columns_of(rows)
    lines = [[in_cell(getattr(row, name)) for name in columns] for row in rows]
    widths = [_width(HEADINGS[name], {line[place] for line in lines}) for place, name in enumerate(columns)]
    sheet = workbook.create_sheet("Windows")
    _lay_out(sheet, columns, widths, line_count=len(lines))
    _set_page(sheet, title=title, on=on, pages_wide=ceil(sum(widths) / _PAGE_WIDTH))
    _write(sheet, columns, lines, widths)
    packed = BytesIO()
    workbook.save(packed)
    return packed.getvalue()


_PAGE_WIDTH: Final = 190
"""Digits side by side on US Letter across, at a size that is still read."""
_LEAST_WIDTH, _MOST_WIDTH = 8, 42
_LETTERS: Final = 1.15
"""Of running text, where one digit of a width fits."""
_HEADING_LINES: Final = 3
_LINE_PT: Final = 15
_FONT: Final = "Arial"
_FORMATS: Final = {"person_h": "0.00", "crew_day": "yyyy-mm-dd"}
_NUMBERS: Final = ("_in", "_lb", "_psf", "_up", "quantity")
_UNWRITABLE: Final = re.compile("[\x00-\x08\x0b-\x1f\ud800-\udfff\ufffe\uffff]")
_LIKE_AN_ESCAPE: Final = re.compile(r"_(?=x[0-9A-F]{4}_)", re.IGNORECASE)
"""What a workbook would read as the number of a letter (ECMA-376 Part 1, 22.9.2.19 ST_Xstring)."""


def _width(heading: str, values: Iterable[object]) -> float:
    """Return the width of a column in digits: that of its longest value, or of the heading over three lines."""
    longest = max((len(str(value)) for value in values if value is not None), default=0)
    words = max(map(len, heading.split()))
    return min(max(_LEAST_WIDTH, longest + 2, words + 3, len(heading) / _HEADING_LINES + 5), _MOST_WIDTH)


def _lay_out(sheet: Any, columns: Sequence[str], widths: Sequence[float], *, line_count: int) -> None:
    last = get_column_letter(len(columns))
    for place, (name, width) in enumerate(zip(columns, widths, strict=True), 1):
        dimension = sheet.column_dimensions[get_column_letter(place)]
        dimension.width = width
        dimension.number_format = _format(name)  # so that a mark such as 1-2 in a new line is no date
    sheet.row_dimensions[1] = dict(RowDimension(sheet, ht=_HEADING_LINES * _LINE_PT))
    sheet.freeze_panes = "B2"
    sheet.auto_filter.ref = f"A1:{last}{line_count + 1}"
    sheet.print_title_rows, sheet.print_title_cols = "1:1", "A:A"


def _set_page(sheet: Any, *, title: str, on: date, pages_wide: int) -> None:
    page = sheet.page_setup
    page.paperSize, page.orientation = Worksheet.PAPERSIZE_LETTER, Worksheet.ORIENTATION_LANDSCAPE
    page.fitToWidth, page.fitToHeight = pages_wide, 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.print_options.gridLines = True
    sheet.page_margins = PageMargins(left=0.3, right=0.3, top=0.7, bottom=0.6, header=0.3, footer=0.3)
    sheet.oddHeader.left.text = f"Window schedule: {title}".replace("&", "&&")
    sheet.oddHeader.right.text = f"As of {dated(on)}"
    sheet.oddFooter.left.text = "Width before height, seen from outside"
    sheet.oddFooter.right.text = "Page &P of &N"


def _write(sheet: Any, columns: Sequence[str], lines: Iterable[Sequence[Cell]], widths: Sequence[float]) -> None:
    heading = _pen(sheet, "@", is_heading=True)
    sheet.append(heading(HEADINGS[name]) for name in columns)
    pens = [_pen(sheet, _format(name)) for name in columns]
    for number, line in enumerate(lines, 2):
        # Said, since not every program fits the height of a row to its text.
        texts = [(cell, width) for cell, width in zip(line, widths, strict=True) if isinstance(cell, str)]
        if (height := max(ceil(len(text) / width / _LETTERS) for text, width in texts)) > 1:
            sheet.row_dimensions[number] = dict(RowDimension(sheet, ht=height * _LINE_PT))
        sheet.append([None if cell is None else pen(cell) for pen, cell in zip(pens, line, strict=True)])


def _format(name: str) -> str:
    return _FORMATS.get(name) or ("General" if name.endswith(_NUMBERS) and name != "lites_in" else "@")


def _pen(sheet: Any, number_format: str, *, is_heading: bool = False) -> Callable[[Any], WriteOnlyCell]:
    """Return a function that fills the one cell of a column, which holds its value until the next call."""
    cell = WriteOnlyCell(sheet)
    cell.font = Font(name=_FONT, size=10, bold=is_heading)
    cell.number_format = number_format
    cell.alignment = _alignment(is_heading=is_heading, is_text=number_format == "@")
    if is_heading:
        cell.fill = PatternFill("solid", fgColor="D9D9D9")

    def fill(value: Any) -> WriteOnlyCell:
        if isinstance(value, str):
            cell.value = _LIKE_AN_ESCAPE.sub("_x005F_", _UNWRITABLE.sub("\ufffd", value))
            cell.data_type = "s"
        else:
            cell.value = float(value) if isinstance(value, Decimal) else value
        return cell

    return fill


def _alignment(*, is_heading: bool, is_text: bool) -> Alignment:
    if is_heading:
        return Alignment(vertical="center", wrap_text=True)
    return (
        Alignment(vertical="top", wrap_text=True)
        if is_text
        else Alignment(horizontal="right", vertical="top", indent=1)
    )
