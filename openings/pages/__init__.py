"""Pages of openings, split by noun."""

from openings.pages.job import job, job_list

__all__ = ["job", "job_list"]
