"""A table with its columns understood, ready to be read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from openings.schedules.columns.asking import name_of
from openings.schedules.columns.claims import Claims, claims_of
from openings.schedules.columns.guesses import Guess, guesses_of
from openings.schedules.columns.stated import unit_stated_for
from openings.schedules.grid import Grid
from openings.schedules.headings.of_table import Aside, Column, Headings
from openings.schedules.headings.plain import LONGEST_HEADING, Heading, is_foreign, names_openings, words_of
from openings.schedules.headings.similar import NOT_PLAIN, POSSIBLE
from openings.schedules.layout import ColumnAnswer, Marks, Meaning, Totals
from openings.schedules.rows import Question
from openings.schedules.tables.blocks import text_of
from openings.schedules.tables.table import Table

_OF_THE_ROW = {"status", "phase", "phase created", "rev", "revision"}
"""Columns that nothing reads and that yet say something of the row, not of the unit as maker or finish do."""

_ASIDES = {None, Meaning.OPERATION, Meaning.FLOOR, Meaning.DETAIL, Meaning.REMARKS}
"""What a column may be read for that also says of rows that they are no part of the work."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A table, the meanings taken for its columns, and the questions left about them.

    Args:
        grid: the cells of the table alone where others stand beside it.
        guesses: one for every column with a heading; those that are not read have none of their meaning.
    """

    table: Table
    grid: Grid
    headings: Headings
    guesses: tuple[Guess, ...]
    questions: tuple[Question, ...]


def found_in(
    table: Table, settled: Mapping[int, ColumnAnswer], *, marks: Marks | None, totals: Totals | None = None
) -> Found:
    """Return a table with the columns to read.

    Raises:
        BadSchedule: it lacks a mark or a size, or what is settled contradicts itself.
    """
    guesses = guesses_of(table, settled)
    claims = claims_of(guesses)
    unit, stated = unit_stated_for(table)
    notes = list(claims.notes)
    if unit:
        notes.insert(0, f"“{stated}” is above or below the table, so bare numbers are read as {unit}.")
    mark = claims.chosen[Meaning.MARK]
    headings = Headings(
        columns={meaning: _column(meaning, guess) for meaning, guess in _in_order(claims)},
        counts=tuple(_column(Meaning.COUNT_ON_FLOOR, guess) for guess in claims.counts),
        first_line=table.block.bottom,
        last_line=table.last_line,
        unit=unit or "in",
        is_unit_stated=unit is not None,
        marks=marks or (Marks.AS_WRITTEN if names_openings(mark.text) else None),
        inches={meaning: _column(meaning, guess) for meaning, guess in claims.inches.items()},
        totals=totals,
        asides=tuple(_asides(guesses, claims)),
        notes=(*notes, *_notes(table, guesses, claims)),
    )
    return Found(
        table=table,
        grid=_without(_alone(table), stated, first=table.block.bottom),
        headings=headings,
        guesses=tuple(_as_claimed(guess, claims) for guess in guesses),
        questions=tuple(sorted(claims.questions, key=lambda one: (len(one.field), one.field))),
    )


def _in_order(claims: Claims) -> Sequence[tuple[Meaning, Guess]]:
    return sorted(claims.chosen.items(), key=lambda one: one[1].index)


def _column(meaning: Meaning, guess: Guess) -> Column:
    return Column(index=guess.index, text=guess.text, heading=guess.heading or Heading(meaning=meaning))


def _asides(guesses: Sequence[Guess], claims: Claims) -> Iterator[Aside]:
    """Yield every column whose values may say that a row is no part of the work."""
    read = {guess.index: meaning for meaning, guess in claims.chosen.items()}
    counted = {guess.index for guess in claims.counts}
    mark = claims.chosen[Meaning.MARK]
    yield Aside(index=mark.index, text=mark.text, is_read=True, is_between=True, leave_out=mark.leave_out)
    for guess in guesses:
        is_of_the_unit = is_foreign(guess.text) and words_of(guess.text) not in _OF_THE_ROW
        is_free = guess.index not in counted and guess.feet_at is None and not is_of_the_unit
        if is_free and read.get(guess.index) in _ASIDES:
            yield Aside(index=guess.index, text=guess.text, is_read=guess.index in read, leave_out=guess.leave_out)


def _as_claimed(guess: Guess, claims: Claims) -> Guess:
    """Return the guess with the meaning that its column is read for, or without one."""
    chosen = [
        one for one in (*claims.chosen.values(), *claims.counts, *claims.inches.values()) if one.index == guess.index
    ]
    if chosen:
        return chosen[0]
    if guess.heading is None:
        return guess
    is_asked = any(question.field == f"columns.{guess.letter}.meaning" for question in claims.questions)
    confidence = min(guess.confidence, POSSIBLE) if is_asked else guess.confidence
    return replace(guess, heading=None, choices=guess.choices or (guess.heading.meaning,), confidence=confidence)


def _alone(table: Table) -> Grid:
    """Return the cells of a table without those of the tables beside it."""
    grid, columns = table.grid, table.columns
    if columns is None:
        return grid
    left, width = [""] * columns.start, len(grid.lines[0])
    right = [""] * (width - columns.stop)
    return replace(
        grid,
        lines=[[*left, *line[columns.start : columns.stop], *right] for line in grid.lines],
        merges=tuple(merge for merge in grid.merges if merge.left in columns),
    )


def _without(grid: Grid, stated: str, *, first: int) -> Grid:
    """Return the cells without a line beneath the headings that says nothing but a unit: it is no row."""
    numbers = (
        []
        if not stated
        else [
            number
            for number, line in enumerate(grid.lines[first:], start=first)
            if stated in map(text_of, line) and sum(1 for cell in line if cell != "") == 1
        ]
    )
    if not numbers:
        return grid
    lines = list(grid.lines)
    for number in numbers:
        lines[number] = [""] * len(lines[number])
    return replace(grid, lines=lines)


def _notes(table: Table, guesses: Sequence[Guess], claims: Claims) -> list[str]:
    notes = [
        f"“{guess.text}”: {guess.heading.caveat}."
        for _, guess in _in_order(claims)
        if guess.heading and guess.heading.caveat and not guess.choices
    ]
    notes.extend(
        f"{guess.named} is read as {name_of(meaning)}; its heading says so in other words."
        for meaning, guess in _in_order(claims)
        if guess.heading and guess.heading.rank >= NOT_PLAIN and not guess.choices and not guess.is_settled
    )
    notes.extend(
        f"{claims.chosen[meaning].named} has the feet and {guess.named} the inches of {name_of(meaning)}."
        for meaning, guess in claims.inches.items()
    )
    if claims.counts:
        floors = ", ".join(f"“{guess.heading.floor}” ({guess.letter})" for guess in claims.counts if guess.heading)
        notes.append(f"Counted floor by floor: {floors}.")
    elif Meaning.QUANTITY not in claims.chosen:
        notes.append("There is no quantity column, so every row is one opening.")
    unread = [guess.named for guess in guesses if guess.index not in claims.indexes]
    hidden = sorted(
        guess.letter for guess in guesses if guess.index in claims.indexes and guess.index in table.grid.hidden_columns
    )
    notes.extend(
        f"What is above column {guess.letter} has more than {LONGEST_HEADING} letters, so it is not a heading."
        for guess in guesses
        if len(guess.text) > LONGEST_HEADING
    )
    if unread:
        notes.append(f"Not read: {', '.join(unread)}.")
    if table.beside:
        notes.append(f"Not read, because it is beside the table: {', '.join(f'“{text}”' for text in table.beside)}.")
    if hidden:
        notes.append(f"Hidden but read: column {', '.join(hidden)}.")
    return notes
