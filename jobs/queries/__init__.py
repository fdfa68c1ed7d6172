"""Named reads of crews and their days."""

from jobs.queries.company import company, company_day_on, company_days_between
from jobs.queries.crew_day import DaysOff, crew_days_between, days_off_of, is_worked, ordinary_day
from jobs.queries.seen import all_seen_until
from jobs.queries.today import latest_today_on_sites, today_at, today_on_sites, todays
from jobs.queries.weather_limits import weather_limits

__all__ = [
    "DaysOff",
    "all_seen_until",
    "company",
    "company_day_on",
    "company_days_between",
    "crew_days_between",
    "days_off_of",
    "is_worked",
    "latest_today_on_sites",
    "ordinary_day",
    "today_at",
    "today_on_sites",
    "todays",
    "weather_limits",
]
