"""What is left of an opening that was begun: which person-hours belong to the steps that are not recorded."""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Set
from dataclasses import dataclass
from decimal import Decimal

from openings.calc.figures import TWO_PLACES, brief, half_up
from openings.calc.labor import LaborLine, total_person_h
from openings.calc.labor_rates import Task
from openings.calc.lay_order import Step
from openings.calc.step_code import StepCode

STEPS_OF: dict[Task, tuple[StepCode, ...]] = {
    Task.FLASH: (StepCode.SILL_STRIP, StepCode.JAMB_STRIPS, StepCode.HEAD_STRIP),
    Task.PAN: (StepCode.CORNER_PIECES, StepCode.PAN),
    Task.SEAL: (StepCode.JOINT_BEAD, StepCode.SETTING_BEAD, StepCode.TOOL_BEAD),
    Task.SET: (StepCode.SET_UNIT,),
    Task.RIG_AID: (StepCode.SET_UNIT,),
    Task.SHIM: (StepCode.SHIM,),
    Task.STRAP: (StepCode.STRAPS, StepCode.FASTEN),
    Task.FASTEN_FLANGE: (StepCode.FASTEN,),
    Task.SCREW: (StepCode.FASTEN,),
    Task.HEAD_MEMBRANE: (StepCode.HEAD_MEMBRANE,),
    Task.HEAD_FLASHING: (StepCode.DRIP_CAP, StepCode.COUNTER_FLASHING),
    Task.AIR_SEAL: (StepCode.AIR_SEAL,),
}
"""The steps in which the hours of a task are worked (our choice). An opening is prepared before its first step and
cleaned up after its last, so these two tasks have none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """What is left to do: person-hours of those planned, and why so many."""

    person_h: Decimal
    planned_person_h: Decimal
    reason: str


def left_of(lines: Iterable[LaborLine], steps: Sequence[Step], *, recorded: Set[str]) -> Left:
    """Return the person-hours that are left of an opening.

    The hours of a task are shared equally over its steps that the opening has, and those of recorded steps are
    worked. Cleaning up, and a task without a step, is left until the opening is done. What was recorded in hours does
    not count: a slow beginning leaves no less to do.

    Args:
        lines: the planned hours, from `labor_of`.
        recorded: codes of the steps that are recorded.

    Source:
        Our choice: published rates speak of whole units only.
    """
    lines = tuple(lines)
    there = [step.code for step in steps]
    shares = [(line, _share_left(line.task, there, recorded)) for line in lines]
    person_h = half_up(sum((line.person_h * share for line, share in shares), Decimal(0)), to=TWO_PLACES)
    planned_person_h = total_person_h(lines)
    tasks = dict.fromkeys(line.task for line, share in shares if share)
    done = sum(code in recorded for code in there)
    return Left(
        person_h=person_h,
        planned_person_h=planned_person_h,
        reason=(
            f"{done} of {len(there)} steps are recorded, so {brief(person_h)} of {brief(planned_person_h)} "
            f"labor hours are left: {', '.join(tasks)}"
        ),
    )


def _share_left(task: Task, there: Sequence[StepCode], recorded: Set[str]) -> Decimal:
    if task is Task.PREPARE:
        return Decimal(0) if recorded else Decimal(1)
    steps = [code for code in STEPS_OF.get(task, ()) if code in there]
    if not steps:
        return Decimal(1)
    return Decimal(sum(code not in recorded for code in steps)) / len(steps)
