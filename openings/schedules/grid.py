"""A sheet of cells, as the workbook and the delimited text both give it."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum


class Unread(Enum):
    """A cell that holds no value; the sentence says what would give it one."""

    FORMULA = "is a formula without a saved value; save the file in a spreadsheet program and upload it again"
    ERROR = "shows an error such as #REF! or #N/A; correct its formula or type the value"


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """A cell without one clear value: the text to show for it, and the sentence that says what would be right."""

    shown: str
    detail: str


Cell = str | float | bool | datetime.date | datetime.datetime | datetime.time | datetime.timedelta | Unread | Refused


@dataclass(frozen=True, slots=True, kw_only=True)
class Merge:
    """A block of merged cells; all four counted from 0, both ends included."""

    top: int
    left: int
    bottom: int
    right: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """The cells of one sheet from its first row on, all lines equally long.

    Args:
        row_numbers: what each line is called where lines stand for something else, such as entities of a model;
            empty counts the lines from 1.
    """

    lines: list[list[Cell]]
    name: str = ""
    merges: tuple[Merge, ...] = ()
    hidden_rows: tuple[int, ...] = ()
    hidden_columns: tuple[int, ...] = ()
    decimal_comma: bool = False
    notes: tuple[str, ...] = ()
    row_numbers: tuple[int, ...] = ()


def column_letter(index: int) -> str:
    """Return the letters of a column counted from 0: A, B, … Z, AA."""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def column_index(letters: str) -> int:
    """Return the column counted from 0 that the letters name."""
    index = 0
    for letter in letters:
        index = index * 26 + ord(letter) - ord("A") + 1
    return index - 1


def spans(numbers: Iterable[int]) -> str:
    """Return rising numbers with runs drawn together: 3, 5 to 9."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return ", ".join(str(first) if first == last else f"{first} to {last}" for first, last in runs)
