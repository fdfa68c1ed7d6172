"""Named reads of crews and their days."""

from jobs.queries.crew_day import DaysOff, crew_days_between, days_off_of, is_worked
from jobs.queries.seen import all_seen_until
from jobs.queries.today import latest_today_on_sites, today_at, today_on_sites, todays
from jobs.queries.weather_limits import weather_limits

__all__ = [
    "DaysOff",
    "all_seen_until",
    "crew_days_between",
    "days_off_of",
    "is_worked",
    "latest_today_on_sites",
    "today_at",
    "today_on_sites",
    "todays",
    "weather_limits",
]
