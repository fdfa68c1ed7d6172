"""What is computed of one stored opening."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from openings.calc.facts import OpeningFacts
from openings.calc.labor import HEIGHT_CAUTION, labor_of, total_person_h
from openings.calc.order_size import insert_order_size
from openings.calc.production import Working, time_for
from openings.calc.short_crew import takes
from openings.calc.terms import Mounting
from openings.calc.tolerance import checks_of
from openings.calc.unit_lift import UnitLift, lift_of_unit, team_to_set
from openings.calc.units import US, Units
from openings.calc.weight import UnitWeight
from openings.calc.weight_doubt import doubt_of
from openings.models import FieldMeasurement, Opening
from openings.queries.rate import labor_rates


def opening_labor(opening: Opening) -> dict[str, Any]:
    """Return the person-hours of one opening and the time of the team that sets its unit. One query."""
    facts, detail = opening.as_facts(), opening.detail.as_facts()
    lines = labor_of(facts, detail, labor_rates(), opening.as_conditions())
    total = total_person_h(lines)
    people, _needs_aid = team_to_set(facts, mounting=detail.mounting)
    return {
        "opening": opening.pk,
        "lines": lines,
        "total_person_h": total,
        "crew": time_for(total, Working(people=people)),
        "caution": HEIGHT_CAUTION,
    }


def opening_lift(opening: Opening, *, units: Units = US) -> UnitLift:
    """Return what the unit weighs, who sets it, what carries it, and why: the one verdict on it. No query."""
    return lift_of_unit(opening.as_facts(), mounting=opening.detail.as_facts().mounting, units=units)


def weight_doubt(opening: Opening, *, units: Units = US) -> str:
    """Return what speaks against the weight given for a unit, and who confirmed it all the same. One query at most."""
    doubt = doubt_of(opening.as_facts(), units=units)
    if doubt is None:
        return ""
    who = opening.weight_confirmed_by
    return (
        f"{doubt.reason}. {f'Confirmed by {who}' if who else 'Nobody has confirmed it: weigh it before it is lifted'}"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftNeed:
    """Whom a unit takes, by the most careful rule that applies. With `needs_aid`, `people` guide the aid."""

    weight: UnitWeight
    people: int
    needs_aid: bool

    def said_of(self, named: str) -> str:
        """Return what the unit weighs and whom it takes, in words."""
        return takes(
            named,
            weight_lb=self.weight.lb,
            is_estimate=self.weight.is_estimate,
            people=self.people,
            needs_aid=self.needs_aid,
        )


def lift_need(opening: Opening) -> LiftNeed:
    """Return whom the unit of an opening takes; what every assignment is held against. No query."""
    lift = opening_lift(opening)
    return LiftNeed(weight=lift.weight, people=lift.people, needs_aid=lift.needs_aid)


@lru_cache(maxsize=10_000)
def people_to_set(opening: OpeningFacts, *, mounting: Mounting) -> tuple[int, bool]:
    """Return how many people set a unit, and whether an aid carries it; the many alike are computed once."""
    lift = lift_of_unit(opening, mounting=mounting)
    return lift.people, lift.needs_aid


def measured_checks(measurement: FieldMeasurement, *, has_head_expander: bool, units: Units = US) -> dict[str, Any]:
    """Return a measurement held against its limits, and the insert that would go in. Two queries at most."""
    readings, opening = measurement.as_readings(), measurement.opening
    return {
        "checks": checks_of(readings, opening.as_facts(), opening.detail.as_facts(), units=units),
        "order_size": insert_order_size(readings, has_head_expander=has_head_expander, units=units),
    }
