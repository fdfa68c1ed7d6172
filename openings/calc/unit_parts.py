"""What is a part of a unit is no larger than the unit: its largest pane, and what it leaves free when open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from jobs.calc.say import field_name
from jobs.errors import Fault
from openings.calc.units import US
from openings.errors import BadLength

PART_OF = {
    "clear_width_in": "unit_width_in",
    "clear_height_in": "unit_height_in",
    "pane_width_in": "unit_width_in",
    "pane_height_in": "unit_height_in",
}
"""Which side of the unit bounds each of them (geometry)."""


def require_parts_within(values_in: Mapping[str, Any]) -> None:
    """Refuse a pane or a clear opening that is larger than its unit.

    Args:
        values_in: sides of the unit and of its parts by column, inches; None or left out where nobody said.

    Raises:
        BadLength: a part is larger; one fault names each.
    """
    if faults := tuple(_too_large(values_in)):
        raise BadLength("; ".join(fault.detail for fault in faults), faults=faults)


def _too_large(values_in: Mapping[str, Any]) -> Iterator[Fault]:
    for part, side in PART_OF.items():
        part_in, unit_in = values_in.get(part), values_in.get(side)
        if part_in is not None and unit_in is not None and part_in > unit_in:
            sentence = (
                f"the {field_name(part)} is {US.say(part_in)}, more than the {field_name(side)} of {US.say(unit_in)}; "
                "it is a part of the unit: correct one of the two"
            )
            yield Fault(field=part, value=str(part_in), detail=sentence)
