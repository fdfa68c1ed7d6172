"""One cell → the value it means, or a sentence that says what would be right."""

from __future__ import annotations

import datetime
import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from jobs.errors import BadInput
from openings.calc.facts import MAX_SIDE_IN
from openings.calc.notation import UNSEEN
from openings.calc.tape import LengthUnit, Size, read_length, read_size
from openings.calc.units import CONVERSIONS, US
from openings.errors import BadSchedule
from openings.schedules.grid import Cell, Refused, Unread
from openings.schedules.headings.of_table import Column
from openings.schedules.layout import Meaning
from openings.schedules.lines.mark_ranges import several_in
from openings.schedules.rows import MAX_MARK_LETTERS, FactValue

MAX_TEXT_LETTERS = 200
MAX_QUANTITY = 999
MAX_WEIGHT_LB = Decimal(10_000)
"""Above it a weight is a slip of the pen or of the unit (our choice)."""

Value = FactValue | Size | None

_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")
_BLANK = {"", "-", "--", "–", "—", "$", "n/a", "na", "none", "null", "nil"}
"""$ and null: how models of buildings leave a value out (ISO 10303-21 and their exports)."""
_ZERO = re.compile(r"[0.'\" -]+(?:mm|cm|m|in|ft)?", re.IGNORECASE)
_DITTO = {"do", "do.", "ditto", "same", "same as above"}
_COMMA_IN_NUMBER = re.compile(r"(?<=\d),(?=\d)")
_FEET_END = re.compile(r" ?(?:'|′|ft\.?|feet|foot)$", re.IGNORECASE)
_INCH_END = re.compile(r" ?(?:\"|″|''|in\.?|inch(?:es)?)$", re.IGNORECASE)
_WEIGHT = re.compile(r"(\d{1,6}(?:\.\d{1,6})?) ?(lbs?\.?|#|kgs?)?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Wrong:
    """What would be right instead of a cell's content."""

    detail: str


class CellReader(dict[Cell, Value | Wrong]):
    """Values by cell content; each content is read once, since a schedule repeats itself."""

    def __init__(self, read: Callable[[Cell], Value]) -> None:
        super().__init__()
        self._read = read

    def __missing__(self, cell: Cell) -> Value | Wrong:
        try:
            value: Value | Wrong = self._read(cell)
        except BadInput as error:
            value = Wrong(error.detail)
        self[cell] = value
        return value


def reader_for(column: Column, *, unit: LengthUnit, decimal_comma: bool, has_counts: bool) -> CellReader:
    """Return the reader of a column's cells; columns of facts have readers of their own.

    Args:
        column: where the cells come from and what its heading says.
        unit: what bare lengths are in.
        decimal_comma: whether a comma between digits is a decimal point.
        has_counts: whether the quantity may be blank, because floors are counted.
    """
    heading = column.heading

    def size(cell: Cell) -> Size | None:
        return read_sides(point(cell, decimal_comma), unit=unit, height_first=heading.height_first)

    def side(cell: Cell) -> Decimal | None:
        return read_side(point(cell, decimal_comma), unit=unit)

    def weight(cell: Cell) -> Decimal | None:
        return read_weight(point(cell, decimal_comma), is_metric=heading.unit == "kg")

    def quantity(cell: Cell) -> int | None:
        return None if has_counts and is_none_given(cell) else read_quantity(cell)

    match heading.meaning:
        case Meaning.MARK:
            return CellReader(read_mark)
        case Meaning.QUANTITY:
            return CellReader(quantity)
        case Meaning.WEIGHT:
            return CellReader(weight)
        case Meaning.RO_SIZE | Meaning.UNIT_SIZE:
            return CellReader(size)
        case Meaning.RO_WIDTH | Meaning.RO_HEIGHT | Meaning.UNIT_WIDTH | Meaning.UNIT_HEIGHT:
            return CellReader(side)
        case _:
            return CellReader(read_text)


def read_text(cell: Cell, *, limit: int = MAX_TEXT_LETTERS) -> str:
    """Return a cell as one line of text, whole numbers without a decimal point.

    Raises:
        BadSchedule: the cell has no value, holds control characters or is longer than `limit`.
    """
    if isinstance(cell, str):
        cell = cell if cell.isascii() else cell.translate(UNSEEN)
        if _CONTROL.search(cell):
            raise BadSchedule("the text holds control characters, which no sheet can show; type it anew")
        text = " ".join(cell.split())
    else:
        text = _plain(cell)
    if len(text) > limit:
        raise BadSchedule(f"the text has {len(text)} letters; at most {limit} are kept")
    return text


def read_mark(cell: Cell) -> str:
    """Return a mark, or several of them as they are written.

    Raises:
        BadSchedule: there is none, it is too long, or the spreadsheet program made a date of it.
    """
    refuse_date(cell, example="1-2")
    mark = read_text(cell)
    if not mark:
        raise BadSchedule("the row has no mark; give one like W3")
    if len(mark) <= MAX_MARK_LETTERS and mark.isalnum() and not mark.isalpha():
        return mark  # as nearly all are
    if mark.lower() in _DITTO or not any(map(str.isalnum, mark)):
        raise BadSchedule(f"“{mark}” is not a mark; if it repeats the one above, write that out")
    if len(mark) > MAX_MARK_LETTERS and not several_in(mark):
        raise BadSchedule(f"the text has {len(mark)} letters; at most {MAX_MARK_LETTERS} are kept")
    return mark


def read_quantity(cell: Cell) -> int:
    """Return the number of openings that a row stands for.

    Raises:
        BadSchedule: it is no whole number from 1 to 999.
    """
    refuse_date(cell, example="2")
    text = read_text(cell)
    if not re.fullmatch(r"\d{1,9}", text, re.ASCII) or not 1 <= int(text) <= MAX_QUANTITY:
        raise BadSchedule(f"the quantity must be a whole number from 1 to {MAX_QUANTITY}")
    return int(text)


def read_side(cell: Cell, *, unit: LengthUnit) -> Decimal | None:
    """Return a side in inches, or None if the cell is blank or 0, as models leave a side that nobody gave.

    Raises:
        BadLength: it cannot be read.
        BadSchedule: it is above 40 ft.
    """
    length_in = read_inches(cell, unit=unit)
    return (length_in and _checked(length_in, unit=unit)) or None


def read_inches(cell: Cell, *, unit: LengthUnit) -> Decimal | None:
    """Return a length in inches, or None if the cell is blank.

    Raises:
        BadLength: it cannot be read.
        BadSchedule: the spreadsheet program made a date of it.
    """
    refuse_date(cell, example="""3'-6\"""")
    text = read_text(cell)
    return None if text.lower() in _BLANK else read_length(text, unit=unit)


def read_sides(cell: Cell, *, unit: LengthUnit, height_first: bool) -> Size | None:
    """Return a size, or None if the cell is blank or 0.

    Raises:
        BadLength: it cannot be read.
        BadSchedule: a side is not above 0 and at most 40 ft.
    """
    refuse_date(cell, example="""3'-0\" x 4'-6\"""")
    text = read_text(cell)
    if text.lower() in _BLANK or _ZERO.fullmatch(text):
        return None
    size = read_size(text, unit=unit, height_first=height_first)
    if size.width_in == size.height_in == 0:
        return None
    for side in (size.width_in, size.height_in):
        _checked(side, unit=unit)
    return size


def read_weight(cell: Cell, *, is_metric: bool) -> Decimal | None:
    """Return a weight in pounds to two places, or None if the cell is blank.

    Raises:
        BadSchedule: it cannot be read, or is not above 0 and at most 10,000 lb.
    """
    refuse_date(cell, example="120")
    text = read_text(cell)
    if text.lower() in _BLANK:
        return None
    written = _WEIGHT.fullmatch(text)
    if not written:
        raise BadSchedule("the weight must be a number like 120, 120 lb or 54 kg")
    named = (written[2] or ("kg" if is_metric else "lb")).lower()
    lb_per_unit = 1 / CONVERSIONS["lb"].factor if named.startswith("kg") else 1
    weight_lb = (Decimal(written[1]) * lb_per_unit).quantize(Decimal("0.01"), ROUND_HALF_UP)
    if not 0 < weight_lb <= MAX_WEIGHT_LB:
        raise BadSchedule(f"the weight is {weight_lb} lb; it must be above 0 and at most {MAX_WEIGHT_LB} lb")
    return weight_lb


def shown(cell: Cell) -> str:
    """Return the text that a person sees in a cell, short enough for a message and without control characters."""
    try:
        text = cell.shown if isinstance(cell, Refused) else _plain(cell)
    except BadSchedule:
        text = ""
    return _CONTROL.sub("\N{REPLACEMENT CHARACTER}", text)[:MAX_TEXT_LETTERS]


def feet_with_inches(feet: Cell, inches: Cell) -> Cell:
    """Return the one length that two cells give; what is no number in one of them stays to be refused.

    >>> feet_with_inches(3.0, "6 1/2"), feet_with_inches("", 30.0), feet_with_inches(3.5, "")
    ('3\\' 6 1/2"', '30"', "3.5'")
    """
    for cell in (feet, inches):
        if not isinstance(cell, str | float | int) or isinstance(cell, bool):
            return cell
    whole = "" if is_none_given(feet) else _FEET_END.sub("", shown(feet).strip())
    rest = "" if is_none_given(inches) else _INCH_END.sub("", shown(inches).strip())
    if not whole or (rest and whole == "0"):
        return f'{rest}"' if rest else whole
    return f"{whole}' {rest}\"" if rest not in ("", "0") else f"{whole}'"


def is_blank(cell: Cell) -> bool:
    return isinstance(cell, str) and not cell.strip()


def is_none_given(cell: Cell) -> bool:
    """Return whether a cell says that there is no value: blank, a dash, n/a, $."""
    return isinstance(cell, str) and " ".join(cell.translate(UNSEEN).split()).lower() in _BLANK


def _plain(cell: Cell) -> str:
    if isinstance(cell, Unread):
        raise BadSchedule(f"the cell {cell.value}")
    if isinstance(cell, Refused):
        raise BadSchedule(cell.detail)
    if isinstance(cell, bool):
        return str(cell).upper()
    if isinstance(cell, datetime.date | datetime.time):
        return cell.isoformat()
    if isinstance(cell, datetime.timedelta):
        return str(cell)
    if isinstance(cell, str):
        return cell
    if not math.isfinite(cell):
        raise BadSchedule("the number is too large")
    return str(int(cell)) if cell == int(cell) else f"{cell:.15g}"


def point(cell: Cell, decimal_comma: bool) -> Cell:
    """Return a cell with a decimal point where the file has decimal commas."""
    return _COMMA_IN_NUMBER.sub(".", cell) if decimal_comma and isinstance(cell, str) else cell


def refuse_date(cell: Cell, *, example: str) -> None:
    """Refuse a cell of which the spreadsheet program made a date.

    Raises:
        BadSchedule: it did; the sentence says what to type instead.
    """
    if isinstance(cell, datetime.date | datetime.time | datetime.timedelta):
        raise BadSchedule(
            f"the spreadsheet program made a date or time of it ({cell}); format the column as text and "
            f"type it again, like {example}"
        )


def _checked(side_in: Decimal, *, unit: LengthUnit) -> Decimal:
    if not 0 < side_in <= MAX_SIDE_IN:
        hint = "; if the numbers are millimeters, say mm in the heading" if unit == "in" and side_in > 0 else ""
        limit = f"it must be above 0 and at most {US.say(MAX_SIDE_IN)}"
        raise BadSchedule(f"the side is {US.say(side_in)}; {limit}{hint}")
    return side_in
