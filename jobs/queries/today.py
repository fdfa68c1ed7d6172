"""Which day it is where the jobs are."""

from __future__ import annotations

from datetime import date

from django.utils import timezone

from jobs.calc.calendar import local_date
from jobs.models import Job


def today_at(job: Job) -> date:
    """Return the date that the clock shows where a job is. No query."""
    return local_date(timezone.now(), time_zone=job.time_zone)


def todays() -> dict[str, date]:
    """Return by time zone of the jobs the date that the clock shows there. One query."""
    now = timezone.now()
    zones = Job.objects.order_by().values_list("time_zone", flat=True).distinct()
    return {zone: local_date(now, time_zone=zone) for zone in zones}


def today_on_sites() -> date:
    """Return the earliest date at any job, so that no site's day is left out before it ends. One query."""
    return min(todays().values(), default=timezone.now().date())


def latest_today_on_sites() -> date:
    """Return the latest date at any job: what has come at no site has not come. One query."""
    return max(todays().values(), default=timezone.now().date())
