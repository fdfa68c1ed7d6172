"""One job with its openings and the schedules that they came from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.core.paginator import Page

from jobs.models import Job
from jobs.paging import LongPaginator
from jobs.queries import job_of
from openings.models import InstallationDetail, Opening, WindowSchedule
from openings.queries.opening import counts_by_job, job_labor, opening_counts, opening_list
from openings.queries.schedule import schedules_of

OPENINGS_A_PAGE = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class JobSheet:
    """What the page of a job shows."""

    job: Job
    counts: dict[str, int]
    page: Page[Opening]
    labor: dict[str, Any]
    schedules: tuple[WindowSchedule, ...]


def jobs_with_counts(*, is_archived: bool = False) -> list[tuple[Job, dict[str, int]]]:
    """Return the jobs in sight, or those archived, with how many of their openings stand in each state. Two queries."""
    jobs = list(Job.objects.archived() if is_archived else Job.objects.in_sight())
    counts = counts_by_job(Opening.objects.all())
    return [(job, counts[job.pk]) for job in jobs]


def job_sheet(job_id: int, *, state: str, page: int) -> JobSheet:
    """Return a job with a page of its openings, all or those in one state. Eight queries, however many openings.

    Raises:
        NotFound: there is no such job.
    """
    job = job_of(job_id)
    openings = opening_list().filter(job=job)
    return JobSheet(
        job=job,
        counts=opening_counts(job.pk),
        page=LongPaginator(openings.in_state(state) if state else openings, OPENINGS_A_PAGE).get_page(page),
        labor=job_labor(job.pk),
        schedules=tuple(schedules_of(job.pk)),
    )


def detail_names(job_id: int) -> list[str]:
    """Return the names of a job's installation details. One query."""
    return list(InstallationDetail.objects.filter(job=job_id).values_list("name", flat=True))
