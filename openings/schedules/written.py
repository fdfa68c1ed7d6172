"""The openings of a job → a window schedule with their status, as .xlsx or .csv that `read_schedule` takes back."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from io import BytesIO, StringIO
from math import ceil
from typing import Any, Final

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.dimensions import RowDimension
from openpyxl.worksheet.page import PageMargins
from openpyxl.worksheet.worksheet import Worksheet

from openings.calc.figures import plain

ALWAYS: Final = {
    "mark": "Opening mark",
    "quantity": "Quantity",
    "ro_width_in": "RO width (in)",
    "ro_height_in": "RO height (in)",
    "unit_width_in": "Unit width (in)",
    "unit_height_in": "Unit height (in)",
    "operation": "Operation",
    "floor": "Floor",
    "detail": "Detail",
    "weight_lb": "Weight (lb)",
}
WHERE_SAID: Final = {
    "frame_material": "Frame material",
    "lites_in": "Lites (in)",
    "design_pressure_psf": "Design pressure (psf)",
    "access": "Access",
    "storeys_up": "Storeys up",
    "sill_above_floor_in": "Sill above floor (in)",
    "sill_above_grade_in": "Sill above grade (in)",
    "clear_width_in": "Clear width (in)",
    "clear_height_in": "Clear height (in)",
    "clear_sill_above_floor_in": "Clear sill above floor (in)",
    "pane_width_in": "Pane width (in)",
    "pane_height_in": "Pane height (in)",
    "is_egress": "Egress",
    "is_grade_floor": "Grade floor",
    "is_near_door": "Near door",
    "is_near_walkway": "Near walkway",
    "is_wet_area": "Wet area",
    "remarks": "Remarks",
}
"""Columns that are left out where no opening has anything to say in them."""

ONLY_WRITTEN: Final = {
    "status": "Status",
    "crew": "Crew",
    "crew_day": "Crew day",
    "person_h": "Hours planned",
    "holds": "Holds",
}
"""What the reader passes over: it comes from the work, not from a schedule."""

HEADINGS: Final = ALWAYS | WHERE_SAID | ONLY_WRITTEN
"""Every heading that is written, by the field of `WrittenOpening`, in the order of the columns."""

Cell = str | int | Decimal | date | None
Value = str | int | bool | Decimal | date | tuple[Decimal, ...] | tuple[str, ...] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenOpening:
    """One opening as its schedule says it, and where it stands; named as the columns of an opening.

    Args:
        crew, crew_day, person_h: of its live assignment, if it has one.
        holds: the kinds of its open holds.
    """

    mark: str
    quantity: int = 1
    ro_width_in: Decimal
    ro_height_in: Decimal
    unit_width_in: Decimal
    unit_height_in: Decimal
    operation: str = ""
    floor: str = ""
    detail: str = ""
    weight_lb: Decimal | None = None
    frame_material: str = ""
    lites_in: tuple[Decimal, ...] = ()
    design_pressure_psf: Decimal | None = None
    access: str = "clear"
    storeys_up: int = 0
    sill_above_floor_in: Decimal | None = None
    sill_above_grade_in: Decimal | None = None
    clear_width_in: Decimal | None = None
    clear_height_in: Decimal | None = None
    clear_sill_above_floor_in: Decimal | None = None
    pane_width_in: Decimal | None = None
    pane_height_in: Decimal | None = None
    is_egress: bool | None = None
    is_grade_floor: bool | None = None
    is_near_door: bool | None = None
    is_near_walkway: bool | None = None
    is_wet_area: bool | None = None
    remarks: str = ""
    status: str = ""
    crew: str = ""
    crew_day: date | None = None
    person_h: Decimal | None = None
    holds: tuple[str, ...] = ()


def schedule_csv(rows: Sequence[WrittenOpening]) -> bytes:
    """Return the openings as comma-separated text: UTF-8 with a byte-order mark, one line an opening.

    A text that a spreadsheet program would take for a formula, a date or a number gets a tab before it: the
    program then shows it as it is, and our reader drops the tab as it drops every blank around a cell.

    Source:
        RFC 4180: quotation marks, line ends. The tab: common practice, no source.
    """
    columns = _columns(rows)
    text = StringIO()
    lines = csv.writer(text, lineterminator="\r\n")
    lines.writerow(HEADINGS[name] for name in columns)
    lines.writerows([_in_text(getattr(row, name)) for name in columns] for row in rows)
    return text.getvalue().encode("utf-8-sig")


def schedule_xlsx(rows: Sequence[WrittenOpening], *, title: str, on: date) -> bytes:
    """Return the openings as an Excel workbook of one sheet, headings in its first row.

    Numbers and dates are written as such; text stays text whatever it begins with, also when it is edited. What
    no cell can hold (control characters) becomes U+FFFD. Title and day stand in the header of the page and not in
    a cell, where the reader might find a floor in them.

    Args:
        title: of the page.
        on: day that the status is of.
    """
    workbook = Workbook(write_only=True)
    workbook.properties.title = f"Window schedule: {title}"
    workbook.properties.creator = "Weatherlap"
    columns = _columns(rows)
    lines = [[_in_cell(getattr(row, name)) for name in columns] for row in rows]
    widths = [_width(HEADINGS[name], {line[place] for line in lines}) for place, name in enumerate(columns)]
    sheet = workbook.create_sheet("Windows")
    _lay_out(sheet, columns, widths, line_count=len(lines))
    _set_page(sheet, title=title, on=on, pages_wide=ceil(sum(widths) / _PAGE_WIDTH))
    _write(sheet, columns, lines, widths)
    packed = BytesIO()
    workbook.save(packed)
    return packed.getvalue()


def _columns(rows: Iterable[WrittenOpening]) -> list[str]:
    """Return the fields to write: of `WHERE_SAID` only those that some opening says something in."""
    left = dict.fromkeys(WHERE_SAID)
    for row in rows:
        for name in [name for name in left if getattr(row, name) not in _UNSAID.get(name, _NOTHING)]:
            del left[name]
    return [name for name in HEADINGS if name not in left]


_NOTHING: Final[tuple[Value, ...]] = (None, "", ())
_UNSAID: Final[dict[str, tuple[Value, ...]]] = {"access": ("clear",), "storeys_up": (0,)}


def _in_cell(value: Value) -> Cell:
    """Return what stands in a cell: text, a number, a date, or nothing."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return _listed(value)
    return value if value != "" else None


def _in_text(value: Value) -> str:
    """Return the characters of a cell of a .csv."""
    if isinstance(value, str):
        return f"\t{value}" if _TAKEN_FOR_ELSE.match(value) and not _WHOLE_NUMBER.fullmatch(value) else value
    cell = _in_cell(value)
    if isinstance(cell, Decimal):
        return plain(cell)
    return "" if cell is None else str(cell)


def _listed(values: tuple[Any, ...]) -> str | None:
    """Return lites as a sum, outside first, and kinds of holds as a list."""
    return (" + " if isinstance(values[0], Decimal) else ", ").join(map(plain, values)) if values else None


_TAKEN_FOR_ELSE: Final = re.compile(
    r"[=+\-@\N{FULLWIDTH EQUALS SIGN}\N{FULLWIDTH PLUS SIGN}\N{FULLWIDTH HYPHEN-MINUS}\N{FULLWIDTH COMMERCIAL AT}]"
    r"|[\d.(]|(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*[\s.,/-]*\d|(?:true|false)$",
    re.IGNORECASE,
)
"""How formulas, numbers, dates and truth values begin in spreadsheet programs: common practice, no source."""

_WHOLE_NUMBER: Final = re.compile(r"0|[1-9]\d{0,14}", re.ASCII)
"""What is the same text again once it was a number."""

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
    sheet.oddHeader.right.text = f"As of {on:%B} {on.day}, {on.year}"
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
    """Return what fills the one cell of a column, which holds its value until the next call."""
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
