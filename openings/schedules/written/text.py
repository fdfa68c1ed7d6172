"""A window schedule as comma-separated text."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Sequence
from decimal import Decimal
from io import StringIO
from typing import Final

from openings.calc.figures import plain
from openings.schedules.written.fields import HEADINGS, Value, WrittenOpening, columns_of, in_cell


def schedule_csv(rows: Sequence[WrittenOpening]) -> bytes:
    """Return the openings as comma-separated text: UTF-8 with a byte-order mark, one line an opening.

    >>> window = WrittenOpening(
    ...     mark="W1", ro_width_in=Decimal(36), ro_height_in=Decimal(54),
    ...     unit_width_in=Decimal(35), unit_height_in=Decimal(53),
    ... )
    >>> schedule_csv([window]).decode("utf-8-sig").splitlines()[1]
    'W1,1,36,54,35,53,,,,,,,,,'

    A text that a spreadsheet program would take for a formula, a date or a number gets a tab before it: the
    program then shows it as it is, and our reader drops the tab as it drops every blank around a cell.

    Source:
        RFC 4180: quotation marks, line ends. The tab: common practice, no source.
    """
    columns = columns_of(rows)
    return table_csv([HEADINGS[name] for name in columns], ([getattr(row, name) for name in columns] for row in rows))


def table_csv(headings: Sequence[str], rows: Iterable[Sequence[Value]]) -> bytes:
    """Return a table as comma-separated text, as `schedule_csv` writes one: no text in it is taken for a formula.

    >>> table_csv(["Product", "Order"], [["=1+1", 2]]).decode("utf-8-sig").splitlines()[1]
    '\\t=1+1,2'
    """
    text = StringIO()
    lines = csv.writer(text, lineterminator="\r\n")
    lines.writerow(headings)
    lines.writerows([_in_text(value) for value in row] for row in rows)
    return text.getvalue().encode("utf-8-sig")


def _in_text(value: Value) -> str:
    """Return the characters of a cell of a .csv."""
    if isinstance(value, str):
        return f"\t{value}" if _TAKEN_FOR_ELSE.match(value) and not _WHOLE_NUMBER.fullmatch(value) else value
    cell = in_cell(value)
    if isinstance(cell, Decimal):
        return plain(cell)
    return "" if cell is None else str(cell)


_TAKEN_FOR_ELSE: Final = re.compile(
    r"[=+\-@\N{FULLWIDTH EQUALS SIGN}\N{FULLWIDTH PLUS SIGN}\N{FULLWIDTH HYPHEN-MINUS}\N{FULLWIDTH COMMERCIAL AT}]"
    r"|[\d.(]|(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*[\s.,/-]*\d|(?:true|false)$",
    re.IGNORECASE,
)
"""How formulas, numbers, dates and truth values begin in spreadsheet programs: common practice, no source."""

_WHOLE_NUMBER: Final = re.compile(r"0|[1-9]\d{0,14}", re.ASCII)
"""What is the same text again once it was a number."""
