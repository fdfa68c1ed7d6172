"""What a reading tells of the layout of a file: proposal, tables, the layout to remember and its fingerprint."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from openings.schedules.columns.found import Found
from openings.schedules.columns.guesses import Guess
from openings.schedules.columns.samples import SHOWN
from openings.schedules.columns.stated import unit_stated_for
from openings.schedules.grid import column_index
from openings.schedules.headings.plain import Heading, read_heading
from openings.schedules.layout import LENGTHS, WHOLE_SIZES, ColumnAnswer, Layout, Marks, Totals, units_for
from openings.schedules.lines.asides import likeliest_of
from openings.schedules.rows import ColumnProposal, Question, TableFound
from openings.schedules.tables.table import Table, row_number

_OF_COLUMN = re.compile(r"columns\.(?P<letter>[A-Z]{1,3})\.(?P<part>\w+)")


def proposal_of(found: Sequence[Found]) -> Iterator[ColumnProposal]:
    """Yield the meaning proposed for each column with a heading, table by table from left to right."""
    for one in found:
        for guess in one.guesses:
            stated = one.headings.unit if one.headings.is_unit_stated and guess.meaning in LENGTHS else ""
            yield ColumnProposal(
                letter=guess.letter,
                heading=guess.text,
                meaning=guess.meaning,
                unit=(guess.heading.unit if guess.heading else "") or stated,
                confidence=guess.confidence,
                samples=guess.samples[:SHOWN],
                choices=tuple(choice for choice in guess.choices if choice is not guess.meaning),
                table=one.table.name,
            )


def table_found(table: Table, *, is_read: bool) -> TableFound:
    last = len(table.grid.lines) if table.last_line is None else table.last_line
    return TableFound(
        name=table.name,
        sheet=table.grid.name,
        title=table.title,
        first_row=row_number(table.grid, max(0, table.block.top)),
        last_row=row_number(table.grid, max(0, last - 1)),
        is_read=is_read,
    )


def fingerprint_of(tables: Sequence[Table], *, kind: str) -> str:
    """Return the same text for files whose tables to read are headed alike, whatever their sheets are called.

    Nothing is returned for a table without headings: others that hold something else would look the same.
    """
    if not all(table.headings for table in tables):
        return ""
    headed = sorted({(table.headings, unit_stated_for(table)[0]) for table in tables})
    return hashlib.sha256(json.dumps([kind, headed]).encode()).hexdigest()[:32]


def with_keys(questions: Sequence[Question], table: Table, tables: Sequence[Table]) -> list[Question]:
    """Return questions about columns of a table with the keys that a layout has for these columns."""
    asked = []
    for question in questions:
        if place := _OF_COLUMN.fullmatch(question.field):
            key = key_of(place["letter"], table, tables)
            question = replace(question, field=f"columns.{key}.{place['part']}")
        asked.append(question)
    return asked


def key_of(letter: str, table: Table, tables: Sequence[Table]) -> str:
    """Return the letter of a column, or table and letter if another column of that letter is headed otherwise."""
    at = column_index(letter)
    headings = {text for other in tables if (text := other.block.texts.get(at))}
    return letter if len({" ".join(text.casefold().split()) for text in headings}) <= 1 else f"{table.name}:{letter}"


def layout_of_found(
    found: Sequence[Found],
    tables: Sequence[Table],
    questions: Sequence[Question],
    *,
    marks: Marks | None,
    totals: Totals | None,
) -> Layout:
    """Return the layout that reads the same again without a question."""
    likeliest = {question.field: question.choices[0] for question in questions if question.choices}
    likeliest_left = {
        question.field: likeliest_of(question) for question in questions if question.field.endswith(".leave_out")
    }
    read = [one.table for one in found]
    names = [table.name for table in read]
    columns = {
        key: _says(
            guess,
            unit=likeliest.get(f"columns.{key}.unit", ""),
            is_width_first=likeliest.get(f"columns.{key}.height_first") == "false",
            leave_out=likeliest_left.get(f"columns.{key}.leave_out"),
        )
        for one in found
        for guess in one.guesses
        for key in [key_of(guess.letter, one.table, read)]
    }
    return Layout(
        tables=tuple(names),
        left_out=tuple(table.name for table in tables if table.name not in names),
        columns=columns,
        marks=marks or (Marks(likeliest["marks"]) if "marks" in likeliest else None),
        totals=totals or (Totals(likeliest["totals"]) if "totals" in likeliest else None),
    )


def _says(guess: Guess, *, unit: str, is_width_first: bool, leave_out: tuple[str, ...] | None) -> ColumnAnswer:
    heading = guess.heading
    leave_out = guess.leave_out if leave_out is None else leave_out
    if heading is None:
        return ColumnAnswer(meaning=None, leave_out=leave_out)
    named = unit or heading.unit
    return ColumnAnswer(
        meaning=heading.meaning,
        unit=named if named in units_for(heading.meaning) else "",
        floor=heading.floor,
        leave_out=leave_out,
        height_first=_height_first(heading, guess.text, is_width_first=is_width_first),
    )


def _height_first(heading: Heading, text: str, *, is_width_first: bool) -> bool | None:
    """Return the order of the sides that a layout must say, since the heading alone does not; None if it does."""
    if heading.meaning not in WHOLE_SIZES or heading.height_first:
        return heading.height_first or None
    plain = read_heading(text)
    is_plain = plain is not None and plain.meaning in WHOLE_SIZES and not plain.height_first
    return None if is_plain or not (heading.is_order_known or is_width_first) else False
