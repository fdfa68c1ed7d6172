"""How many people lift a unit."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from openings.calc.figures import brief, plain

PERSON_LIMIT_LB = Decimal(51)
"""What one person lifts at best: the load constant of DHHS/NIOSH 94-110."""

LEAST_PEOPLE = 2
"""Two people at least set a unit and support it until it is fastened (JELD-WEN JII-90025)."""

TEAM_LIMITS_LB = (
    (1, PERSON_LIMIT_LB),
    (2, 2 * PERSON_LIMIT_LB * 2 / 3),
    (3, 3 * PERSON_LIMIT_LB / 2),
)
"""People, and what they lift together: two thirds of the sum of their limits, or half of it (HSE L23)."""

MOST_PEOPLE, MOST_LB = TEAM_LIMITS_LB[-1]

SOURCE = "HSE L23 (teams); DHHS/NIOSH 94-110 (51 lb); OSHA guidance (two above 50 lb); JELD-WEN JII-90025"

CAUTION = (
    "A guide, not a clearance to lift: grip, reach, wind, stairs and ladders all lower the limit. Follow the "
    "manufacturer's instructions, OSHA and local rules, and the site's competent person."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """How a unit is lifted. With `needs_aid`, the aid carries it and `people` guide it."""

    weight_lb: Decimal
    people: int
    needs_aid: bool
    reason: str
    source: str
    caution: str = CAUTION


def team_for(weight_lb: Decimal) -> int | None:
    """Return the smallest team that may lift the weight by hand, or None where none of up to three may.

    Source:
        HSE L23: two people 2/3, three people 1/2 of the sum of their limits.
    """
    for people, limit_lb in TEAM_LIMITS_LB:
        if weight_lb <= limit_lb:
            return people
    return None


def setting_team(weight_lb: Decimal) -> tuple[int, bool]:
    """Return how many people set a unit of this weight, and whether an aid must carry it."""
    team = team_for(weight_lb)
    return (MOST_PEOPLE, True) if team is None else (max(team, LEAST_PEOPLE), False)


def lift_of(weight_lb: Decimal) -> Lift:
    """Return how many people lift and set a unit, whether an aid must carry it, and why.

    Source:
        HSE L23 for the teams, DHHS/NIOSH 94-110 for the 51 lb, OSHA guidance for two people above 50 lb,
        JELD-WEN JII-90025 for two people at least.
    """
    people, needs_aid = setting_team(weight_lb)
    return Lift(
        weight_lb=weight_lb,
        people=people,
        needs_aid=needs_aid,
        reason=_reason(weight_lb, people=people, needs_aid=needs_aid),
        source=SOURCE,
    )


def _reason(weight_lb: Decimal, *, people: int, needs_aid: bool) -> str:
    weight = f"{brief(weight_lb)} lb"
    if needs_aid:
        return (
            f"{weight} is more than {people} people lift by hand ({brief(MOST_LB)} lb): an aid carries it, "
            f"{people} people guide it"
        )
    if weight_lb <= PERSON_LIMIT_LB:
        return f"{weight}: {people} people set a unit and support it until it is fastened, however light"
    limit_lb = dict(TEAM_LIMITS_LB)[people]
    one_lb = plain(PERSON_LIMIT_LB)
    return f"{weight}: {people} people lift up to {brief(limit_lb)} lb, where one lifts {one_lb} lb"
