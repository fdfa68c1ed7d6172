"""A small pull sheet, and reading it back: the bytes differ on every run, the cells do not."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from functools import lru_cache
from io import BytesIO
from typing import Any

from openpyxl import Workbook, load_workbook
from openpyxl.cell import Cell
from openpyxl.worksheet.worksheet import Worksheet

from materials.calc.product import Measure
from materials.workbook import CutRow, JobStop, OpeningRow, PullSheetBook, StagingRow, write_workbook

MEMBRANE = StagingRow(
    product_code="SAM-12",
    product="Self-adhered membrane 12 in",
    parts="sill strip, head strip",
    packages=2,
    package="roll",
    quantity=Decimal("1204.0625"),
    measure=Measure.LENGTH,
)
SILL_STRIP = CutRow(
    mark="W3-01",
    part="sill strip",
    count=1,
    length_in=Decimal("54.53125"),
    width_in=Decimal(12),
    roll="roll 1",
)
OPENING = OpeningRow(
    sequence=1,
    job="ELM-12",
    mark="W3-01",
    floor="2",
    ro_width_in=Decimal("36.5"),
    ro_height_in=Decimal("54.5"),
    unit_width_in=Decimal(36),
    unit_height_in=Decimal(54),
    detail="Flange, wrap before window",
    method="A1",
    weight_lb=Decimal(66),
    weight_is_estimate=True,
    people=2,
    needs_aid=False,
    person_h=Decimal("2.25"),
)
BOOK = PullSheetBook(
    number="PS-0042",
    revision=2,
    crew="Heron",
    truck="Truck 2",
    on=date(2026, 6, 8),
    people_count=4,
    capacity_person_h=Decimal(32),
    assigned_person_h=Decimal("27.5"),
    written_at=datetime.fromisoformat("2026-06-05T16:00"),
    jobs=(JobStop(code="ELM-12", name="Elm Street house", address="12 Elm Street", openings_count=5),),
    staging=(MEMBRANE,),
    cuts=(SILL_STRIP,),
    openings=(OPENING,),
    changes=("Opening W3-04 left the day.",),
    cautions=("Built in 1924: lead-safe work.",),
)
TABLES = ("Staging", "Tools", "Roll cuts", "Cuts", "Openings")
SHEETS = ("Cover", *TABLES)
FIRST_ROW = 3


@lru_cache(maxsize=8)
def workbook_of(book: PullSheetBook) -> Workbook:
    return load_workbook(BytesIO(write_workbook(book)))


def sheet_of(book: PullSheetBook, title: str) -> Worksheet:
    return workbook_of(book)[title]


def row_of(sheet: Worksheet, number: int = FIRST_ROW) -> dict[str, Cell]:
    return {heading.value: cell for heading, cell in zip(sheet[2], sheet[number], strict=True)}


def facts_of(cover: Worksheet) -> dict[Any, Cell]:
    return {label.value: fact for label, fact, *_ in cover.iter_rows()}
