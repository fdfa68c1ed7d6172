"""What the bare numbers of a column are in: decided for the whole column, and asked where it can be two things."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import get_args

from openings.calc.call_sizes import feet_and_inches, run_together_in
from openings.calc.facts import MAX_SIDE_IN
from openings.calc.notation import FEET_MARK, LONGEST_LENGTH, tidied
from openings.calc.tape import BareSize, LengthUnit, bare_size
from openings.schedules.grid import Cell
from openings.schedules.headings.of_table import Column, Headings
from openings.schedules.layout import PAIRS, Meaning
from openings.schedules.lines.cells import point, shown
from openings.schedules.lines.facts import FACT_LENGTHS, SIDES
from openings.schedules.rows import Question

LEAST_MM, MOST_MM = 150, 12_000
"""Sides between them can be millimeters of an opening (our choice)."""

HIGHEST_IN = 4_200
"""A sill higher above grade, 350 ft, is rather said in millimeters (our choice)."""

SMALLEST_IN = 10
"""A column of nothing but smaller sides is hardly in inches (our choice)."""

_SMALLEST_RUN_TOGETHER_IN = 210
"""As inches 17 1/2 ft, run together 2'-10": among sides that all can be run together the latter (our choice)."""

_MOST_M = 2
_INCHES = re.compile(r"\d ?(?:\"|in\b)|\d[ -]\d{1,2}/\d{1,2}")
_FEET = re.compile(rf"\d ?{FEET_MARK}")
_UNITS: dict[str, LengthUnit] = {unit: unit for unit in get_args(LengthUnit)}
_PAIRS = (*(pair[:2] for pair in PAIRS), *((meaning,) for meaning in sorted(FACT_LENGTHS)))


@dataclass(slots=True)
class ColumnUnits:
    """The unit of each column of lengths, and what is asked or was decided about it."""

    units: dict[Meaning, LengthUnit] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)

    def decide(self, column: Column, choices: Sequence[LengthUnit], why: str) -> None:
        """Take the first choice for a column; ask, unless a person settled the column."""
        self.units[column.heading.meaning] = choices[0]
        if column.heading.is_settled:
            self.notes.append(f"{why}; its bare numbers are read as {choices[0]}.")
            return
        self.questions.append(
            Question(
                field=f"columns.{column.letter}.unit",
                heading=column.text,
                detail=f"{why}; what are its bare numbers in?",
                choices=tuple(choices),
            )
        )


def units_of(headings: Headings, cells: Mapping[Meaning, Sequence[Cell]], *, decimal_comma: bool) -> ColumnUnits:
    """Return the unit of each column's bare lengths.

    What the heading or a line above the table says counts; else inches, unless the column as a whole speaks
    against them.
    """
    found = ColumnUnits()
    unsaid: dict[Meaning, Column] = {}
    for meaning, column in headings.columns.items():
        said = _UNITS.get(column.heading.unit)
        found.units[meaning] = said or headings.unit
        if not said and headings.unit == "in" and not headings.is_unit_stated:
            unsaid[meaning] = column
    for *_, size in PAIRS:
        if size in unsaid:
            _decide_size(unsaid[size], [point(cell, decimal_comma) for cell in dict.fromkeys(cells[size])], found)
    for pair in _PAIRS:
        columns = [unsaid[meaning] for meaning in pair if meaning in unsaid]
        if columns:
            numbers = [_bare_numbers(cells[column.heading.meaning], decimal_comma) for column in columns]
            _decide_sides(columns, numbers, _said_by_partner(headings, pair), found)
    return found


def _decide_size(column: Column, cells: Iterable[Cell], found: ColumnUnits) -> None:
    texts = [shown(cell) for cell in cells if isinstance(cell, str)]
    bare = {text: size for text in texts if (size := bare_size(text)) and max(_sides(size))}
    if not bare:
        return
    large = next((text for text, size in bare.items() if max(_sides(size)) > MAX_SIDE_IN), "")
    unsure = [text for text, size in bare.items() if size.is_open]
    where = f"“{column.text}” ({column.letter})"
    if large and all(_can_be_mm(size) for size in bare.values()):
        found.decide(column, ("mm", "in"), f"{where} has sizes such as “{large}”, too large for inches")
    elif unsure:
        if sure := next((text for text in texts if _is_in_inches(text, bare.get(text))), ""):
            found.notes.append(f"{where}: “{unsure[0]}” is read in inches, as “{sure}” of the same column must be.")
            return
        in_inches, in_feet = bare[unsure[0]].readings
        why = f"{where} has sizes such as “{unsure[0]}”, which can mean {in_inches} or {in_feet}"
        found.decide(column, _inches_or_feet(side for text in unsure for side in bare[text][:2]), why)
    elif all(size.is_small for size in bare.values()):
        text, size = next(iter(bare.items()))
        why = f"{where} has sizes such as “{text}”, which can mean {size.readings[1]} or {size.readings[0]}"
        found.decide(column, _feet_or_meters(max(_sides(size)) for size in bare.values()), why)


def _decide_sides(
    columns: list[Column], numbers: list[dict[Decimal, str]], partner: LengthUnit | None, found: ColumnUnits
) -> None:
    """Decide about width and height together: where one is in millimeters, so is the other."""
    sides = {side: text for some in numbers for side, text in some.items()}
    if not sides:
        return
    meaning = columns[0].heading.meaning
    is_side = meaning not in FACT_LENGTHS - SIDES
    largest, smallest = max(sides), min(sides)
    choices: tuple[LengthUnit, ...]
    if largest > (HIGHEST_IN if meaning is Meaning.SILL_ABOVE_GRADE else MAX_SIDE_IN):
        if is_side and not LEAST_MM <= smallest <= largest <= MOST_MM:
            return
        choices, why = ("mm", "in"), f"numbers such as {sides[largest]}, too large for inches"
    elif partner and partner != "in":
        choices, why = (partner, "in"), f"numbers such as {sides[largest]} without a unit, its partner is in {partner}"
    elif not is_side:
        return
    elif largest < SMALLEST_IN:
        choices, why = _feet_or_meters(sides), f"nothing but numbers such as {sides[largest]}, too small for inches"
    elif all(run_together_in(text) for text in sides.values()) and largest >= _SMALLEST_RUN_TOGETHER_IN:
        together = feet_and_inches(run_together_in(sides[largest]) or 0)
        choices = ("feet-inches", "in")
        why = f"numbers such as {sides[largest]}, which can mean {together} or {sides[largest]} in"
    else:
        return
    for column, some in zip(columns, numbers, strict=True):
        if some:
            found.decide(column, choices, f"“{column.text}” ({column.letter}) has {why}")


def _bare_numbers(cells: Sequence[Cell], decimal_comma: bool) -> dict[Decimal, str]:
    """Return the numbers above 0 of a column that stand there without a unit, and how they are written."""
    found = {}
    for cell in dict.fromkeys(cells):
        text = shown(point(cell, decimal_comma)).strip() if isinstance(cell, str | float | int) else ""
        whole, _, places = text.partition(".")
        if (whole + places).isdecimal() and (whole + places).isascii() and (number := Decimal(text)) > 0:
            found[number] = text
    return found


def _said_by_partner(headings: Headings, pair: Sequence[Meaning]) -> LengthUnit | None:
    there = [meaning for meaning in pair if meaning in headings.columns and meaning not in headings.inches]
    said = (_UNITS.get(headings.columns[meaning].heading.unit) for meaning in there)
    return next((unit for unit in said if unit), None)


def _sides(size: BareSize) -> tuple[Decimal, Decimal]:
    return Decimal(size.first), Decimal(size.second)


def _can_be_mm(size: BareSize) -> bool:
    return not size.is_code and all(LEAST_MM <= side <= MOST_MM for side in _sides(size))


def _is_in_inches(text: str, size: BareSize | None) -> bool:
    """Return whether a size cannot be feet and inches run together, so that others of its column are inches too."""
    if size:
        return not size.is_open and not size.is_small and 0 < max(_sides(size)) <= MAX_SIDE_IN
    tidy = tidied(text) if len(text) <= LONGEST_LENGTH else ""
    return bool(_INCHES.search(tidy)) and not _FEET.search(tidy)


def _inches_or_feet(sides: Iterable[str]) -> tuple[LengthUnit, ...]:
    is_far = any(Decimal(side) >= _SMALLEST_RUN_TOGETHER_IN for side in sides)
    return ("feet-inches", "in") if is_far else ("in", "feet-inches")


def _feet_or_meters(sides: Iterable[Decimal]) -> tuple[LengthUnit, ...]:
    return ("m", "ft", "in") if max(sides) <= _MOST_M else ("ft", "m", "in")
