"""Totals that a schedule states, held against its rows."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from jobs.calc.say import counted, plural
from openings.schedules.grid import Cell
from openings.schedules.headings.of_table import Headings
from openings.schedules.layout import Meaning, Totals
from openings.schedules.rows import Question

_MOST_NAMED = 5
_LONGEST_SHOWN = 80
_NUMBER = re.compile(r"(?<![\d.,/'-])\d{1,6}(?![\d.,/'\"-]*\d|['\"])")
_GRAND = re.compile(r"\bgrand\b", re.IGNORECASE)
_OF_ROWS = re.compile(r"\b(?:types?|marks?|rows?|lines?|items?|kinds?|tags?)\b", re.IGNORECASE)
_CLOSING = re.compile(r".+: ?\d+")


@dataclass(frozen=True, slots=True)
class Stated:
    """A line that states a total.

    Args:
        row: as the user counts it.
        begins: the openings from which on it may count: all, those of the last floor, those of the last group.
        end: the opening after the last that it counts.
        left_out: lines above it that were left out, and that it may count all the same.
    """

    row: int
    line: Sequence[Cell]
    begins: frozenset[int]
    end: int
    left_out: tuple[Sequence[Cell], ...] = ()


def questions_of(stated: Sequence[Stated], counts: Sequence[int], headings: Headings) -> Iterator[Question]:
    """Yield a question if a total differs from the rows.

    Args:
        counts: how many openings each line of the body stands for.
    """
    differing = [sentence for one in stated for sentence in _differing(one, counts, headings)]
    if differing and headings.totals is None:
        more = f" So do {len(differing) - _MOST_NAMED} more totals." if len(differing) > _MOST_NAMED else ""
        yield Question(
            field="totals",
            detail=f"{' '.join(differing[:_MOST_NAMED])}{more} Correct the file, or take the rows as they are read.",
            choices=tuple(Totals),
        )


def _differing(stated: Stated, counts: Sequence[int], headings: Headings) -> Iterator[str]:
    """Yield a sentence for what a line states if the rows come to something else."""
    label = " ".join(cell for cell in stated.line if isinstance(cell, str))
    begins = frozenset({0}) if _GRAND.search(label) else stated.begins
    number, is_column = _number_of(stated.line, label, headings)
    if number is None:
        return
    of_lines = {stated.end - begin for begin in begins}
    of_openings = {sum(counts[begin : stated.end]) for begin in begins}
    if stated.left_out:
        quantity = headings.columns.get(Meaning.QUANTITY)
        left = sum((_whole(line[quantity.index]) or 0) if quantity else 1 for line in stated.left_out)
        of_openings.add(sum(counts[: stated.end]) + left)
    may_be_of_lines = not is_column and (_OF_ROWS.search(label) or _CLOSING.fullmatch(label.strip()))
    if number not in of_openings and not (may_be_of_lines and number in of_lines):
        begin = max((one for one in begins if one < stated.end), default=0)
        rows, openings = stated.end - begin, sum(counts[begin : stated.end])
        yield (
            f"Row {stated.row} “{label[:_LONGEST_SHOWN].strip() or number}” states {number:,}, but the {rows:,} "
            f"{plural('row', rows)} above it come to {counted(openings, 'opening')}."
        )


def _number_of(line: Sequence[Cell], label: str, headings: Headings) -> tuple[int | None, bool]:
    """Return the number that a line states, and whether it stands in the column of quantities."""
    quantity = headings.columns.get(Meaning.QUANTITY)
    if quantity and (number := _whole(line[quantity.index])) is not None:
        return number, True
    counted = [_whole(line[column.index]) for column in headings.counts]
    if said := [number for number in counted if number is not None]:
        return sum(said), True
    numbers = [number for cell in line if not isinstance(cell, str) and (number := _whole(cell)) is not None]
    bare = [int(cell) for cell in line if isinstance(cell, str) and re.fullmatch(r"\d{1,6}", cell.strip(), re.ASCII)]
    within = [int(found[0]) for found in _NUMBER.finditer(label)] if not (numbers or bare) else []
    alone = [*numbers, *bare] or within[-1:]
    return (alone[0], False) if len(alone) == 1 else (None, False)


def _whole(cell: Cell) -> int | None:
    if isinstance(cell, str):
        found = re.fullmatch(
            r"(\d{1,6})(?: ?(?:ea|pcs?|no|units?|windows?)\.?)?", cell.strip(), re.ASCII | re.IGNORECASE
        )
        return int(found[1]) if found else None
    return int(cell) if isinstance(cell, float | int) and not isinstance(cell, bool) and cell == int(cell) else None
