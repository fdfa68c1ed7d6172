"""Who works where and when, split by noun."""

from jobs.models.calendar_link import CalendarLink
from jobs.models.company import Company, CompanyDay
from jobs.models.crew import Crew, check_weekdays
from jobs.models.crew_day import CrewDay
from jobs.models.drive import SiteDrive
from jobs.models.event import Event, EventKey
from jobs.models.first_answer import FirstAnswer
from jobs.models.forecast import SiteForecast
from jobs.models.invitation import Invitation
from jobs.models.job import Job, check_time_zone
from jobs.models.notice import Letter, Notice, NoticeChoice
from jobs.models.person import Person
from jobs.models.sign_in import SignIn
from jobs.models.token import Token
from jobs.models.weather_limits import ShopWeatherLimits
from jobs.models.webhook import Webhook, WebhookTry

__all__ = [
    "CalendarLink",
    "Company",
    "CompanyDay",
    "Crew",
    "CrewDay",
    "Event",
    "EventKey",
    "FirstAnswer",
    "Invitation",
    "Job",
    "Letter",
    "Notice",
    "NoticeChoice",
    "Person",
    "ShopWeatherLimits",
    "SignIn",
    "SiteDrive",
    "SiteForecast",
    "Token",
    "Webhook",
    "WebhookTry",
    "check_time_zone",
    "check_weekdays",
]
