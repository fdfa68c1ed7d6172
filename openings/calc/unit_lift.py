"""Who sets the unit of one opening: one verdict, the most careful rule that applies, for whoever asks."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from openings.calc.facts import OpeningFacts
from openings.calc.lift import CAUTION, SOURCE, setting_team, team_reason
from openings.calc.lifting_equation import Assessment, setting_lift, setting_limit_lb
from openings.calc.terms import Mounting
from openings.calc.units import US, Units
from openings.calc.weight import UnitWeight, weight_lb, weight_of

SILL_NOT_KNOWN = (
    "by weight alone: the height of the sill above the floor is not known, so the lift is not held against the lifting "
    "equation, which may ask for more"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitLift:
    """How the unit of one opening is lifted and set.

    With `needs_aid`, the aid carries it and `people` guide it. With `needs_decision`, it lies beyond the reach of the
    lifting equation: `people` is the least, and `decision` says what is asked of whom before it is lifted.

    Args:
        equation: what the lifting equation says of it; None without a sill height.
    """

    weight: UnitWeight
    people: int
    needs_aid: bool
    needs_decision: bool
    decision: str
    reason: str
    source: str
    equation: Assessment | None
    caution: str = CAUTION


def team_to_set(opening: OpeningFacts, *, mounting: Mounting) -> tuple[int, bool]:
    """Return the number of people to set the unit, and whether an aid must carry it, as in `lift_of_unit`."""
    return setting_team(weight_lb(opening, mounting=mounting), setting_limit_lb(opening))


def lift_of_unit(opening: OpeningFacts, *, mounting: Mounting, units: Units = US) -> UnitLift:
    """Return the team and the aid that set the unit of an opening, with the reason.

    >>> window = OpeningFacts(
    ...     ro_width_in=Decimal(36), ro_height_in=Decimal(54), unit_width_in=Decimal(35), unit_height_in=Decimal(53),
    ...     weight_lb=Decimal(65),
    ... )
    >>> lift = lift_of_unit(window, mounting=Mounting.FLANGE)
    >>> lift.people, lift.needs_aid
    (2, False)

    What one person counts for is 51 lb, and less where sill and unit height are known and the lifting equation says
    so; then the rule for teams, and two people at least. So it is never less careful than any rule by itself.

    Source:
        HSE L23 for the teams; DHHS/NIOSH 94-110 for the 51 lb and the equation; OSHA guidance for two people above
        50 lb; JELD-WEN JII-90025 for two people at least. Beyond the equation's reach: our choice, never less careful
        than at its edge, and a person decides.
    """
    weight = weight_of(opening, mounting=mounting, units=units)
    limit_lb: Decimal = setting_limit_lb(opening)
    people, needs_aid = setting_team(weight.lb, limit_lb)
    team = team_reason(weight.lb, people=people, needs_aid=needs_aid, person_limit_lb=limit_lb, units=units)
    equation = setting_lift(opening, weight, units=units)
    return UnitLift(
        weight=weight,
        people=people,
        needs_aid=needs_aid,
        needs_decision=equation is not None and equation.needs_decision,
        decision=equation.decision if equation else "",
        reason=f"{team}; {_because(opening, equation, units)}",
        source=SOURCE,
        equation=equation,
    )


def _because(opening: OpeningFacts, equation: Assessment | None, units: Units) -> str:
    """Return the source of the figure for one person, in words."""
    if equation is None or opening.sill_above_floor_in is None:
        return SILL_NOT_KNOWN
    onto = f"from the floor onto a sill {units.say(opening.sill_above_floor_in)} above it"
    if equation.needs_decision:
        return f"{onto}, beyond the reach of the lifting equation, so this is the least: {equation.decision}"
    return f"{onto}, by the lifting equation"
