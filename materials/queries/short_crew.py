"""Crews that are too small for a unit: what their pull sheet warns of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from jobs.models import Crew
from openings.calc.short_crew import has
from openings.models import Assignment
from openings.queries import lift_need


class ShortCrew(NamedTuple):
    """A unit that goes to a crew too small for it; `key` is the same as long as nobody decides or changes anything."""

    key: str
    text: str


def short_crews(lifted: Iterable[Assignment], crew: Crew) -> Iterator[ShortCrew]:
    """Yield what a unit takes for which the crew has too few people, and who decided that it goes all the same.

    Args:
        lifted: assignments whose units are still to be lifted.
    """
    for assignment in lifted:
        need = lift_need(assignment.opening)
        if need.people > crew.people_count:
            named = f"{assignment.opening.job.code} {assignment.opening.mark}"
            decided = f"{assignment.short_crew_by_id or ''}: {assignment.short_crew_reason}"
            yield ShortCrew(
                f"short crew | {assignment.opening_id} | {need.people} for {crew.people_count} | {decided}",
                f"{need.said_of(named)}; {has(crew.name, crew.people_count)}. {_decided(assignment)}",
            )


def _decided(assignment: Assignment) -> str:
    if assignment.short_crew_by:
        reason = assignment.short_crew_reason.rstrip(".")
        return f"{assignment.short_crew_by} decided that it goes all the same: {reason}."
    return "Nobody has decided that it goes all the same: do not lift it until the office has."
