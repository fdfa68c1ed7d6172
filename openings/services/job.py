"""Closing a job, archiving it, and taking it up again."""

from __future__ import annotations

from django.utils import timezone

from jobs import transaction
from jobs.about import about
from jobs.calc.say import counted
from jobs.errors import Conflict, NotFound
from jobs.models import Job
from jobs.services import change
from openings.models import Assignment


@transaction.atomic
def close_job(*, job_id: int) -> Job:
    """Close a job: nothing of it is assigned any more, and what is recorded stays. Safe to repeat.

    Raises:
        NotFound: there is no such job.
        Conflict: openings of it are assigned and not done.
    """
    job = _locked(job_id)
    assigned = Assignment.objects.to_do().filter(opening__job=job).count()
    if assigned:
        them = counted(assigned, "opening")
        raise Conflict(
            f"{them} of {job} are still assigned to a crew: unassign or finish them first", about=[about(job)]
        )
    return job if job.closed_at else change(job, closed_at=timezone.now())


@transaction.atomic
def archive_job(*, job_id: int) -> Job:
    """Archive a closed job: lists leave it out. Safe to repeat.

    Raises:
        NotFound: there is no such job.
        Conflict: it is not closed.
    """
    job = _locked(job_id)
    if job.closed_at is None:
        raise Conflict(f"{job} is still open: close it first", about=[about(job)])
    return job if job.archived_at else change(job, archived_at=timezone.now())


@transaction.atomic
def reopen_job(*, job_id: int) -> Job:
    """Take up a job again that was closed or archived. Safe to repeat.

    Raises:
        NotFound: there is no such job.
    """
    return change(_locked(job_id), closed_at=None, archived_at=None)


def _locked(job_id: int) -> Job:
    job = Job.objects.select_for_update(no_key=True).filter(pk=job_id).first()
    if job is None:
        raise NotFound(f"there is no job {job_id}")
    return job
