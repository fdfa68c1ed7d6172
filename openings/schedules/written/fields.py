"""What is written of each opening, and under which heading."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any, Final

from openings.calc.figures import plain

ALWAYS: Final = {
    "mark": "Opening mark",
    "quantity": "Quantity",
    "ro_width_in": "RO width (in)",
    "ro_height_in": "RO height (in)",
    "unit_width_in": "Unit width (in)",
    "unit_height_in": "Unit height (in)",
    "operation": "Operation",
    "floor": "Floor",
    "detail": "Detail",
    "weight_lb": "Weight (lb)",
}
WHERE_SAID: Final = {
    "frame_material": "Frame material",
    "lites_in": "Lites (in)",
    "design_pressure_psf": "Design pressure (psf)",
    "access": "Access",
    "storeys_up": "Stories up",
    "sill_above_floor_in": "Sill above floor (in)",
    "sill_above_grade_in": "Sill above grade (in)",
    "clear_width_in": "Clear width (in)",
    "clear_height_in": "Clear height (in)",
    "clear_sill_above_floor_in": "Clear sill above floor (in)",
    "pane_width_in": "Pane width (in)",
    "pane_height_in": "Pane height (in)",
    "is_egress": "Egress",
    "is_grade_floor": "Grade floor",
    "is_near_door": "Near door",
    "is_near_walkway": "Near walkway",
    "is_wet_area": "Wet area",
    "remarks": "Remarks",
}
"""Columns that are left out where no opening has anything to say in them."""

ONLY_WRITTEN: Final = {
    "status": "Status",
    "crew": "Crew",
    "crew_day": "Crew day",
    "person_h": "Hours planned",
    "holds": "Holds",
}
"""What the reader passes over: it comes from the work, not from a schedule."""

HEADINGS: Final = ALWAYS | WHERE_SAID | ONLY_WRITTEN
"""Every heading that is written, by the field of `WrittenOpening`, in the order of the columns."""

Cell = str | int | Decimal | date | None
Value = str | int | bool | Decimal | date | tuple[Decimal, ...] | tuple[str, ...] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenOpening:
    """One opening as its schedule says it, and where it stands; named as the columns of an opening.

    Args:
        crew, crew_day, person_h: of its live assignment, if it has one.
        holds: the kinds of its open holds.
    """

    mark: str
    quantity: int = 1
    ro_width_in: Decimal
    ro_height_in: Decimal
    unit_width_in: Decimal
    unit_height_in: Decimal
    operation: str = ""
    floor: str = ""
    detail: str = ""
    weight_lb: Decimal | None = None
    frame_material: str = ""
    lites_in: tuple[Decimal, ...] = ()
    design_pressure_psf: Decimal | None = None
    access: str = "clear"
    storeys_up: int = 0
    sill_above_floor_in: Decimal | None = None
    sill_above_grade_in: Decimal | None = None
    clear_width_in: Decimal | None = None
    clear_height_in: Decimal | None = None
    clear_sill_above_floor_in: Decimal | None = None
    pane_width_in: Decimal | None = None
    pane_height_in: Decimal | None = None
    is_egress: bool | None = None
    is_grade_floor: bool | None = None
    is_near_door: bool | None = None
    is_near_walkway: bool | None = None
    is_wet_area: bool | None = None
    remarks: str = ""
    status: str = ""
    crew: str = ""
    crew_day: date | None = None
    person_h: Decimal | None = None
    holds: tuple[str, ...] = ()


def columns_of(rows: Iterable[WrittenOpening]) -> list[str]:
    """Return the fields to write: of `WHERE_SAID` only those that some opening says something in."""
    left = dict.fromkeys(WHERE_SAID)
    for row in rows:
        for name in [name for name in left if getattr(row, name) not in _UNSAID.get(name, _NOTHING)]:
            del left[name]
    return [name for name in HEADINGS if name not in left]


_NOTHING: Final[tuple[Value, ...]] = (None, "", ())
_UNSAID: Final[dict[str, tuple[Value, ...]]] = {"access": ("clear",), "storeys_up": (0,)}


def in_cell(value: Value) -> Cell:
    """Return the value for a cell: text, a number, a date, or nothing."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return _listed(value)
    return value if value != "" else None


def _listed(values: tuple[Any, ...]) -> str | None:
    """Return lites as a sum, outside first, and kinds of holds as a list."""
    return (" + " if isinstance(values[0], Decimal) else ", ").join(map(plain, values)) if values else None
