"""The example jobs' schedules are read without a fault."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from openings.schedules import read_schedule

FIXTURES = Path(__file__).parents[3] / "fixtures"
JOBS = json.loads((FIXTURES / "site.json").read_text(encoding="utf-8"))["jobs"]


@pytest.mark.parametrize(
    ("job", "openings"), list(zip(JOBS, (30, 134, 8), strict=True)), ids=[job["code"] for job in JOBS]
)
def test_schedule_of_an_example_job_is_read_whole(job: dict[str, Any], openings: int) -> None:
    path = FIXTURES / job["schedule"]
    read = read_schedule(filename=path.name, content=path.read_bytes())
    assert read.faults == ()
    assert sum(row.quantity for row in read.rows) == openings
    assert {row.detail for row in read.rows} == {detail["name"] for detail in job["details"]}
