"""Endpoints of people, jobs, crews and forecasts, and of signing in."""

from jobs.api.crew import Crews
from jobs.api.forecast import Forecasts
from jobs.api.job import Jobs
from jobs.api.person import Invitations, People
from jobs.api.token import Credentials, Token, TokenOut, TokenScheme
from jobs.api.weather_limits import WeatherLimits

__all__ = [
    "Credentials",
    "Crews",
    "Forecasts",
    "Invitations",
    "Jobs",
    "People",
    "Token",
    "TokenOut",
    "TokenScheme",
    "WeatherLimits",
]
