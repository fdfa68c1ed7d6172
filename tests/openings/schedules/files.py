"""Schedule files built for a test."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from openings.schedules import ScheduleRead, read_schedule

SHEET = "xl/worksheets/sheet1.xml"


def xlsx(lines: Iterable[Sequence[Any]], *, then: Callable[[Worksheet], None] | None = None) -> bytes:
    """Return a workbook of one sheet; `then` may change the sheet before it is saved."""
    book = Workbook()
    for line in lines:
        book.active.append(line)
    if then:
        then(book.active)
    return saved(book)


def saved(book: Workbook) -> bytes:
    packed = io.BytesIO()
    book.save(packed)
    return packed.getvalue()


def repacked(content: bytes, change: Callable[[str, bytes], bytes | None]) -> bytes:
    """Return the zip with each part changed, or left out where `change` gives None."""
    packed = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            part = change(name, old.read(name))
            if part is not None:
                new.writestr(name, part)
    return packed.getvalue()


def with_sheet(content: bytes, change: Callable[[bytes], bytes]) -> bytes:
    return repacked(content, lambda name, part: change(part) if name == SHEET else part)


def read_xlsx(lines: Iterable[Sequence[Any]], *, then: Callable[[Worksheet], None] | None = None) -> ScheduleRead:
    return read_schedule(filename="windows.xlsx", content=xlsx(lines, then=then))


def read_csv(text: str, *, encoding: str = "utf-8") -> ScheduleRead:
    return read_schedule(filename="windows.csv", content=text.encode(encoding))
