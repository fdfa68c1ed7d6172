"""What else a schedule says of its openings: frame, glass, pressure, access, sills, panes, yes or no.

Limits are those of the opening's columns, so that nothing passes here that the database would refuse.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from typing import Any

from openings.calc.facts import MAX_DESIGN_PRESSURE_PSF, MAX_LITE_IN, MAX_LITES, MAX_SIDE_IN, MAX_STOREYS_UP
from openings.calc.figures import half_up, plain
from openings.calc.labor_rates import Access
from openings.calc.tape import LengthUnit, read_length
from openings.calc.terms import FrameMaterial
from openings.calc.units import CONVERSIONS, US
from openings.errors import BadSchedule
from openings.schedules.grid import Cell
from openings.schedules.headings.of_table import Column
from openings.schedules.layout import FACTS, Meaning
from openings.schedules.lines.cells import (
    CellReader,
    is_none_given,
    point,
    read_inches,
    read_side,
    read_text,
    refuse_date,
)
from openings.schedules.rows import NO_FACTS, FactValue

MOST_ABOVE_GRADE_IN = Decimal(99_999)
"""Five places before the point are kept; no building is that high."""

SIDES = {Meaning.CLEAR_WIDTH, Meaning.CLEAR_HEIGHT, Meaning.PANE_WIDTH, Meaning.PANE_HEIGHT}
"""Facts that are sides: above 0, and 0 where nobody gave one."""

FACT_LENGTHS = {*SIDES, Meaning.SILL_ABOVE_FLOOR, Meaning.SILL_ABOVE_GRADE, Meaning.CLEAR_SILL_ABOVE_FLOOR}

_FRAMES = {
    FrameMaterial.VINYL: {"vinyl", "pvc", "upvc"},
    FrameMaterial.WOOD: {"wood", "wooden", "timber"},
    FrameMaterial.ALUMINUM: {"aluminum", "aluminium", "alum", "alu", "al"},
    FrameMaterial.FIBERGLASS: {"fiberglass", "fibreglass", "fiberglas", "frp", "grp"},
}
_ACCESS = {
    **{access.value: access for access in Access},
    **dict.fromkeys(("ladders", "step ladder", "stepladder"), Access.LADDER),
    **dict.fromkeys(("scaffolding", "scaffolds"), Access.SCAFFOLD),
    **dict.fromkeys(("boom lift", "scissor lift", "man lift", "manlift", "aerial lift"), Access.LIFT),
}
_YES = {"yes", "y", "x", "true", "1", "✓", "✔", "☑", "√"}
_NO = {"no", "n", "false", "0", "☐"}
_MAKE_UP = re.compile(r"[\d./\"m]+(?: ?[-x] ?[\d./\"m]+)+|\d+(?:/\d+){2,}")
_BETWEEN_LITES = re.compile(r" *[+|;,&] *| +/ +|(?<=[m\"]) */ *(?=\d)")
_METRIC_END = re.compile(r"[\d. ](mm|cm)$")
_FRACTION = re.compile(r"\d{1,2}/\d{1,2}")
_FIGURE = r"(\d{1,6}(?:\.\d{1,5})?)"
_PRESSURE = re.compile(
    rf"(?:dp[ -]?)?(?P<first>(?:\+/-|±|\+)? ?{_FIGURE})(?: ?[/,;]? ?- ?(?P<second>{_FIGURE}))? ?"
    r"(?P<unit>psf|lb/ft2|lb/sq ?ft|kpa|pa)?",
    re.IGNORECASE,
)
_PASCALS = re.compile(r"\b(k?)Pa\b", re.IGNORECASE)


def fact_reader(column: Column, *, unit: LengthUnit, decimal_comma: bool) -> CellReader:
    """Return the reader of a column of facts; a cell that says nothing gives None.

    Args:
        column: where the cells come from and what its heading says.
        unit: what bare lengths are in.
        decimal_comma: whether a comma between digits is a decimal point.
    """
    meaning = column.heading.meaning

    def length(cell: Cell) -> Decimal | None:
        return read_fact_length(point(cell, decimal_comma), meaning=meaning, unit=unit)

    def lites(cell: Cell) -> tuple[Decimal, ...] | None:
        return read_lites(point(cell, decimal_comma), unit=unit)

    def pressure(cell: Cell) -> Decimal | None:
        in_pascals = _PASCALS.search(column.text)
        return read_pressure(point(cell, decimal_comma), unit=in_pascals[0].lower() if in_pascals else "psf")

    readers: dict[Meaning, Callable[[Cell], FactValue | None]] = {
        Meaning.FRAME_MATERIAL: read_frame,
        Meaning.LITES: lites,
        Meaning.DESIGN_PRESSURE: pressure,
        Meaning.ACCESS: read_access,
        Meaning.STOREYS_UP: read_storeys_up,
        **dict.fromkeys(FACT_LENGTHS, length),
    }
    return CellReader(_unless_blank(readers.get(meaning, read_yes_or_no)))


def facts_of(values: Mapping[Meaning, Sequence[Any]], meanings: Sequence[Meaning]) -> Sequence[Mapping[str, FactValue]]:
    """Return for each line what it says by the columns of these meanings, under the names of the opening's columns.

    Lines that say the same share one mapping.
    """
    names = [meaning.value for meaning in meanings if meaning in FACTS]
    seen: dict[tuple[Any, ...], Mapping[str, FactValue]] = {}
    found = []
    for said in zip(*(values[Meaning(name)] for name in names), strict=True):
        if (facts := seen.get(said)) is None:
            given = {name: value for name, value in zip(names, said, strict=True) if value is not None}
            facts = seen[said] = given or NO_FACTS
        found.append(facts)
    return found


def read_frame(cell: Cell) -> FrameMaterial:
    """Return the material of the frame; clad wood is wood.

    Raises:
        BadSchedule: the words name none that is known, or two.
    """
    text = read_text(cell)
    words = set(re.findall(r"[a-z]+", text.lower().replace("u-pvc", "upvc")))
    named = [frame for frame, names in _FRAMES.items() if names & words]
    if "clad" in words and FrameMaterial.WOOD in named:
        return FrameMaterial.WOOD
    if len(named) == 1 and "clad" not in words:
        return named[0]
    known = ", ".join(FrameMaterial)
    why = "names two frame materials" if len(named) > 1 else "names no frame material that is known"
    raise BadSchedule(f"“{text}” {why}; write one of {known}, or clad wood")


def read_lites(cell: Cell, *, unit: LengthUnit) -> tuple[Decimal, ...]:
    """Return the thickness of each lite of glass in inches, outside first.

    Raises:
        BadLength, BadSchedule: a thickness cannot be read, there are more than 4, or air gaps stand between them.
    """
    refuse_date(cell, example="1/8 + 1/8")
    text = read_text(cell)
    right = "give the lites alone, outside first, like 1/8 + 1/8 or 6 mm + 4 mm"
    if _MAKE_UP.fullmatch(text.lower().replace("–", "-")):
        raise BadSchedule(f"“{text}” can be lites alone, or lites with the air gaps between them; {right}")
    parts = [part for part in _BETWEEN_LITES.split(text.lower()) if part]
    if len(parts) > MAX_LITES:
        raise BadSchedule(f"“{text}” has {len(parts)} lites; a unit has at most {MAX_LITES}")
    named = _METRIC_END.search(parts[-1]) if parts else None
    shared: LengthUnit = named[1] if named else unit  # type: ignore[assignment]
    lites = tuple(read_length(f'{part}"' if _FRACTION.fullmatch(part) else part, unit=shared) for part in parts)
    if not lites or any(not 0 < lite <= MAX_LITE_IN for lite in lites):
        shown = " + ".join(map(US.say, lites)) or "nothing"
        hint = "; if the numbers are millimeters, write mm" if unit == "in" else ""
        raise BadSchedule(f"the lites are {shown}; each is thicker than 0 and at most {US.say(MAX_LITE_IN)}{hint}")
    return lites


def read_pressure(cell: Cell, *, unit: str = "psf") -> Decimal:
    """Return a design pressure in pounds a square foot, inward and outward alike.

    Args:
        unit: what a bare number is in: psf, pa or kpa.

    Raises:
        BadSchedule: it cannot be read, is not above 0 and at most 1,000 psf, or differs inward and outward.

    Source:
        Pound 0.45359237 kg, foot 0.3048 m: NIST Handbook 44, Appendix C; gravity 9.80665 m/s2: NIST SP 811.
    """
    refuse_date(cell, example="50")
    text = read_text(cell)
    found = _PRESSURE.fullmatch(text.replace("\N{MINUS SIGN}", "-").replace("–", "-").strip())
    if not found:
        raise BadSchedule("the design pressure must be a number like 50, DP50, +50/-50 or 2400 Pa")
    inward, outward = Decimal(found[2]), Decimal(found[4] or found[2])
    if inward != outward:
        least = min(inward, outward)
        raise BadSchedule(
            f"“{text}” gives {inward} inward and {outward} outward; one figure is kept for both, so give the smaller: "
            f"{least}"
        )
    named = (found["unit"] or unit).lower()
    pascals = inward * 1000 if named == "kpa" else inward
    pressure_psf = CONVERSIONS["psf"].from_metric(pascals) if named.endswith("pa") else half_up(inward)
    if not 0 < pressure_psf <= MAX_DESIGN_PRESSURE_PSF:
        limit = f"it must be above 0 and at most {MAX_DESIGN_PRESSURE_PSF} psf"
        raise BadSchedule(f"the design pressure is {plain(pressure_psf)} psf; {limit}")
    return pressure_psf


def read_access(cell: Cell) -> Access:
    """Return the access to the opening.

    Raises:
        BadSchedule: it is none of the known ways.
    """
    text = read_text(cell)
    if access := _ACCESS.get(text.lower().replace("-", " ")):
        return access
    raise BadSchedule(f"“{text}” is not a known access; write one of {', '.join(Access)}")


def read_storeys_up(cell: Cell) -> int:
    """Return how many storeys above the floor where the truck unloads.

    Raises:
        BadSchedule: it is no whole number from 0 to 100.
    """
    refuse_date(cell, example="2")
    text = read_text(cell)
    if not re.fullmatch(r"\d{1,9}", text, re.ASCII) or int(text) > MAX_STOREYS_UP:
        raise BadSchedule(f"the stories must be a whole number from 0 to {MAX_STOREYS_UP}")
    return int(text)


def read_yes_or_no(cell: Cell) -> bool:
    """Return whether a cell says yes.

    Raises:
        BadSchedule: it says neither yes nor no.
    """
    text = read_text(cell)
    if text.lower() in _YES:
        return True
    if text.lower() in _NO:
        return False
    raise BadSchedule(f"“{text}” says neither yes nor no; write yes, no or leave it blank")


def read_fact_length(cell: Cell, *, meaning: Meaning, unit: LengthUnit) -> Decimal | None:
    """Return a height or a side in inches; a side of 0 is none.

    Raises:
        BadLength: it cannot be read.
        BadSchedule: it is beyond what is kept of this column.
    """
    if meaning in SIDES:
        return read_side(cell, unit=unit)
    if meaning is Meaning.SILL_ABOVE_GRADE:
        return _above_grade(cell, unit=unit)
    length_in = read_inches(cell, unit=unit)
    if length_in is not None and length_in > MAX_SIDE_IN:
        hint = "; if the numbers are millimeters, say mm in the heading" if unit == "in" else ""
        raise BadSchedule(f"the height is {US.say(length_in)}; at most {US.say(MAX_SIDE_IN)} is kept{hint}")
    return length_in


def _above_grade(cell: Cell, *, unit: LengthUnit) -> Decimal | None:
    """Return the height above grade, which is negative in a well."""
    text = read_text(cell) if not isinstance(cell, str) else cell.strip().replace("\N{MINUS SIGN}", "-")
    is_below = text.startswith("-") and text != "-"
    length_in = read_inches(text[1:].strip() if is_below else cell, unit=unit)
    if length_in is not None and length_in > MOST_ABOVE_GRADE_IN:
        raise BadSchedule(f"the height is {US.say(length_in)}; at most {US.say(MOST_ABOVE_GRADE_IN)} is kept")
    return -length_in if length_in and is_below else length_in


def _unless_blank(read: Callable[[Cell], FactValue | None]) -> Callable[[Cell], FactValue | None]:
    return lambda cell: None if is_none_given(cell) else read(cell)
