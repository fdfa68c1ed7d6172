"""Who works where and when, split by noun."""

from jobs.models.crew import Crew, check_weekdays
from jobs.models.crew_day import CrewDay
from jobs.models.first_answer import FirstAnswer
from jobs.models.forecast import SiteForecast
from jobs.models.job import Job, check_time_zone
from jobs.models.person import Person
from jobs.models.weather_limits import ShopWeatherLimits

__all__ = [
    "Crew",
    "CrewDay",
    "FirstAnswer",
    "Job",
    "Person",
    "ShopWeatherLimits",
    "SiteForecast",
    "check_time_zone",
    "check_weekdays",
]
