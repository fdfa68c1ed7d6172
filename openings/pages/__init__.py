"""Pages of openings, split by noun."""

from openings.pages.board import crew_board
from openings.pages.crew_day import crew_day
from openings.pages.job import job, job_list

__all__ = ["crew_board", "crew_day", "job", "job_list"]
