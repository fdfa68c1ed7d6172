"""What is left of openings that were begun."""

from __future__ import annotations

from collections.abc import Iterable, Set
from dataclasses import dataclass, replace
from datetime import datetime
from zoneinfo import ZoneInfo

from jobs.calc.experience import Experience
from openings.calc.labor import labor_of
from openings.calc.labor_rates import LaborRates
from openings.calc.lay_order import steps_for
from openings.calc.left import Left, left_of
from openings.calc.step_code import StepCode
from openings.models import Assignment, InstallRecord, Opening, StepRecord
from openings.queries.computed import LiftNeed, lift_need
from openings.queries.opening import Computable, computable
from openings.queries.rate import labor_rates

NOTHING_LAID: frozenset[str] = frozenset()
EVERY_STEP: frozenset[str] = frozenset(StepCode)


def left_of_item(item: Computable, rates: LaborRates, *, experience: str, recorded: Set[str]) -> Left:
    """Return what is left of one opening for a crew of that experience. No query."""
    conditions = replace(item.conditions, experience=Experience(experience))
    lines = labor_of(item.facts, item.detail, rates, conditions)
    return left_of(lines, steps_for(item.detail), recorded=recorded)


def hours_left(openings: Iterable[Opening], *, experience: str) -> dict[int, Left]:
    """Return by opening what is left to plan, all of it where nothing is recorded. Two queries.

    Args:
        openings: their details joined.
        experience: of the crew that goes there.
    """
    openings, rates = list(openings), labor_rates()
    recorded = recorded_steps(openings)
    return {
        item.opening.pk: left_of_item(
            item, rates, experience=experience, recorded=recorded.get(item.opening.pk, NOTHING_LAID)
        )
        for item in computable(openings)
    }


def carried_on(assignments: Iterable[Assignment]) -> list[str]:
    """Return of each assigned opening that has recorded steps what is left of it, in words. Two queries.

    Args:
        assignments: of one crew day, openings with details joined.
    """
    given = list(assignments)
    recorded = recorded_steps(assignment.opening for assignment in given)
    begun = [assignment.opening for assignment in given if assignment.opening_id in recorded]
    if not begun:
        return []
    left = hours_left(begun, experience=given[0].crew_day.crew.experience)
    return [f"{opening} is carried on: {left[opening.pk].reason}" for opening in begun]


def recorded_steps(openings: Iterable[Opening]) -> dict[int, frozenset[str]]:
    """Return by opening the codes of the steps that are recorded, of those that have any. One query."""
    found: dict[int, set[str]] = {}
    steps = StepRecord.objects.filter(record__opening__in=list(openings)).order_by()
    for opening_id, step in steps.values_list("record__opening", "step"):
        found.setdefault(opening_id, set()).add(step)
    return {opening_id: frozenset(codes) for opening_id, codes in found.items()}


def lifts_left(openings: Iterable[Opening]) -> dict[int, LiftNeed]:
    """Return by opening whom its unit takes, of those whose unit is still to be lifted: one fastened is no more.

    One query.
    """
    openings = list(openings)
    recorded = recorded_steps(openings)
    to_lift = (one for one in openings if StepCode.FASTEN not in recorded.get(one.pk, NOTHING_LAID))
    return {one.pk: lift_need(one) for one in to_lift}


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """The steps of an opening that were recorded before a day had it, and those recorded while it had it."""

    before: frozenset[str] = NOTHING_LAID
    here: frozenset[str] = NOTHING_LAID


def laid_by(assignments: Iterable[Assignment]) -> dict[int, Laid]:
    """Return by assignment which steps were recorded before its day began or it was given, and which under it.

    What the former took came from another truck or another day, so that this day neither loads it nor works it again.
    One query.

    Args:
        assignments: opening with job, and crew day, joined.
    """
    by_opening: dict[int, list[Assignment]] = {}
    for assignment in assignments:
        by_opening.setdefault(assignment.opening_id, []).append(assignment)
    before: dict[int, set[str]] = {}
    here: dict[int, set[str]] = {}
    steps = StepRecord.objects.filter(record__opening__in=list(by_opening)).order_by()
    for opening_id, step, recorded_at in steps.values_list("record__opening", "step", "recorded_at"):
        for assignment in by_opening[opening_id]:
            on = recorded_at.astimezone(ZoneInfo(assignment.opening.job.time_zone)).date()
            if on < assignment.crew_day.on or recorded_at < assignment.assigned_at:
                before.setdefault(assignment.pk, set()).add(step)
            elif assignment.withdrawn_at is None or recorded_at < assignment.withdrawn_at:
                here.setdefault(assignment.pk, set()).add(step)
    return {
        pk: Laid(before=frozenset(before.get(pk, ())), here=frozenset(here.get(pk, ())))
        for pk in before.keys() | here.keys()
    }


def laid_before(job_id: int, instant: datetime) -> dict[int, frozenset[str]]:
    """Return by opening of a job the codes of the steps recorded before an instant; all of one that was done by then.

    Two queries.
    """
    steps = StepRecord.objects.filter(record__opening__job=job_id, recorded_at__lt=instant).order_by()
    found: dict[int, set[str]] = {}
    for opening_id, step in steps.values_list("record__opening", "step"):
        found.setdefault(opening_id, set()).add(step)
    done = InstallRecord.objects.filter(opening__job=job_id, done_at__lt=instant).order_by()
    return {opening_id: frozenset(codes) for opening_id, codes in found.items()} | dict.fromkeys(
        done.values_list("opening", flat=True), EVERY_STEP
    )
