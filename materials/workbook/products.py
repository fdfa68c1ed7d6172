"""The product catalogue as a workbook, with the columns that a list is taken by."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from functools import partial
from io import BytesIO
from typing import Final

from openpyxl import Workbook

from jobs.calc.say import dated
from materials.calc.product import Measure
from materials.calc.product_columns import PRODUCT_COLUMNS
from materials.workbook.sheet import Column, Value, write_table
from materials.workbook.styles import Style, add_styles

ProductRow = Mapping[str, str | int | Decimal | bool | None]
"""A product by column."""


def products_workbook(rows: Sequence[ProductRow], *, on: date) -> bytes:
    """Return the products as an Excel workbook that can be changed and taken again. Lengths are decimal inches."""
    workbook = Workbook(write_only=True)
    workbook.properties.title = "Products"
    workbook.properties.creator = "Weatherlap"
    add_styles(workbook)
    write_table(
        workbook,
        title="Products",
        heading=f"Products, {dated(on)}: lengths in inches, volumes in cubic inches",
        footer="Products",
        columns=_COLUMNS,
        rows=rows,
        when_empty="No products yet.",
        is_landscape=True,
    )
    saved = BytesIO()
    workbook.save(saved)
    return saved.getvalue()


def _value(row: ProductRow, *, name: str) -> Value:
    value = row[name]
    if isinstance(value, bool):
        return "yes" if value else "no"
    return Measure(value).plainly if name == "measure" and isinstance(value, str) else value


_WIDE: Final = {"name": 34, "code": 18, "chemistry": 18}

_COLUMNS: Final = tuple(
    Column(
        heading,
        _WIDE.get(name, 12),
        Style.EXACT if name.endswith(("_in", "_pct", "_f", "_lb", "_gal", "quantity")) else Style.TEXT,
        partial(_value, name=name),
    )
    for name, heading in PRODUCT_COLUMNS.items()
)
