"""Jobs."""

from __future__ import annotations

from jobs.errors import NotFound
from jobs.models import Job


def job_of(job_id: int) -> Job:
    """Return a job. One query.

    Raises:
        NotFound: there is no such job.
    """
    job = Job.objects.filter(pk=job_id).first()
    if job is None:
        raise NotFound(f"there is no job {job_id}")
    return job
