"""One opening with all that its crew, its scheduler and the warehouse ask about it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from decimal import Decimal
from typing import Any

from jobs.calc.sentence import Sentence
from jobs.errors import NotFound
from materials.calc.attachment import Held
from materials.calc.compatibility import Judged
from materials.calc.load_list import LoadItem
from materials.calc.parts import Part
from materials.calc.supply import Shortfall, SuppliedLine
from materials.models import PullSheet
from materials.queries.draw import OpeningDraw, opening_draw
from materials.queries.pull_sheet import sheets_listing
from openings.calc.advice import Advice
from openings.calc.as_built import RoughOpening, built_size_in, why_no_room
from openings.calc.code_advice import code_advice
from openings.calc.elevation import Elevation, elevation_of
from openings.calc.labor import LaborLine
from openings.calc.lay_order import Step, steps_for
from openings.calc.next_trade import left_for_next_trade
from openings.calc.order_size import OrderSize
from openings.calc.production import CrewTime
from openings.calc.setting_advice import setting_advice
from openings.calc.terms import Mounting
from openings.calc.tolerance import Check
from openings.calc.unit_lift import UnitLift
from openings.calc.units import US, Units
from openings.calc.ways import Way, ways_of
from openings.models import Assignment, FieldMeasurement, Hold, Opening
from openings.queries import (
    Install,
    install_of,
    measured_checks,
    opening_labor,
    opening_lift,
    opening_list,
    weight_doubt,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class EverythingComputed:
    """Every figure of one opening with its reason, in the units in which it is said."""

    opening: Opening
    units: Units
    method: str
    steps: tuple[Step, ...]
    ways: tuple[Way, ...]
    next_trade: tuple[Sentence, ...]
    draw: tuple[SuppliedLine, ...]
    lacks: Mapping[Part, str]
    unknown: Mapping[Part, str]
    faults: tuple[Shortfall, ...]
    judged: tuple[Judged, ...]
    advice: tuple[Advice, ...]
    held: tuple[Held, ...]
    load_list: tuple[LoadItem, ...]
    labor: tuple[LaborLine, ...]
    total_person_h: Decimal
    crew: CrewTime
    weight_doubt: str
    lift: UnitLift
    measurement: FieldMeasurement | None
    checks: tuple[Check, ...]
    order_size: OrderSize | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningSheet(EverythingComputed):
    """What the page of an opening shows: its figures, its drawing, and what is recorded of it.

    Args:
        to_accept: the size that its measurement would give it; None where there is nothing to accept.
    """

    elevation: Elevation
    install: Install
    assignment: Assignment | None
    holds: tuple[Hold, ...]
    sheets: tuple[PullSheet, ...]
    to_accept: RoughOpening | None


def opening_sheet(opening_id: int, *, units: Units = US) -> OpeningSheet:
    """Return an opening with everything computed and recorded about it. Fourteen queries at most.

    Raises:
        NotFound: there is no such opening.
    """
    opening = opening_of(opening_id)
    computed = _computed(opening, units)
    figures: dict[str, Any] = {one.name: getattr(computed, one.name) for one in fields(computed)}
    return OpeningSheet(
        **figures,
        elevation=elevation_of(opening.as_facts(), opening.detail.as_facts(), units=units),
        install=install_of(opening, units=units),
        assignment=opening.assignments.live().select_related("crew_day__crew").first(),
        holds=tuple(opening.holds.select_related("placed_by", "released_by")),
        sheets=tuple(sheets_listing(opening_id)),
        to_accept=_to_accept(opening, computed.measurement),
    )


def _to_accept(opening: Opening, measurement: FieldMeasurement | None) -> RoughOpening | None:
    """Return the size that a measurement would give the opening, if it is not accepted and can be. No query."""
    if measurement is None or measurement.pk == opening.built_from_id:
        return None
    readings = measurement.as_readings()
    if why_no_room(readings, (opening.unit_width_in, opening.unit_height_in)):
        return None
    return RoughOpening(opening.rough_opening.drawn_in, built_size_in(readings))


def everything_computed(opening_id: int, *, units: Units = US) -> EverythingComputed:
    """Return every figure of an opening. Eight queries at most.

    Raises:
        NotFound: there is no such opening.
    """
    return _computed(opening_of(opening_id), units)


def opening_of(opening_id: int) -> Opening:
    """Return an opening with job and detail. Two queries.

    Raises:
        NotFound: there is no such opening.
    """
    opening = opening_list().filter(pk=opening_id).first()
    if opening is None:
        raise NotFound(f"there is no opening {opening_id}")
    return opening


def _computed(opening: Opening, units: Units) -> EverythingComputed:
    """Return every figure of an opening that was read with job and detail. Six queries at most."""
    detail = opening.detail.as_facts()
    draw = opening_draw(opening, units=units)
    labor = opening_labor(opening)
    measurement = opening.measurements.select_related("measured_by", "accepted_by").first()
    measured = measured_checks(measurement, has_head_expander=False, units=units) if measurement else {}
    is_insert = detail.mounting is Mounting.BOX_FRAME
    return EverythingComputed(
        opening=opening,
        units=units,
        method=detail.method,
        steps=steps_for(detail, units=units),
        ways=ways_of(opening.as_facts(), detail, units=units),
        next_trade=left_for_next_trade(detail, units=units),
        draw=draw.lines,
        lacks=draw.lacks,
        unknown=draw.unknown,
        faults=draw.faults,
        judged=draw.judged,
        advice=_advice(opening, draw, units),
        held=draw.held,
        load_list=draw.load_list,
        labor=labor["lines"],
        total_person_h=labor["total_person_h"],
        crew=labor["crew"],
        weight_doubt=weight_doubt(opening, units=units),
        lift=opening_lift(opening, units=units),
        measurement=measurement,
        checks=measured.get("checks", ()),
        order_size=measured.get("order_size") if is_insert else None,
    )


def opening_advice(opening_id: int, *, units: Units = US) -> tuple[Advice, ...]:
    """Return what codes and makers ask of an opening. Five queries.

    Raises:
        NotFound: there is no such opening.
    """
    opening = opening_of(opening_id)
    return _advice(opening, opening_draw(opening, units=units), units)


def _advice(opening: Opening, draw: OpeningDraw, units: Units) -> tuple[Advice, ...]:
    site, facts, detail = opening.as_site(), opening.as_facts(), opening.detail.as_facts()
    return (
        *code_advice(site, facts, detail, units=units),
        *setting_advice(facts, detail, units=units),
        *draw.advice,
    )
