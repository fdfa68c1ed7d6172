"""The facts of an opening that a row of a schedule gives."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from jobs.errors import Fault
from openings.calc.facts import DetailFacts, OpeningFacts, require_fit
from openings.calc.sides import sides_of
from openings.calc.terms import FrameMaterial
from openings.calc.unit_parts import require_parts_within
from openings.calc.units import US
from openings.errors import BadDetail, BadLength, BadSchedule
from openings.plans.find_detail import labelled
from openings.schedules import ScheduleRow

SIDES = ("ro_width_in", "ro_height_in", "unit_width_in", "unit_height_in")
OF_THE_UNIT = ("frame_material", "lites_in", "design_pressure_psf")


def facts_of_row(row: ScheduleRow, sides: Mapping[str, Any], detail: DetailFacts, name: str) -> OpeningFacts:
    """Return the facts of an opening that a row gives.

    Raises:
        BadSchedule: the opening cannot be, or cannot take the detail; one fault names the row.
    """
    try:
        opening = OpeningFacts(
            **sides_of(**sides, detail=detail), operation=row.operation, weight_lb=row.weight_lb, **_of_the_unit(row)
        )
        require_fit(opening, detail)
    except BadDetail as error:
        sentence = f"{error.detail}; give this row another detail, or change {name}"
        raise BadSchedule(
            sentence, faults=[Fault(field=labelled("detail", row), row=row.row, value=name, detail=sentence)]
        ) from error
    except BadLength as error:
        given = (row.unit_width_in or row.ro_width_in, row.unit_height_in or row.ro_height_in)
        size = " × ".join(US.say(side) for side in given if side is not None)
        raise BadSchedule(
            error.detail, faults=[Fault(field=labelled("size", row), row=row.row, value=size, detail=error.detail)]
        ) from error
    return opening


def facts_of_values(values: Mapping[str, Any]) -> OpeningFacts:
    """Return the facts of the unit that an opening has by these values."""
    return OpeningFacts(
        **{side: values[side] for side in SIDES},
        weight_lb=values["weight_lb"],
        lites_in=tuple(values["lites_in"]),
        frame_material=FrameMaterial(values["frame_material"]) if values["frame_material"] else None,
    )


def require_parts_of_row(row: ScheduleRow, values: Mapping[str, Any]) -> None:
    """Refuse a row by which a pane or a clear opening is larger than its unit.

    Args:
        values: what the opening has by the row, by column.

    Raises:
        BadSchedule: it is; a fault names the row and each column.
    """
    try:
        require_parts_within(values)
    except BadLength as error:
        faults = [replace(fault, field=labelled(fault.field, row), row=row.row) for fault in error.faults]
        raise BadSchedule(error.detail, faults=faults) from error


def _of_the_unit(row: ScheduleRow) -> dict[str, Any]:
    given = {name: row.facts[name] for name in OF_THE_UNIT if name in row.facts} if row.facts else {}
    if material := given.get("frame_material"):
        given["frame_material"] = FrameMaterial(str(material))
    return given
