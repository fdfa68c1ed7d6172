"""Pages of openings, split by noun."""

from openings.pages.detail import detail
from openings.pages.job import job, job_list
from openings.pages.schedule import schedule
from openings.pages.schedule_draft import schedule_draft
from openings.pages.schedule_revision import schedule_revision

__all__ = ["detail", "job", "job_list", "schedule", "schedule_draft", "schedule_revision"]
