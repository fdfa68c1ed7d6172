"""Adding jobs."""

from __future__ import annotations

from typing import Unpack

from jobs import transaction
from jobs.models import Job
from jobs.models.values import JobValues
from jobs.queries import company
from jobs.services.row import add


@transaction.atomic
def add_job(**values: Unpack[JobValues]) -> Job:
    """Add a job; its time zone and its cut-off are the company's where none is given.

    Raises:
        ValidationError: a value or a constraint is not kept.
    """
    firm = company()
    usual: JobValues = {"time_zone": firm.time_zone, "cutoff": firm.default_cutoff}
    return add(Job(**(usual | values)))
