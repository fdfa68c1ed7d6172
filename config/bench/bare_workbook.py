"""A finished workbook written again by openpyxl alone: the same cells and print layout, and nothing else."""

from __future__ import annotations

from copy import copy
from dataclasses import dataclass
from io import BytesIO
from typing import Any

from openpyxl import Workbook, load_workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import NamedStyle
from openpyxl.worksheet.worksheet import Worksheet

STYLE_PARTS = ("font", "fill", "border", "alignment", "number_format")


@dataclass(frozen=True, slots=True, kw_only=True)
class BareSheet:
    """One worksheet: its cells as (value, style name), and how it prints."""

    title: str
    rows: list[list[tuple[Any, str]]]
    widths: dict[str, float]
    heights: dict[int, float]
    freeze_panes: str
    print_title_rows: str
    print_area: str
    merged: list[str]
    orientation: str
    footer: list[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class BareBook:
    """What `write` needs and nothing more."""

    styles: dict[str, dict[str, Any]]
    sheets: list[BareSheet]


def read(content: bytes) -> BareBook:
    """Return the cells, styles and print layout of a workbook."""
    book = load_workbook(BytesIO(content))
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.style != "Normal"]
    styles = {cell.style: {part: copy(getattr(cell, part)) for part in STYLE_PARTS} for cell in cells}
    return BareBook(styles=styles, sheets=[_read_sheet(sheet) for sheet in book])


def _read_sheet(sheet: Any) -> BareSheet:
    footer = sheet.oddFooter
    return BareSheet(
        title=sheet.title,
        rows=[[(cell.value, cell.style) for cell in row] for row in sheet.iter_rows()],
        widths={letter: column.width for letter, column in sheet.column_dimensions.items()},
        heights={number: row.height for number, row in sheet.row_dimensions.items()},
        freeze_panes=sheet.freeze_panes,
        print_title_rows=sheet.print_title_rows.replace("$", ""),
        print_area=(sheet.print_area or "").rpartition("!")[2].replace("$", ""),
        merged=sorted(map(str, sheet.merged_cells.ranges)),
        orientation=sheet.page_setup.orientation,
        footer=[footer.left.text, footer.center.text, footer.right.text],
    )


def write(bare: BareBook) -> bytes:
    """Return the workbook, written with one shared style a look."""
    book = Workbook(write_only=True)
    for name, parts in bare.styles.items():
        book.add_named_style(NamedStyle(name=name, **parts))
    for sheet in bare.sheets:
        _write_sheet(book, sheet, bare.styles)
    buffer = BytesIO()
    book.save(buffer)
    return buffer.getvalue()


def _write_sheet(book: Workbook, bare: BareSheet, styles: dict[str, dict[str, Any]]) -> None:
    sheet = book.create_sheet(bare.title)
    _lay_out(sheet, bare)
    shared = {}
    for name in styles:
        cell = WriteOnlyCell(sheet)
        cell.style = name
        shared[name] = cell._style
    for row in bare.rows:
        sheet.append([_cell(sheet, value, shared.get(name)) for value, name in row])


def _lay_out(sheet: Any, bare: BareSheet) -> None:
    for letter, width in bare.widths.items():
        sheet.column_dimensions[letter].width = width
    for number, height in bare.heights.items():
        sheet.row_dimensions[number].height = height
    sheet.freeze_panes, sheet.print_title_rows = bare.freeze_panes, bare.print_title_rows
    if bare.print_area:
        sheet.print_area = bare.print_area
    for merged in bare.merged:
        sheet.merged_cells.add(merged)
    sheet.page_setup.orientation, sheet.page_setup.paperSize = bare.orientation, Worksheet.PAPERSIZE_LETTER
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    footer = sheet.HeaderFooter.oddFooter
    footer.left.text, footer.center.text, footer.right.text = bare.footer


def _cell(sheet: Any, value: Any, style: Any) -> WriteOnlyCell | None:
    if style is None:
        return None
    cell = WriteOnlyCell(sheet, value)
    cell._style = style
    return cell
