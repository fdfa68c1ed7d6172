"""Pages of this floor, split by noun."""

from jobs.pages.account import account
from jobs.pages.company import company
from jobs.pages.drive import drives
from jobs.pages.integrations import integrations
from jobs.pages.notices import notices
from jobs.pages.person import people, person, welcome
from jobs.pages.sign_in import sign_ins
from jobs.pages.weather import forecasts, weather_limits

__all__ = [
    "account",
    "company",
    "drives",
    "forecasts",
    "integrations",
    "notices",
    "people",
    "person",
    "sign_ins",
    "weather_limits",
    "welcome",
]
