"""The door of the schedule reader is light: who only reads loads neither a framework nor what writes workbooks."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import openings.schedules

ROOT = Path(__file__).parents[3]


def test_the_door_loads_no_framework_no_writer_of_workbooks_and_no_reader_of_models():
    loaded = subprocess.run(
        [sys.executable, "-c", "import sys, openings.schedules; print(*sys.modules)"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    ).stdout.split()
    assert {"openings.schedules.readers", "python_calamine"} <= set(loaded)
    assert {"django", "openpyxl", "ifcopenshell"} & set(loaded) == set()


def test_everything_that_the_door_lists_is_there():
    assert [name for name in openings.schedules.__all__ if not hasattr(openings.schedules, name)] == []
