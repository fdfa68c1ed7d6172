"""Finding the heading row of a sheet, and which column to read for what."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from openings.calc.tape import LengthUnit
from openings.errors import BadSchedule
from openings.schedules.columns import Heading, Meaning, is_subheading, length_unit, read_heading
from openings.schedules.grid import Cell, Grid, column_letter

SEARCHED_LINES = 60

PAIRS = (
    (Meaning.RO_WIDTH, Meaning.RO_HEIGHT, Meaning.RO_SIZE),
    (Meaning.UNIT_WIDTH, Meaning.UNIT_HEIGHT, Meaning.UNIT_SIZE),
)
_SIZES = {meaning for pair in PAIRS for meaning in pair}
_MUST_BE_PLAIN = {Meaning.MARK, Meaning.QUANTITY, *_SIZES}
_NEEDED = (
    "a mark (Mark, Tag, Window No.) and a size: RO Width and RO Height, Unit Width and Unit Height, "
    "or one column such as Rough Opening, Unit Size or Call Size"
)
_STATED_UNIT = re.compile(
    r"\b(?:dimensions?|sizes?|measurements?|units?)\b.*?\b(mm|millimet(?:er|re)s|cm|inch(?:es)?)\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column to be read: where it stands, its heading as written and what that means."""

    index: int
    text: str
    heading: Heading

    @property
    def letter(self) -> str:
        return column_letter(self.index)


@dataclass(frozen=True, slots=True, kw_only=True)
class Headings:
    """The columns to read, and the line (from 0) on which the rows begin."""

    columns: Mapping[Meaning, Column]
    first_line: int
    unit: LengthUnit
    notes: tuple[str, ...]


def find_headings(grid: Grid) -> Headings | None:
    """Return the headings of the first line that names a mark and a size, or None.

    Raises:
        BadSchedule: two columns claim the same meaning and neither says it more plainly.
    """
    for number in range(min(len(grid.lines), SEARCHED_LINES)):
        texts, height = _heading_texts(grid.lines, number)
        found = _candidates(texts)
        if _is_enough({column.heading.meaning for column in found}):
            columns, notes = _choose(found)
            unit, stated = _stated_unit(grid.lines[:number])
            return Headings(
                columns=columns,
                first_line=number + height,
                unit=unit,
                notes=(*stated, *notes, *_unread(grid, texts, columns)),
            )
    return None


def what_is_missing(grid: Grid) -> str:
    """Return the sentence that says which headings were looked for and what was found instead."""
    found: list[Column] = []
    row = 0
    for number in range(min(len(grid.lines), SEARCHED_LINES)):
        candidates = _candidates(_heading_texts(grid.lines, number)[0])
        if len(candidates) > max(1, len(found)):
            found, row = candidates, number + 1
    if not found:
        return f"No row of headings was found in the first {SEARCHED_LINES} rows. A schedule needs {_NEEDED}."
    understood = ", ".join(f"“{column.text}” ({column.letter})" for column in found)
    return f"Row {row} has the headings {understood}, but a schedule needs {_NEEDED}."


def _heading_texts(lines: list[list[Cell]], number: int) -> tuple[list[str], int]:
    """Return the headings that begin on a line, and how many lines they take.

    A second line of nothing but Width, Height or units completes the first, whose cells reach to the right.
    """
    texts = [_text(cell) for cell in lines[number]]
    below = [_text(cell) for cell in lines[number + 1]] if number + 1 < len(lines) else []
    if not any(below) or not all(is_subheading(text) for text in below if text):
        return texts, 1
    joined, group = [], ""
    for above, under in zip(texts, below, strict=True):
        group = above or (group if under else "")
        joined.append(f"{group} {under}".strip() if under else above)
    return joined, 2


def _text(cell: Cell) -> str:
    return " ".join(cell.split()) if isinstance(cell, str) else ""


def _candidates(texts: list[str]) -> list[Column]:
    return [
        Column(index=index, text=text, heading=heading)
        for index, text in enumerate(texts)
        if text and (heading := read_heading(text))
    ]


def _is_enough(meanings: set[Meaning]) -> bool:
    has_size = any({width, height} <= meanings or size in meanings for width, height, size in PAIRS)
    return Meaning.MARK in meanings and has_size


def _choose(found: list[Column]) -> tuple[dict[Meaning, Column], list[str]]:
    """Return one column for each meaning, and a note on what had to be assumed."""
    chosen: dict[Meaning, Column] = {}
    for column in sorted(found, key=lambda column: column.heading.rank):
        meaning = column.heading.meaning
        first = chosen.setdefault(meaning, column)
        if first is not column and first.heading.rank == column.heading.rank and meaning in _MUST_BE_PLAIN:
            raise BadSchedule(
                f"The columns “{first.text}” ({first.letter}) and “{column.text}” ({column.letter}) mean the "
                "same; keep one, or say in the headings which is the rough opening and which is the unit."
            )
    for pair in PAIRS:
        _keep_one_way(chosen, *pair)
    notes = [f"“{column.text}”: {column.heading.caveat}." for column in chosen.values() if column.heading.caveat]
    if Meaning.QUANTITY not in chosen:
        notes.append("There is no quantity column, so every row is one opening.")
    return dict(sorted(chosen.items(), key=lambda item: item[1].index)), notes


def _keep_one_way(chosen: dict[Meaning, Column], width: Meaning, height: Meaning, size: Meaning) -> None:
    """Drop the pair of columns or the column of whole sizes: the less plain one, or the unfinished pair."""
    pair = [chosen[meaning] for meaning in (width, height) if meaning in chosen]
    whole = chosen.get(size)
    if not whole:
        if len(pair) == 1:
            raise BadSchedule(
                f"The column “{pair[0].text}” ({pair[0].letter}) has no partner; give width and height both."
            )
        return
    if len(pair) == 2 and max(column.heading.rank for column in pair) <= whole.heading.rank:
        del chosen[size]
        return
    for column in pair:
        del chosen[column.heading.meaning]


def _stated_unit(lines: list[list[Cell]]) -> tuple[LengthUnit, list[str]]:
    """Return the unit that a line above the headings states for all dimensions; inches if none does."""
    for text in (_text(cell) for line in lines for cell in line):
        if stated := _STATED_UNIT.search(text):
            unit = length_unit({"mi": "mm", "in": "in"}.get(stated[1][:2].casefold(), stated[1].casefold())) or "in"
            return unit, [f"“{text}” stands above the headings, so bare numbers are read as {unit}."]
    return "in", []


def _unread(grid: Grid, texts: list[str], columns: Mapping[Meaning, Column]) -> list[str]:
    read = {column.index for column in columns.values()}
    unread = [f"“{text}” ({column_letter(index)})" for index, text in enumerate(texts) if text and index not in read]
    hidden = [column.letter for column in columns.values() if column.index in grid.hidden_columns]
    notes = []
    if unread:
        notes.append(f"Not read: {', '.join(unread)}.")
    if hidden:
        notes.append(f"Hidden but read: column {', '.join(sorted(hidden))}.")
    return notes
