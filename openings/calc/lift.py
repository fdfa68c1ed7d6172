"""How many people lift a weight together. Who sets the unit of an opening is said by `unit_lift` alone."""

from __future__ import annotations

from decimal import Decimal

from openings.calc.units import US, Units

PERSON_LIMIT_LB = Decimal(51)
"""What one person lifts at best: the load constant of DHHS/NIOSH 94-110."""

LEAST_PEOPLE = 2
"""Two people at least set a unit and support it until it is fastened (JELD-WEN JII-90025)."""

MOST_PEOPLE = 3
"""HSE L23 gives no figure for four people or more."""

SOURCE = "HSE L23 (teams); DHHS/NIOSH 94-110 (51 lb); OSHA guidance (two above 50 lb); JELD-WEN JII-90025"

CAUTION = (
    "A guide, not a clearance to lift: grip, reach, wind, stairs and ladders all lower the limit. Follow the "
    "manufacturer's instructions, OSHA and local rules, and the site's competent person."
)


def team_limits_lb(person_limit_lb: Decimal) -> tuple[tuple[int, Decimal], ...]:
    """Return the team limits of one, two and three people, each of whom lifts `person_limit_lb` alone.

    Source:
        HSE L23: two people 2/3, three people 1/2 of the sum of their limits.
    """
    return (1, person_limit_lb), (2, 2 * person_limit_lb * 2 / 3), (3, 3 * person_limit_lb / 2)


TEAM_LIMITS_LB = team_limits_lb(PERSON_LIMIT_LB)


def team_for(weight_lb: Decimal, person_limit_lb: Decimal = PERSON_LIMIT_LB) -> int | None:
    """Return the smallest team that may lift the weight by hand, or None where none of up to three may.

    >>> team_for(Decimal(50)), team_for(Decimal(65)), team_for(Decimal(90))
    (1, 2, None)

    Args:
        person_limit_lb: what one person lifts here, > 0; less than 51 where reach, height or pace say so.
    """
    is_usual = person_limit_lb is PERSON_LIMIT_LB
    for people, limit_lb in TEAM_LIMITS_LB if is_usual else team_limits_lb(person_limit_lb):
        if weight_lb <= limit_lb:
            return people
    return None


def setting_team(weight_lb: Decimal, person_limit_lb: Decimal = PERSON_LIMIT_LB) -> tuple[int, bool]:
    """Return the number of people to set a unit of this weight, and whether an aid must carry it.

    >>> setting_team(Decimal(65)), setting_team(Decimal(200))
    ((2, False), (3, True))
    """
    team = team_for(weight_lb, person_limit_lb)
    return (MOST_PEOPLE, True) if team is None else (max(team, LEAST_PEOPLE), False)


def team_reason(
    weight_lb: Decimal, *, people: int, needs_aid: bool, person_limit_lb: Decimal, units: Units = US
) -> str:
    """Return why this many people lift the weight."""
    weight, one = units.say(weight_lb, "lb"), units.say(person_limit_lb, "lb")
    limit = units.say(dict(team_limits_lb(person_limit_lb))[people], "lb")
    if needs_aid:
        return (
            f"{weight} is more than {people} people lift by hand ({limit}, where one lifts {one}): an aid carries "
            f"it, {people} people guide it"
        )
    if people == 1:
        return f"{weight}: one person lifts up to {one}"
    if weight_lb <= person_limit_lb:
        return f"{weight}: {people} people set a unit and support it until it is fastened, however light"
    return f"{weight}: {people} people lift up to {limit}, where one lifts {one}"
