"""Installation details of a job."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from django.db import transaction

from jobs.models import Job
from jobs.services import add
from openings.calc.starting_details import STARTING_DETAILS
from openings.models import InstallationDetail


@transaction.atomic
def add_detail(*, job: Job, name: str, starting_point: str = "", **values: Any) -> InstallationDetail:
    """Add a detail to a job, from a starting point and what differs from it.

    Raises:
        ValidationError: the name is taken in this job, or the answers contradict one another.
    """
    start = asdict(STARTING_DETAILS[starting_point]) if starting_point else {}
    return add(InstallationDetail, job=job, name=name, **start | values)
