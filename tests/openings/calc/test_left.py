"""What is left of an opening that was begun: the hours of the steps that are not recorded."""

from __future__ import annotations

from decimal import Decimal

import pytest

from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.labor import labor_of, total_person_h
from openings.calc.labor_rates import Task
from openings.calc.lay_order import steps_for
from openings.calc.left import STEPS_OF, left_of
from openings.calc.step_code import StepCode
from openings.calc.terms import Mounting

DETAIL = DetailFacts(
    mounting=Mounting.FLANGE, barrier_before_window=True, jamb_flashing_over_flange=True, strip_width_in=Decimal(9)
)
OPENING = OpeningFacts(
    ro_width_in=Decimal(36), ro_height_in=Decimal(54), unit_width_in=Decimal("35.5"), unit_height_in=Decimal("53.5")
)
LINES, STEPS = labor_of(OPENING, DETAIL), steps_for(DETAIL)


def left(*recorded: StepCode):
    return left_of(LINES, STEPS, recorded=set(recorded))


def hours(task: Task) -> Decimal:
    return sum((line.person_h for line in LINES if line.task is task), Decimal(0))


def test_of_what_was_not_begun_all_is_left():
    assert left().person_h == left().planned_person_h == total_person_h(LINES)


def test_a_recorded_step_takes_its_hours_and_the_preparing():
    # Our choice: a third of the flashing is the sill strip, and an opening is prepared before its first step.
    gone = hours(Task.PREPARE) + hours(Task.FLASH) / 3
    assert abs(left(StepCode.SILL_STRIP).person_h - (total_person_h(LINES) - gone)) <= Decimal("0.01")


def test_the_unit_that_is_set_and_fastened_is_not_set_again():
    done = [step.code for step in STEPS][: [step.code for step in STEPS].index(StepCode.FASTEN) + 1]
    said = left(*done).reason
    assert f"{len(done)} of {len(STEPS)} steps are recorded" in said
    assert Task.CLEAN_UP in said
    for task in (Task.SET, Task.SHIM, Task.FASTEN_FLANGE):
        assert f" {task}" not in said


def test_cleaning_up_is_left_until_it_is_done():
    assert left(*(step.code for step in STEPS)).person_h == hours(Task.CLEAN_UP)


@pytest.mark.parametrize("step", STEPS, ids=lambda step: step.code)
def test_no_step_adds_hours(step):
    assert left(step.code).person_h <= left().person_h


def test_every_task_but_the_first_and_the_last_has_its_steps():
    assert set(Task) - set(STEPS_OF) == {Task.PREPARE, Task.CLEAN_UP}
