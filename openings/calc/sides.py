"""The sizes of an opening and of its unit, where only one of them is given."""

from __future__ import annotations

from decimal import Decimal
from typing import TypedDict

from jobs.errors import Fault
from openings.calc.facts import DetailFacts
from openings.errors import BadLength


class Sides(TypedDict):
    """The sides of a rough opening and of its unit, inches."""

    ro_width_in: Decimal
    ro_height_in: Decimal
    unit_width_in: Decimal
    unit_height_in: Decimal


def sides_of(
    *,
    ro_width_in: Decimal | None,
    ro_height_in: Decimal | None,
    unit_width_in: Decimal | None,
    unit_height_in: Decimal | None,
    detail: DetailFacts,
) -> Sides:
    """Return the four sides by name; one that nobody gave follows from the other by the clearance of the detail.

    Raises:
        BadLength: neither the rough opening nor the unit has one of its sides.
    """
    clear_width_in, clear_height_in = detail.ro_clearance_width_in, detail.ro_clearance_height_in
    ro_width_in, unit_width_in = _both("width", ro_width_in, unit_width_in, clear_width_in)
    ro_height_in, unit_height_in = _both("height", ro_height_in, unit_height_in, clear_height_in)
    return {
        "ro_width_in": ro_width_in,
        "ro_height_in": ro_height_in,
        "unit_width_in": unit_width_in,
        "unit_height_in": unit_height_in,
    }


def _both(
    side: str, rough_in: Decimal | None, unit_in: Decimal | None, clearance_in: Decimal
) -> tuple[Decimal, Decimal]:
    """Return a side of the rough opening and of the unit, of which one may not be given."""
    if rough_in is None and unit_in is None:
        sentence = f"give the {side} of the rough opening, of the unit, or both"
        raise BadLength(sentence, faults=[Fault(field=f"ro_{side}_in", detail=sentence)])
    if rough_in is None:
        rough_in = (unit_in or 0) + clearance_in
    return rough_in, rough_in - clearance_in if unit_in is None else unit_in
