"""Endpoints of people, jobs, crews and forecasts, and of signing in."""

from jobs.api.company import Company, PublicHolidays
from jobs.api.crew import Crews
from jobs.api.drive import JobDrives
from jobs.api.forecast import Forecasts
from jobs.api.job import Jobs
from jobs.api.outside import CalendarLinks, NoticeChoices, Webhooks
from jobs.api.person import Invitations, People
from jobs.api.token import NewToken, Password, SignIns, SignOutEverywhere, Tokens, Unlock
from jobs.api.weather_limits import WeatherLimits

__all__ = [
    "CalendarLinks",
    "Company",
    "Crews",
    "Forecasts",
    "Invitations",
    "JobDrives",
    "Jobs",
    "NewToken",
    "NoticeChoices",
    "Password",
    "People",
    "PublicHolidays",
    "SignIns",
    "SignOutEverywhere",
    "Tokens",
    "Unlock",
    "WeatherLimits",
    "Webhooks",
]
