"""Several lifts in one job against DHHS/NIOSH 94-110 (rev. 9/2021) sec. 2.4.5."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.calc.lifting_equation import Mode, assess, composite_index, part_of
from tests.openings.calc.lifting_equation.made import hands, lift, package_inspection, part

THREE_TASKS = [part(30, 20, 1), part(20, 20, 2), part(10, 15, 4)]


def test_composite_index_of_three_tasks():
    # 94-110 p. 28 (the figures from memory): 1.6 + 1.0 (1/.88 − 1/.94) + .67 (1/.70 − 1/.88) = 1.868, printed 1.9.
    composite = composite_index(THREE_TASKS, duration_h=Decimal(1), mode=Mode.PRINTED)
    assert round(sum(composite.terms), 3) == Decimal("1.868")
    assert composite.li == Decimal("1.9")


def test_composite_index_at_full_precision_and_in_any_order():
    forward = composite_index(THREE_TASKS, duration_h=Decimal(1))
    assert abs(forward.li - Decimal("1.868")) <= Decimal("0.006")
    assert composite_index(THREE_TASKS[::-1], duration_h=Decimal(1)) == forward


def test_a_job_of_one_task_has_the_index_of_that_task():
    task = package_inspection(Mode.FORMULA)
    composite = composite_index([part_of(task)], duration_h=task.duration_h)
    assert abs(composite.li - assess(task).li) < Decimal("1e-20")


@pytest.mark.parametrize(
    ("parts", "hours", "said"),
    [
        pytest.param([part(10, 20, 8), part(10, 20, 8)], "1", "16 lifts a minute together", id="too fast together"),
        pytest.param([part(10, 20, 7), part(10, 20, 6, 20)], "1", "13 lifts a minute", id="13 with hands low once"),
        pytest.param([part(10, 20, 1)], "9", "9 h", id="too long"),
        pytest.param([part_of(lift(origin=hands(26)))], "1", "2' 2\" from the ankles", id="a task out of reach"),
    ],
)
def test_no_composite_index_where_the_equation_ends(parts, hours, said):
    composite = composite_index(parts, duration_h=Decimal(hours))
    assert composite.li is None
    assert said in composite.reason


@given(paces=st.lists(st.decimals(min_value=0, max_value=5, places=2), min_size=1, max_size=3))
def test_further_tasks_never_lower_the_index(paces):
    parts = [replace(part(20, 20, 1), lifts_per_min=pace) for pace in paces]
    indices = [composite_index(parts[:count], duration_h=Decimal(1)).li for count in range(1, len(parts) + 1)]
    assert indices == sorted(indices)
