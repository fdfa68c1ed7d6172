"""The three tables of a pull sheet: what to load, what to cut, what to set."""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache
from typing import Final

from materials.calc.product import Measure
from materials.workbook.rows import CutRow, OpeningRow, StagingRow, ToolRow
from materials.workbook.sheet import Column
from materials.workbook.styles import Style
from openings.calc.figures import plain
from openings.calc.tape import format_length

TICK_BOX: Final = "☐"

tape = lru_cache(maxsize=1024)(format_length)
"""Units of one type repeat, and so do their lengths."""


def _tick_box(_row: object) -> str:
    return TICK_BOX


def _blank(_row: object) -> None:
    return None


def _size(width_in: Decimal, height_in: Decimal) -> str:
    return f"{tape(width_in)} ×\n{tape(height_in)}"


def _rough_opening(row: OpeningRow) -> str:
    drawn = _size(row.ro_width_in, row.ro_height_in)
    if row.built_ro_width_in is None or row.built_ro_height_in is None:
        return drawn
    return f"{_size(row.built_ro_width_in, row.built_ro_height_in)}\nas built,\ndrawn\n{drawn}"


def _lines(*texts: str) -> str:
    return "\n".join(filter(None, texts))


def _listed(*texts: str) -> str:
    return ", ".join(filter(None, texts))


def measured_out(quantity: Decimal, measure: Measure) -> str:
    """Return a quantity as it is measured out: a length by the tape, pieces by their number."""
    match measure:
        case Measure.LENGTH:
            return tape(quantity)
        case Measure.COUNT:
            return plain(quantity)
    return f"{plain(quantity)} {measure}"


def _exactly(row: StagingRow) -> str:
    return measured_out(row.quantity, row.measure)


def _spare(row: StagingRow) -> str | None:
    return measured_out(row.spare, row.measure) if row.spare else None


def _said_of_spare(row: StagingRow) -> str:
    return f"spare: {row.spare_reason}" if row.spare_reason else ""


def _inches(row: StagingRow) -> Decimal | None:
    return row.quantity if row.measure is Measure.LENGTH else None


def _lift_note(row: OpeningRow) -> str:
    return _lines(
        "est." if row.weight_is_estimate else "",
        "aid" if row.needs_aid else "",
        "ask" if row.needs_decision else "",
    )


STAGING: Final[tuple[Column[StagingRow], ...]] = (
    Column("Staged", 8, Style.TICK, _tick_box),
    Column("Product", 26, Style.STRONG, lambda row: row.product or "no product chosen"),
    Column("Code", 12, Style.TEXT, lambda row: row.product_code),
    Column("For", 23, Style.TEXT, lambda row: _lines(row.parts, row.note, _said_of_spare(row))),
    Column("Take", 7, Style.COUNT, lambda row: row.packages),
    Column("Package", 10, Style.TEXT, lambda row: row.package),
    Column("Exactly", 14, Style.TEXT, _exactly),
    Column("Spare", 11, Style.TEXT, _spare),
    Column("Loaded", 9, Style.WRITE_IN, _blank),
    Column("Returned", 9, Style.WRITE_IN, _blank),
    Column("Exactly, in", 12, Style.INCHES, _inches, is_printed=False),
)

CUTS: Final[tuple[Column[CutRow], ...]] = (
    Column("Cut", 5, Style.TICK, _tick_box),
    Column("Opening", 13, Style.STRONG, lambda row: row.mark),
    Column("Part", 18, Style.TEXT, lambda row: row.part),
    Column("Pieces", 8, Style.COUNT, lambda row: row.count),
    Column("Length", 14, Style.STRONG, lambda row: tape(row.length_in)),
    Column("Width", 10, Style.TEXT, lambda row: None if row.width_in is None else tape(row.width_in)),
    Column("Cut from", 28, Style.TEXT, lambda row: row.roll),
    Column("Length, in", 11, Style.INCHES, lambda row: row.length_in, is_printed=False),
    Column("Width, in", 10, Style.INCHES, lambda row: row.width_in, is_printed=False),
)

TOOLS: Final[tuple[Column[ToolRow], ...]] = (
    Column("On", 5, Style.TICK, _tick_box),
    Column("Tool or supply", 30, Style.STRONG, lambda row: row.name),
    Column("Amount", 14, Style.TEXT, lambda row: row.amount),
    Column("Why", 46, Style.TEXT, lambda row: row.why),
)

OPENINGS: Final[tuple[Column[OpeningRow], ...]] = (
    Column("No.", 5, Style.COUNT, lambda row: row.sequence),
    Column("Set", 5, Style.TICK, _tick_box),
    Column("Opening", 10, Style.STRONG, lambda row: row.mark),
    Column("Job", 9, Style.TEXT, lambda row: row.job),
    Column("Floor", 10, Style.TEXT, lambda row: row.floor),
    Column("Rough opening, w × h", 13, Style.TEXT, _rough_opening),
    Column("Unit, w × h", 13, Style.TEXT, lambda row: _size(row.unit_width_in, row.unit_height_in)),
    Column("Detail, method", 17, Style.TEXT, lambda row: _listed(row.detail, row.method)),
    Column("Weight, lb", 8, Style.COUNT, lambda row: row.weight_lb),
    Column("Lift note", 5, Style.STRONG, _lift_note),
    Column("People to lift", 8, Style.COUNT, lambda row: row.people),
    Column("Labor hours", 8, Style.PERSON_H, lambda row: row.person_h),
    Column("Remarks", 21, Style.TEXT, lambda row: row.remarks),
    Column("RO width, in", 10, Style.INCHES, lambda row: row.ro_width_in, is_printed=False),
    Column("RO height, in", 10, Style.INCHES, lambda row: row.ro_height_in, is_printed=False),
    Column("RO width as built, in", 10, Style.INCHES, lambda row: row.built_ro_width_in, is_printed=False),
    Column("RO height as built, in", 10, Style.INCHES, lambda row: row.built_ro_height_in, is_printed=False),
    Column("Unit width, in", 10, Style.INCHES, lambda row: row.unit_width_in, is_printed=False),
    Column("Unit height, in", 10, Style.INCHES, lambda row: row.unit_height_in, is_printed=False),
)
