"""The takeoff of a job as a workbook to order from, and the same table as comma-separated text."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from io import BytesIO
from typing import Final

from openpyxl import Workbook

from jobs.calc.say import counted, dated
from materials.calc.product import Measure
from materials.calc.takeoff import AlikeRolls, TakeoffLine
from materials.workbook.sheet import Column, Sheet, write_table
from materials.workbook.styles import Style, add_styles
from materials.workbook.tables import measured_out, tape
from openings.calc.figures import TWO_PLACES, half_up
from openings.schedules import table_csv


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeoffBook:
    """What the takeoff says: `missing` are parts without a product with the reason, `notes` what to know first."""

    title: str
    on: date
    openings: str
    lines: tuple[TakeoffLine, ...]
    missing: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]


def takeoff_workbook(book: TakeoffBook) -> bytes:
    """Return the takeoff as an Excel workbook of three sheets: Order, Cuts, Notes. Text stays text."""
    workbook = Workbook(write_only=True)
    workbook.properties.title = book.title
    workbook.properties.creator = "Weatherlap"
    add_styles(workbook)
    heading = f"{book.title}, {dated(book.on)}"
    write_table(
        workbook,
        title="Order",
        heading=heading,
        footer=book.title,
        columns=_ORDER,
        rows=book.lines,
        when_empty="Nothing is drawn.",
        is_landscape=True,
    )
    write_table(
        workbook,
        title="Cuts",
        heading=f"Cuts: {heading}",
        footer=book.title,
        columns=_CUTS,
        rows=[_CutRow(line, rolls) for line in book.lines for rolls in line.rolls],
        when_empty="Nothing to cut.",
    )
    _write_notes(workbook, book)
    saved = BytesIO()
    workbook.save(saved)
    return saved.getvalue()


def takeoff_csv(book: TakeoffBook) -> bytes:
    """Return the lines of the takeoff as comma-separated text, exact figures in the unit that its column names."""
    missing = [["no product chosen", "", part, *[""] * 12, why] for part, why in book.missing]
    return table_csv(_TEXT_HEADINGS, [*([*_text_row(line)] for line in book.lines), *missing])


def _write_notes(workbook: Workbook, book: TakeoffBook) -> None:
    sheet = Sheet(workbook, title="Notes", footer=book.title, widths=(24, 76), head_count=1)
    sheet.write((Style.TITLE, book.title))
    sheet.write_pair((Style.STRONG, "Openings"), (Style.TEXT, book.openings))
    for note in book.notes:
        sheet.write_pair((Style.STRONG, "Note"), (Style.TEXT, note))
    for part, why in book.missing:
        sheet.write_pair((Style.STRONG, f"No product for {part}"), (Style.TEXT, why))


@dataclass(frozen=True, slots=True)
class _CutRow:
    line: TakeoffLine
    rolls: AlikeRolls


def cuts_in_words(rolls: AlikeRolls) -> str:
    """Return what is cut from each of some rolls, in order."""
    return "; ".join(f"{cut.count} × {tape(cut.length_in)} {cut.part}" for cut in rolls.cuts)


def left_in_words(rolls: AlikeRolls) -> str:
    """Return what is left of each of some rolls."""
    if not rolls.left_in:
        return "nothing left"
    return f"{tape(rolls.left_in)} {'left' if rolls.is_kept else 'scrap'}"


def rolls_in_words(line: TakeoffLine, rolls: AlikeRolls) -> str:
    """Return what some rolls are: remnants by their codes, or how many new ones."""
    return f"remnant {', '.join(rolls.remnants)}" if rolls.remnants else counted(rolls.count, line.product.package)


def _amount(quantity: Decimal, measure: Measure) -> str:
    return measured_out(half_up(quantity, to=TWO_PLACES) if measure is Measure.VOLUME else quantity, measure)


_ORDER: Final[tuple[Column[TakeoffLine], ...]] = (
    Column("Product", 25, Style.STRONG, lambda line: line.product.name),
    Column("Code", 12, Style.TEXT, lambda line: line.product.code),
    Column("Why so many", 38, Style.TEXT, lambda line: f"{', '.join(line.parts)}\n{line.reason}"),
    Column("Still to do", 14, Style.TEXT, lambda line: _amount(line.quantity, line.measure)),
    Column("Spare", 11, Style.TEXT, lambda line: _amount(line.spare, line.measure) if line.spare else None),
    Column("Needed", 10, Style.COUNT, lambda line: line.packages),
    Column("On hand", 8, Style.COUNT, lambda line: line.on_hand.for_job),
    Column("To order", 8, Style.COUNT, lambda line: line.to_order),
    Column("Package", 10, Style.TEXT, lambda line: line.product.package),
    Column("On order", 8, Style.WRITE_IN, lambda line: None),
    Column("Ordered", 10, Style.WRITE_IN, lambda line: None),
    Column("Whole job", 14, Style.TEXT, lambda line: _amount(line.whole_quantity, line.measure), is_printed=False),
    Column("In warehouses", 11, Style.EXACT, lambda line: line.on_hand.warehouses, is_printed=False),
    Column("Wanted by others", 11, Style.COUNT, lambda line: line.on_hand.for_others, is_printed=False),
    Column("On trucks", 9, Style.COUNT, lambda line: line.on_hand.on_trucks, is_printed=False),
)

_CUTS: Final[tuple[Column[_CutRow], ...]] = (
    Column("Product", 26, Style.STRONG, lambda row: row.line.product.name),
    Column("Rolls", 14, Style.TEXT, lambda row: rolls_in_words(row.line, row.rolls)),
    Column("Length", 12, Style.TEXT, lambda row: tape(row.rolls.length_in)),
    Column("Cuts of each", 42, Style.TEXT, lambda row: cuts_in_words(row.rolls)),
    Column("Left of each", 16, Style.TEXT, lambda row: left_in_words(row.rolls)),
)

_TEXT_HEADINGS: Final = (
    "Product", "Code", "Parts", "Measure", "Whole job", "Still to do", "Spare", "In one package", "Package",
    "Packages needed", "In warehouses", "Wanted by other jobs", "On trucks for this job", "On hand for this job",
    "To order", "Why",
)  # fmt: skip


def _text_row(line: TakeoffLine) -> Sequence[str | int | Decimal]:
    product, on_hand = line.product, line.on_hand
    return (
        product.name, product.code, ", ".join(line.parts), product.measure, half_up(line.whole_quantity),
        half_up(line.quantity), half_up(line.spare), product.package_quantity, product.package, line.packages,
        on_hand.warehouses, on_hand.for_others, on_hand.on_trucks, on_hand.for_job, line.to_order, line.reason,
    )  # fmt: skip
