"""Every example in a docstring does what it shows."""

from __future__ import annotations

import doctest
import importlib
from pathlib import Path

import pytest
from django.conf import settings

from materials.calc import rolls
from openings import schedules
from openings.calc import geometry, labor, lay_order, lift, tape, unit_lift, weight

ROOT = Path(settings.BASE_DIR)
FILES = [
    path
    for floor in ("jobs", "openings", "materials", "config")
    for path in sorted((ROOT / floor).rglob("*.py"))
    if ">>> " in path.read_text()
]
NAMES = [".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__") for path in FILES]
DOORS = (
    schedules.read_schedule, schedules.read_apart, schedules.check_file_size, schedules.layout_of, schedules.matched,
    schedules.grouped, schedules.wrong_rows, schedules.packed, schedules.unpacked, schedules.schedule_csv,
    schedules.schedule_xlsx, tape.read_length, tape.read_size, tape.format_length, geometry.strip_runs,
    geometry.anchor_points, labor.labor_of, lift.team_for, lift.setting_team, unit_lift.lift_of_unit,
    weight.weight_of, lay_order.steps_for, rolls.plan_cuts,
)  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_every_example_gives_what_it_shows(name):
    ran = doctest.testmod(importlib.import_module(name))
    assert ran.attempted
    assert not ran.failed


@pytest.mark.parametrize("door", DOORS, ids=lambda door: door.__name__)
def test_a_public_door_has_an_example(door):
    assert ">>> " in door.__doc__
