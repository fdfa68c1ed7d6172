"""Both ends of a lift, which of them governs, and how many people it takes."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from openings.calc.figures import brief
from openings.calc.lift import CAUTION, LEAST_PEOPLE, MOST_PEOPLE, team_for, team_reason
from openings.calc.lifting_equation.edge import edge_limit_lb
from openings.calc.lifting_equation.ends import End, ends_of, shown
from openings.calc.lifting_equation.task import Condition, LiftTask, Mode
from openings.calc.units import US, Units

RISK_FOR_SOME = Decimal(1)
RISK_FOR_NEARLY_ALL = Decimal(3)

DECISION = (
    "change the lift, let an aid carry the load, or have the site's competent person decide, by name and before it is "
    "lifted, how and by how many"
)
"""What is asked for where the equation ends."""

SOURCE = "DHHS/NIOSH 94-110 (rev. 9/2021): equation p. 1-22, both ends p. 2 and 21, LI p. 20; teams: HSE L23"


@dataclass(frozen=True, slots=True, kw_only=True)
class Assessment:
    """A lift by the equation: what one person should lift there, and how many people it takes.

    `rwl_lb` and `li` are those of the governing end; both are None where the equation does not apply, and `limits`
    then says why. With `needs_aid`, the aid carries the load and `people` guide it. With `needs_decision`, `people`
    is the least: somebody named decides, or an aid carries the load.

    Args:
        person_limit_lb: what one person counts for in the team rule: the RWL, and where there is none what the edge
            of the equation's reach allows.
    """

    load_lb: Decimal
    origin: End
    destination: End | None
    governing: End
    limits: tuple[str, ...]
    person_limit_lb: Decimal
    people: int
    needs_aid: bool
    equation_reason: str
    people_reason: str
    source: str = SOURCE
    caution: str = CAUTION

    @property
    def rwl_lb(self) -> Decimal | None:
        """Return the recommended weight limit: the load that nearly all healthy workers may lift there."""
        return self.governing.rwl_lb

    @property
    def li(self) -> Decimal | None:
        """Return the lifting index: the load over the RWL."""
        return self.governing.li

    @property
    def needs_decision(self) -> bool:
        """Return whether the lift lies beyond the equation, so that a person decides or an aid carries the load."""
        return bool(self.limits)

    @property
    def decision(self) -> str:
        """Return the decision that is asked for, with its reason; empty where none is."""
        return f"{'; '.join(self.limits)}: {DECISION}" if self.limits else ""

    @property
    def reason(self) -> str:
        """Return the rule in words and numbers."""
        return f"{self.equation_reason}; {self.people_reason}"


def assess(task: LiftTask, *, units: Units = US) -> Assessment:
    """Assess a lift by the revised lifting equation.

    Where the load is gripped anew, held or placed with care, both ends count, and the lower RWL governs. One
    person's limit in the team rule is the RWL, unrounded however the figures are shown. Beyond the equation's reach
    it is what the edge of that reach allows, and an aid or a named person's decision is asked for.

    Source:
        Equation, limits and ends: DHHS/NIOSH 94-110 (rev. 9/2021). Teams: HSE L23. Beyond the limits: our choice,
        never less careful than at them.
    """
    ends = ends_of(task, units=units)
    governing = min(ends, key=lambda end: end.rwl_lb or Decimal(0))
    limits = tuple(dict.fromkeys(limit for end in ends for limit in end.limits))
    limit_lb = edge_limit_lb(task)
    team = team_for(task.load_lb, limit_lb)
    people, needs_aid = (MOST_PEOPLE, True) if team is None else (team, False)
    if Condition.TEAM_LIFT in task.conditions:
        people = max(people, LEAST_PEOPLE)
    team_said = team_reason(task.load_lb, people=people, needs_aid=needs_aid, person_limit_lb=limit_lb, units=units)
    return Assessment(
        load_lb=task.load_lb,
        origin=ends[0],
        destination=ends[1] if len(ends) > 1 else None,
        governing=governing,
        limits=limits,
        person_limit_lb=limit_lb,
        people=people,
        needs_aid=needs_aid,
        equation_reason=_equation_reason(task.load_lb, governing, limits, units),
        people_reason=at_the_edge(team_said) if limits else f"{team_said}{_UNROUNDED * (task.mode is Mode.PRINTED)}",
    )


_UNROUNDED = " (by the RWL before it is rounded)"


def at_the_edge(team_said: str) -> str:
    """Return why so many people lift, said of a lift beyond the equation's reach."""
    return f"at the edge of its reach, and so at least: {team_said}"


def _equation_reason(load_lb: Decimal, governing: End, limits: tuple[str, ...], units: Units) -> str:
    if governing.rwl_lb is None or governing.li is None:
        return (
            f"the lifting equation does not apply ({'; '.join(limits)}), so no RWL and no LI are given and no number "
            f"of people is cleared to lift: {DECISION}"
        )
    load_constant, *factors = governing.multipliers
    product = " × ".join(
        (units.bare(load_constant.value, "lb"), *(f"{factor.symbol} {shown(factor.value)}" for factor in factors))
    )
    return (
        f"the {governing.place} governs: RWL {product} = {units.say(governing.rwl_lb, 'lb')}; LI "
        f"{units.say(load_lb, 'lb')} / {units.say(governing.rwl_lb, 'lb')} = {brief(governing.li)}, "
        f"{risk_reason(governing.li)}"
    )


def risk_reason(li: Decimal) -> str:
    """Return the risk that a lifting index stands for, in words (94-110 p. 20)."""
    if li > RISK_FOR_NEARLY_ALL:
        return "above 3: a high risk for nearly all workers"
    if li > RISK_FOR_SOME:
        return "above 1: an increased risk for some workers"
    return "not above 1"
