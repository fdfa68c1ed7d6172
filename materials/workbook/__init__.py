"""Rows → .xlsx. Knows neither Django nor the database."""

from __future__ import annotations

from io import BytesIO

from openpyxl import Workbook

from jobs.calc.say import dated
from materials.calc.roll_picture import RollPiece, RollRow
from materials.workbook.card import write_card
from materials.workbook.cover import STANDING_CAUTIONS, write_cover
from materials.workbook.products import products_workbook
from materials.workbook.roll_cuts import write_roll_cuts
from materials.workbook.rows import (
    CutRow,
    DetailCard,
    HeldRow,
    JobStop,
    OpeningRow,
    PullSheetBook,
    RollGroup,
    SizeOnCard,
    StagingRow,
    ToolRow,
)
from materials.workbook.sheet import write_table
from materials.workbook.styles import add_styles
from materials.workbook.tables import CUTS, OPENINGS, STAGING
from materials.workbook.takeoff import TakeoffBook, takeoff_csv, takeoff_workbook
from materials.workbook.tools import write_tools

__all__ = [
    "STANDING_CAUTIONS",
    "CutRow",
    "DetailCard",
    "HeldRow",
    "JobStop",
    "OpeningRow",
    "PullSheetBook",
    "RollGroup",
    "RollPiece",
    "RollRow",
    "SizeOnCard",
    "StagingRow",
    "TakeoffBook",
    "ToolRow",
    "products_workbook",
    "takeoff_csv",
    "takeoff_workbook",
    "write_workbook",
]


def write_workbook(book: PullSheetBook) -> bytes:
    """Return the pull sheet as an Excel workbook of six sheets: Cover, Staging, Tools, Roll cuts, Cuts and
    Openings.

    A field card for each detail of the day follows them.

    Numbers and dates are written as such; text is written as text whatever it begins with. What a cell
    cannot hold (control characters) becomes U+FFFD. Two calls give the same cells, not the same bytes.
    """
    workbook = Workbook(write_only=True)
    workbook.properties.title = f"Pull sheet {book.name}"
    workbook.properties.creator = "Weatherlap"
    add_styles(workbook)
    write_cover(workbook, book=book)
    write_table(
        workbook,
        title="Staging",
        heading=_heading("Staging", book),
        footer=book.name,
        columns=STAGING,
        rows=book.staging,
        when_empty="Nothing to load.",
        is_landscape=True,
    )
    write_tools(
        workbook,
        heading=_heading("Tools", book),
        footer=book.name,
        tools=book.tools,
        held=book.held,
    )
    write_roll_cuts(workbook, heading=_heading("Roll cuts", book), footer=book.name, groups=book.rolls)
    write_table(
        workbook,
        title="Cuts",
        heading=_heading("Cuts", book),
        footer=book.name,
        columns=CUTS,
        rows=book.cuts,
        when_empty="Nothing to cut.",
    )
    write_table(
        workbook,
        title="Openings",
        heading=_heading("Openings", book),
        footer=book.name,
        columns=OPENINGS,
        rows=book.openings,
        when_empty="No openings.",
        is_landscape=True,
    )
    for number, card in enumerate(book.cards, start=1):
        write_card(workbook, card, number=number, footer=book.name)
    return _saved(workbook)


def _heading(what: str, book: PullSheetBook) -> str:
    return ", ".join(filter(None, (f"{what}: {book.name}", dated(book.on), book.crew, book.truck)))


def _saved(workbook: Workbook) -> bytes:
    buffer = BytesIO()
    workbook.save(buffer)
    return buffer.getvalue()
