"""One opening with all that its crew, its scheduler and the warehouse ask about it."""

from __future__ import annotations

from dataclasses import dataclass, fields
from decimal import Decimal

from jobs.errors import NotFound
from materials.queries.draw import DrawnLine, draw_lines
from openings.calc.elevation import Elevation, elevation_of
from openings.calc.labor import LaborLine, labor_of, total_person_h
from openings.calc.lift import Lift, lift_of
from openings.calc.tolerance import Check, Readings, checks_of
from openings.calc.weight import UnitWeight, weight_of
from openings.models import Assignment, FieldMeasurement, Hold, Opening
from openings.queries import Install, install_of, opening_list


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningSheet:
    """What the page of an opening shows."""

    opening: Opening
    method: str
    elevation: Elevation
    draw: tuple[DrawnLine, ...]
    labor: tuple[LaborLine, ...]
    total_person_h: Decimal
    weight: UnitWeight
    lift: Lift
    install: Install
    assignment: Assignment | None
    holds: tuple[Hold, ...]
    measurement: FieldMeasurement | None
    checks: tuple[Check, ...]


def opening_sheet(opening_id: int) -> OpeningSheet:
    """Return an opening with everything computed and recorded about it. Ten queries at most.

    Raises:
        NotFound: there is no such opening.
    """
    opening = opening_list().filter(pk=opening_id).first()
    if opening is None:
        raise NotFound(f"there is no opening {opening_id}")
    facts, detail = opening.as_facts(), opening.detail.as_facts()
    labor = labor_of(facts, detail)
    weight = weight_of(facts, mounting=detail.mounting)
    measurement = opening.measurements.select_related("measured_by").first()
    return OpeningSheet(
        opening=opening,
        method=detail.method,
        elevation=elevation_of(facts, detail),
        draw=tuple(draw_lines(opening)),
        labor=labor,
        total_person_h=total_person_h(labor),
        weight=weight,
        lift=lift_of(weight.lb),
        install=install_of(opening),
        assignment=opening.assignments.filter(withdrawn_at__isnull=True).select_related("crew_day__crew").first(),
        holds=tuple(opening.holds.select_related("placed_by", "released_by")),
        measurement=measurement,
        checks=checks_of(_readings(measurement), facts, detail) if measurement else (),
    )


def _readings(measurement: FieldMeasurement) -> Readings:
    return Readings(**{reading.name: getattr(measurement, reading.name) for reading in fields(Readings)})
