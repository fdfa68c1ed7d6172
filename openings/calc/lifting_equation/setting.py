"""Setting a unit, seen with the lifting equation."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from openings.calc.facts import OpeningFacts
from openings.calc.figures import plain
from openings.calc.lift import PERSON_LIMIT_LB, setting_team, team_reason
from openings.calc.lifting_equation import multipliers
from openings.calc.lifting_equation.assess import Assessment, assess, at_the_edge
from openings.calc.lifting_equation.edge import edge_limit_lb
from openings.calc.lifting_equation.task import Coupling, Hands, LiftTask, not_positive, refuse
from openings.calc.units import US, Units
from openings.calc.weight import UnitWeight

USUAL_DEPTH_IN = Decimal(4)
"""How deep a unit is, frame and all, where nobody says otherwise (our choice)."""

PACE_PER_MIN = Decimal("0.2")
LIFTING_H = Decimal(1)


def horizontal_from_width_in(width_in: Decimal, vertical_in: Decimal) -> Decimal:
    """Return the reach to a load held at both sides, where nobody measured it.

    Args:
        width_in: depth of the load, away from the body, > 0.
        vertical_in: hands above the floor.

    Raises:
        BadLift: the load has no depth.

    Source:
        8 in + half the depth; 10 in + half the depth with hands below 10 in: DHHS/NIOSH 94-110 p. 8.
    """
    refuse(*not_positive(width_in=width_in))
    return multipliers.reach_from_width(width_in, vertical_in)


def setting_lift(
    opening: OpeningFacts, weight: UnitWeight, *, unit_depth_in: Decimal = USUAL_DEPTH_IN, units: Units = US
) -> Assessment | None:
    """Assess lifting the unit from the floor onto its sill; return None without a sill height.

    The unit stands on the floor and is held at half its height, with a poor grip, once in five minutes for up to
    an hour, and is set down with care, so that both ends count: our choice, since no source speaks of windows. The
    equation knows one person only. Its RWL, which does not depend on the load, serves as one person's limit in the
    team rule; load and LI are one person's share.

    Args:
        unit_depth_in: of the unit, front to back, > 0.

    Raises:
        BadLift: the unit has no depth.
    """
    refuse(*not_positive(unit_depth_in=unit_depth_in))
    task = _task(opening, weight.lb, unit_depth_in)
    if task is None or task.destination is None:
        return None
    whole = assess(task, units=units)
    people, needs_aid = setting_team(weight.lb, whole.person_limit_lb)
    share = assess(replace(task, load_lb=weight.lb / people), units=units)
    team = team_reason(
        weight.lb, people=people, needs_aid=needs_aid, person_limit_lb=whole.person_limit_lb, units=units
    )
    said = f"{team}; {_share(share.load_lb, people=people, needs_aid=needs_aid, units=units)}"
    return replace(
        share,
        people=people,
        needs_aid=needs_aid,
        equation_reason=f"{_choice(task.origin, task.destination, unit_depth_in, units)}; {share.equation_reason}",
        people_reason=at_the_edge(said) if whole.limits else said,
    )


def setting_limit_lb(opening: OpeningFacts) -> Decimal:
    """Return the load limit for one person where the unit is set: by the equation, or 51 lb without a sill height."""
    task = _task(opening, multipliers.NONE, USUAL_DEPTH_IN)
    return PERSON_LIMIT_LB if task is None else edge_limit_lb(task)


def _task(opening: OpeningFacts, load_lb: Decimal, unit_depth_in: Decimal) -> LiftTask | None:
    """Return the task of lifting the unit onto its sill; None without a sill height."""
    if opening.sill_above_floor_in is None:
        return None
    half_in = opening.unit_height_in / 2
    return LiftTask(
        load_lb=load_lb,
        origin=_hands(half_in, unit_depth_in),
        destination=_hands(opening.sill_above_floor_in + half_in, unit_depth_in),
        lifts_per_min=PACE_PER_MIN,
        duration_h=LIFTING_H,
    )


def _hands(vertical_in: Decimal, unit_depth_in: Decimal) -> Hands:
    reach_in = horizontal_from_width_in(unit_depth_in, vertical_in)
    return Hands(horizontal_in=reach_in, vertical_in=vertical_in, coupling=Coupling.POOR)


def _choice(lifted: Hands, placed: Hands, unit_depth_in: Decimal, units: Units) -> str:
    return (
        "company default: the unit stands on the floor and is held at half its height, poor grip, "
        f"{PACE_PER_MIN} lifts a minute for up to {plain(LIFTING_H)} hour; hands {units.say(lifted.vertical_in)} above "
        f"the floor, and {units.say(placed.vertical_in)} once on the sill; {units.say(unit_depth_in)} deep, which puts "
        f"them {units.say(placed.horizontal_in)} from the ankles; set down with care, so both ends count"
    )


def _share(share_lb: Decimal, *, people: int, needs_aid: bool, units: Units) -> str:
    share = units.say(share_lb, "lb")
    if needs_aid:
        return (
            f"the equation is for one person, so the load is a share of {share}, as if {people} people carried "
            "the unit without an aid, which they must not"
        )
    return f"the equation is for one person, so the load is a share of {share}, the unit carried by {people} people"
