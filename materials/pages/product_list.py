"""A list of products from a file: looked at, then taken."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.answer import say
from jobs.calc.say import counted
from jobs.errors import Fault
from jobs.page import Page, done, may, values_of
from jobs.permissions import SHELF
from jobs.signed_in import signed_in
from materials import services
from materials.calc.product_columns import ALSO_HEADED, PRODUCT_COLUMNS
from materials.forms import ProductListForm, line_form, product_values
from materials.models import Product
from materials.models.values import ProductValues
from materials.services import ListedProduct, ListOutcome
from openings.calc.figures import plain
from openings.errors import BadList
from openings.forms import TakeListForm, lines_sent
from openings.schedules import FOR_A_PAGE, ListedRow, listed_rows, read_cells

MOST_LINES = 500
"""A firm has fewer products (our choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LineShown:
    """What a line does, and what it changes: heading, column, old and new value."""

    name: str
    does: str
    changes: Sequence[tuple[str, str, Any, Any]]


@dataclass(frozen=True, slots=True, kw_only=True)
class LookedAt:
    """What a list would do, everything wrong by row, and what to send along when it is taken."""

    lines: Sequence[LineShown]
    faults: Sequence[Fault]
    notes: Sequence[str]
    sent: str


@Page
def product_list(request: HttpRequest) -> HttpResponse:
    """A form for a file."""
    return _show(request, None)


def _show(request: HttpRequest, looked_at: LookedAt | None) -> HttpResponse:
    return render(
        request,
        "materials/product_list.html",
        {
            "form": ProductListForm(),
            "looked_at": looked_at,
            "columns": PRODUCT_COLUMNS,
            "may_change": may(signed_in(request), SHELF),
        },
    )


@product_list.act(by=SHELF)
def look(request: HttpRequest) -> HttpResponse:
    """Show what the list of a file would do; nothing is written."""
    file = values_of(ProductListForm(request.POST, request.FILES))["file"]
    sheets = read_cells(filename=file.name, content=file.read(), budget=FOR_A_PAGE)
    columns = {name: (heading, *ALSO_HEADED.get(name, ())) for name, heading in PRODUCT_COLUMNS.items()}
    read = listed_rows(sheets, columns=columns, required=["code"])
    rows, faults = _values(read.rows)
    outcome = services.try_products([values for _, values in rows])
    say(request, f"{file.name} is checked: {_counts(outcome)}", "found")
    return _show(
        request,
        LookedAt(
            lines=[_shown(line) for line in outcome.lines],
            faults=[*read.faults, *faults, *_by_row(outcome.faults, rows)],
            notes=read.notes,
            sent=json.dumps([[line.row, dict(line.values)] for line in read.rows]),
        ),
    )


@product_list.act(by=SHELF)
def take(request: HttpRequest) -> HttpResponse:
    """Add and change what was looked at: all of it, or nothing."""
    sent = values_of(TakeListForm(request.POST))["lines"]
    rows, faults = _values(lines_sent(sent, columns=PRODUCT_COLUMNS))
    if faults:
        raise BadList(f"nothing was taken: {faults[0].detail}", faults=faults)
    outcome = services.take_products([values for _, values in rows])
    return done(request, _counts(outcome), "products-page", at="list")


def _counts(outcome: ListOutcome) -> str:
    return f"{counted(outcome.count('added'), 'product')} added, {outcome.count('changed')} changed"


def _shown(line: ListedProduct) -> LineShown:
    changes = [(PRODUCT_COLUMNS[name], name, _plain(name, old), _plain(name, new)) for name, old, new in line.changes]
    return LineShown(name=line.name, does=line.does, changes=changes)


def _plain(name: str, value: Any) -> Any:
    """Return a figure without its zeros, where it is no length, which is said as one."""
    return plain(value) if isinstance(value, Decimal) and not name.endswith("_in") else value


def _values(lines: Sequence[ListedRow]) -> tuple[list[tuple[int, ProductValues]], list[Fault]]:
    """Return the columns of each line that can be read, by its row, and what is wrong in the others.

    Raises:
        BadList: there are too many.
    """
    if len(lines) > MOST_LINES:
        raise BadList(f"the list has {len(lines):,} products; at most {MOST_LINES} are taken at once")
    codes = [line.values.get("code", "") for line in lines]
    known = {product.code: product for product in Product.objects.filter(code__in=codes)}
    rows: list[tuple[int, ProductValues]] = []
    faults: list[Fault] = []
    first: dict[str, int] = {}
    for line, code in zip(lines, codes, strict=True):
        form = line_form(line.values, product=known.get(code))
        if code and code in first:
            again = f"“{code}” stands in row {first[code]} already; leave one of them"
            faults.append(Fault(field=PRODUCT_COLUMNS["code"], value=code, row=line.row, detail=again))
        elif form.is_valid():
            rows.append((line.row, product_values(form)))
        else:
            faults += _faults(form.errors.as_data(), line)
        first.setdefault(code, line.row)
    return rows, faults


def _faults(errors: dict[str, list[ValidationError]], line: ListedRow) -> list[Fault]:
    return [
        Fault(field=PRODUCT_COLUMNS.get(name, ""), value=line.values.get(name, ""), row=line.row, detail=sentence)
        for name, found in errors.items()
        for error in found
        for sentence in error.messages
    ]


def _by_row(faults: Sequence[Fault], rows: Sequence[tuple[int, ProductValues]]) -> list[Fault]:
    """Return faults of lines by the row and the heading of their file."""
    return [
        Fault(
            field=PRODUCT_COLUMNS.get(fault.field, ""),
            value=fault.value,
            row=rows[fault.item][0] if fault.item is not None else None,
            detail=fault.detail,
        )
        for fault in faults
    ]
