"""Named reads of people, crews and their days."""

from jobs.queries.company import (
    Calendar,
    PublicHoliday,
    calendar,
    company,
    company_day_on,
    company_days_between,
    holidays_of,
    other_days_of,
)
from jobs.queries.crew_day import DaysOff, crew_days_between, days_off_of, is_worked, ordinary_day
from jobs.queries.drive import YARD, Drives, Route, drives_among, drives_from
from jobs.queries.forecast import forecast_of, forecasts_to_come
from jobs.queries.job import job_of
from jobs.queries.letter import mail_state
from jobs.queries.notice import Choice, choices_of, concerns, notices_of, office_zone, told_of
from jobs.queries.outside import WebhookState, calendar_link_of, calendar_links, webhook_of, webhook_states
from jobs.queries.person import invitation_by, owners_who_sign_in, people, person_of
from jobs.queries.seen import all_seen_until
from jobs.queries.sign_in import refused_until, sign_ins
from jobs.queries.today import latest_today_on_sites, today_at, today_on_sites, todays
from jobs.queries.token import digest_of, token_of, tokens_of
from jobs.queries.weather_limits import weather_limits

__all__ = [
    "YARD",
    "Calendar",
    "Choice",
    "DaysOff",
    "Drives",
    "PublicHoliday",
    "Route",
    "WebhookState",
    "all_seen_until",
    "calendar",
    "calendar_link_of",
    "calendar_links",
    "choices_of",
    "company",
    "company_day_on",
    "company_days_between",
    "concerns",
    "crew_days_between",
    "days_off_of",
    "digest_of",
    "drives_among",
    "drives_from",
    "forecast_of",
    "forecasts_to_come",
    "holidays_of",
    "invitation_by",
    "is_worked",
    "job_of",
    "latest_today_on_sites",
    "mail_state",
    "notices_of",
    "office_zone",
    "ordinary_day",
    "other_days_of",
    "owners_who_sign_in",
    "people",
    "person_of",
    "refused_until",
    "sign_ins",
    "today_at",
    "today_on_sites",
    "todays",
    "token_of",
    "tokens_of",
    "told_of",
    "weather_limits",
    "webhook_of",
    "webhook_states",
]
