"""The openings of a job → a window schedule with their status, as .xlsx or .csv that `read_schedule` takes back."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from openings.schedules.written.fields import WrittenOpening
from openings.schedules.written.text import schedule_csv, table_csv

__all__ = ["WrittenOpening", "schedule_csv", "schedule_xlsx", "table_csv"]


def schedule_xlsx(rows: Sequence[WrittenOpening], *, title: str, on: date) -> bytes:
    """Return the openings as an Excel workbook of one sheet, headings in its first row.

    >>> from decimal import Decimal
    >>> window = WrittenOpening(
    ...     mark="W1", ro_width_in=Decimal(36), ro_height_in=Decimal(54),
    ...     unit_width_in=Decimal(35), unit_height_in=Decimal(53),
    ... )
    >>> schedule_xlsx([window], title="Mill Lane", on=date(2026, 11, 30))[:2]
    b'PK'

    Numbers and dates are written as such; text stays text whatever it begins with, also when it is edited. What
    no cell can hold (control characters) becomes U+FFFD. Title and day stand in the header of the page and not in
    a cell, where the reader might find a floor in them.

    Args:
        title: of the page.
        on: day that the status is of.
    """
    # Loading openpyxl takes as long as loading all readers, and a process that reads files never writes one.
    from openings.schedules.written.workbook import workbook_of

    return workbook_of(rows, title=title, on=on)
