"""A crew with fewer people than a unit takes, in words."""

from __future__ import annotations

from decimal import Decimal

from jobs.calc.say import counted
from openings.calc.figures import half_up


def takes(named: str, *, weight_lb: Decimal, is_estimate: bool, people: int, needs_aid: bool) -> str:
    """Return the weight of a unit and its team, in words.

    >>> takes("W3", weight_lb=Decimal(400), is_estimate=False, people=3, needs_aid=True)
    'W3 weighs 400 lb and takes a lifting aid and 3 people to guide it'
    >>> takes("W3", weight_lb=Decimal("80.4"), is_estimate=True, people=3, needs_aid=False)
    'W3 weighs about 80 lb and takes 3 people'
    """
    about = "about " if is_estimate else ""
    team = f"a lifting aid and {counted(people, 'person')} to guide it" if needs_aid else counted(people, "person")
    return f"{named} weighs {about}{half_up(weight_lb, to=Decimal(1))} lb and takes {team}"


def has(crew: str, people: int) -> str:
    """Return how many people a crew has, in words.

    >>> has("Rowan", 1), has("Rowan", 2)
    ('Rowan has 1 person', 'Rowan has 2 people')
    """
    return f"{crew} has {counted(people, 'person')}"
