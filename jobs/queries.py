"""Named reads of crews and their days."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from django.db import connection
from django.db.models import QuerySet
from django.utils import timezone

from jobs.calc.calendar import local_date
from jobs.calc.weather import STARTING_LIMITS, WeatherLimits
from jobs.models import Crew, CrewDay, Job, ShopWeatherLimits


@dataclass(frozen=True, slots=True, kw_only=True)
class DaysOff:
    """The single days of one crew that differ from its weekdays."""

    off: frozenset[date]
    extra: frozenset[date]


def crew_days_between(first: date, last: date) -> QuerySet[CrewDay]:
    """Return the crew days from `first` to `last`, crews joined. One query."""
    return CrewDay.objects.filter(on__range=(first, last)).select_related("crew")


def days_off_of(crews: Iterable[int], *, since: date = date.min) -> dict[int, DaysOff]:
    """Return by crew the days off and the extra days worked, from `since` on. One query."""
    days: dict[int, tuple[set[date], set[date]]] = {crew: (set(), set()) for crew in crews}
    listed = CrewDay.objects.filter(crew_id__in=days, on__gte=since).values_list("crew_id", "on", "off_reason")
    for crew, on, off_reason in listed:
        days[crew][0 if off_reason else 1].add(on)
    return {crew: DaysOff(off=frozenset(off), extra=frozenset(extra)) for crew, (off, extra) in days.items()}


def is_worked(crew: Crew, on: date, days: DaysOff) -> bool:
    """Return whether `crew` works on `on`, given its days from `days_off_of`. No query."""
    return crew.works_on(on, off=days.off, extra=days.extra)


def weather_limits() -> WeatherLimits:
    """Return from what weather on windows are not set: as the shop says, or else where it starts. One query."""
    own = ShopWeatherLimits.objects.first()
    return own.as_limits() if own else STARTING_LIMITS


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


def all_seen_until() -> datetime:
    """Return an instant before which everything that was changed can be read by now. One query.

    A change says when it was made, not when its transaction ended: what is older than every transaction that runs has
    ended. Transactions of another role are not seen here; the service has one.

    Source:
        PostgreSQL 18 documentation, 27.2.3 "pg_stat_activity": `xact_start`, when the current transaction began.
    """
    with connection.cursor() as cursor:
        cursor.execute(
            """
            SELECT least(clock_timestamp(), min(xact_start)) FROM pg_stat_activity
            WHERE datname = current_database() AND backend_type = 'client backend' AND pid <> pg_backend_pid()
            """
        )
        row: tuple[datetime] = cursor.fetchone()
    return row[0]
