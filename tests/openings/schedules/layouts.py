"""Window schedules as people draw them up, beside what a careful reader takes from them."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from textwrap import dedent
from typing import Any, NamedTuple

from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from openings.errors import BadSchedule
from openings.schedules import Layout, ScheduleRead, ScheduleRow, read_schedule
from openings.schedules.layout import ColumnAnswer
from tests.openings.schedules.files import saved, xlsx

COMMON = "common practice, no source"
NIST = "NIST Handbook 44, Appendix C: 25.4 mm to the inch, 0.45359237 kg to the pound"
CALL = "greathousedesign.com, engineerfix.com: a call size is feet, inches of the width, then of the height"
NAVY = "NAVEDTRA 14069, p. 6-45: a full line is number, operation, size, lights"
COLUMNS = "birchlerarroyo.com: columns that window schedules commonly have"
FIRST_HAND = "buildingSMART Duplex files (CC BY 4.0): sizes as the names of types write them"
BIM_CSV = "section 11.2 of the check values: exports write 5' - 0\" with spaces and do not double the quotes"

Size = tuple[Decimal | float, Decimal | float]
Sheet = list[list[Any]]


class Opening(NamedTuple):
    """What one mark comes to; None says that the case does not look at it, except for sizes."""

    mark: str
    quantity: int = 1
    ro: Size | None = None
    unit: Size | None = None
    floor: str | None = None
    operation: str | None = None
    remarks: str | None = None
    weight: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """A file and the openings it stands for.

    Args:
        may_ask: a pattern of the questions (their `field`) that a careful reader might put; its rows stay the same.
    """

    name: str
    content: bytes
    openings: tuple[Opening, ...]
    filename: str = "windows.xlsx"
    may_ask: str = ""
    source: str = COMMON

    def read(self, **layouts: Any) -> ScheduleRead:
        return read_schedule(filename=self.filename, content=self.content, **layouts)


def lines(text: str) -> Sheet:
    """Return the cells of a drawn table: a bar between two, ⏎ breaks a line, ' ahead of a number makes it text."""
    return [[_cell(cell) for cell in line.split("|")] for line in dedent(text).strip("\n").splitlines()]


def _cell(text: str) -> Any:
    text = text.strip()
    if re.fullmatch(r"-?(?:0|[1-9]\d*)", text):
        return int(text)
    if re.fullmatch(r"-?\d+\.\d+", text):
        return float(text)
    return re.sub(r"^'(?=\d)", "", text).replace("⏎", "\n") or None


def sheet(
    name: str,
    text: str,
    *openings: Opening,
    then: Callable[[Worksheet], None] | None = None,
    may_ask: str = "",
    source: str = COMMON,
) -> Case:
    """Return the case of a workbook of one sheet; `then` may change it before it is saved."""
    content = xlsx(lines(text), then=then)
    return Case(name=name, content=content, openings=openings, may_ask=may_ask, source=source)


def book(name: str, sheets: dict[str, str], *openings: Opening, may_ask: str = "", hidden: Sequence[str] = ()) -> Case:
    """Return the case of a workbook of several sheets."""
    return Case(name=name, content=workbook(sheets, hidden=hidden), openings=openings, may_ask=may_ask)


def workbook(sheets: dict[str, str], *, hidden: Sequence[str] = ()) -> bytes:
    filled = Workbook()
    filled.remove(filled.active)
    for title, text in sheets.items():
        page = filled.create_sheet(title)
        page.sheet_state = "hidden" if title in hidden else "visible"
        for line in lines(text):
            page.append(line)
    return saved(filled)


def text_file(
    name: str, text: str, *openings: Opening, encoding: str = "utf-8", may_ask: str = "", source: str = COMMON
) -> Case:
    """Return the case of a delimited text, written as it stands."""
    content = dedent(text).lstrip("\n").encode(encoding)
    return Case(name=name, content=content, openings=openings, filename="windows.csv", may_ask=may_ask, source=source)


def merged(*ranges: str) -> Callable[[Worksheet], None]:
    """Return what merges the ranges of a sheet."""

    def merge(page: Worksheet) -> None:
        for block in ranges:
            page.merge_cells(block)

    return merge


def mm(width: float, height: float) -> Size:
    """Return a size in inches to five places; source: NIST Handbook 44, Appendix C."""
    return tuple((Decimal(str(side)) / Decimal("25.4")).quantize(Decimal("0.00001")) for side in (width, height))  # type: ignore[return-value]


def taken(rows: Iterable[ScheduleRow], *, like: Sequence[Opening]) -> Counter[tuple[Any, ...]]:
    """Return how many openings were read of each kind, looking at what `like` states."""
    found: Counter[tuple[Any, ...]] = Counter()
    for row in rows:
        seen = Opening(
            mark=row.mark,
            ro=_pair(row.ro_width_in, row.ro_height_in),
            unit=_pair(row.unit_width_in, row.unit_height_in),
            floor=row.floor or row.sheet,
            operation=row.operation,
            remarks=row.remarks,
            weight=row.weight_lb,
        )
        found[_key(seen, like=like)] += row.quantity
    return found


def wanted(openings: Sequence[Opening]) -> Counter[tuple[Any, ...]]:
    found: Counter[tuple[Any, ...]] = Counter()
    for opening in openings:
        found[_key(opening, like=openings)] += opening.quantity
    return found


def _key(opening: Opening, *, like: Sequence[Opening]) -> tuple[Any, ...]:
    stated = [name for name in ("floor", "operation", "remarks") if any(getattr(one, name) is not None for one in like)]
    weight = [opening.weight] if any(one.weight is not None for one in like) else []
    texts = [(getattr(opening, name) or "").casefold() for name in stated]
    sizes = [size and tuple(Decimal(str(side)).normalize() for side in size) for size in (opening.ro, opening.unit)]
    return (opening.mark, *sizes, *texts, *weight)


def _pair(width: Decimal | None, height: Decimal | None) -> Size | None:
    assert (width is None) == (height is None)
    return None if width is None or height is None else (width, height)


def check(case: Case) -> ScheduleRead:
    """Assert that a case is read as a careful reader would, and return what was read."""
    read = case.read()
    assert read.faults == ()
    assert taken(read.rows, like=case.openings) == wanted(case.openings)
    assert [asked for asked in read.questions if not re.fullmatch(case.may_ask, asked.field)] == []
    return read


def is_quiet(read: ScheduleRead) -> bool:
    return not (read.faults or read.questions)


def never_silent(content: bytes, *, filename: str = "windows.xlsx") -> ScheduleRead | BadSchedule:
    """Assert that a file is refused, asked about or has faults, and return which."""
    try:
        read = read_schedule(filename=filename, content=content)
    except BadSchedule as refused:
        return refused
    assert not is_quiet(read), read.rows
    return read


def said(told: ScheduleRead | BadSchedule) -> str:
    """Return all sentences of an answer."""
    if isinstance(told, BadSchedule):
        return " ".join([told.detail, *(fault.detail for fault in told.faults)])
    return " ".join(one.detail for one in (*told.faults, *told.questions))


def answered(case: Case, columns: dict[str, ColumnAnswer] | None = None, **rest: Any) -> ScheduleRead:
    """Assert that a case, once answered, is read without a question, and return what was read."""
    read = case.read(settled=Layout(columns=columns or {}, **rest))
    assert read.questions == ()
    assert read.faults == ()
    assert taken(read.rows, like=case.openings) == wanted(case.openings)
    return read
