"""JSON ⇄ jobs, crews and forecasts."""

from jobs.serializers.clock import CLOCK, ClockField
from jobs.serializers.company import (
    CompanyDaySerializer,
    CompanySerializer,
    PublicHolidaysAsked,
    PublicHolidaySerializer,
)
from jobs.serializers.crew import CrewSerializer
from jobs.serializers.drive import DriveEntrySerializer, DrivesAsked, DriveSerializer
from jobs.serializers.forecast import SiteForecastSerializer
from jobs.serializers.job import JobSerializer
from jobs.serializers.outside import (
    CalendarAddressSerializer,
    CalendarLinkSerializer,
    NoticeChoicesSerializer,
    SecretSerializer,
    WebhookSerializer,
)
from jobs.serializers.person import InvitationSerializer, MemberSerializer, NewInvitationSerializer, PersonSerializer
from jobs.serializers.row import refuse_change
from jobs.serializers.token import (
    Credentials,
    NewPassword,
    SignInSerializer,
    TokenOut,
    TokenSerializer,
    UnlockSerializer,
)
from jobs.serializers.weather_limits import WeatherLimitsSerializer

__all__ = [
    "CLOCK",
    "CalendarAddressSerializer",
    "CalendarLinkSerializer",
    "ClockField",
    "CompanyDaySerializer",
    "CompanySerializer",
    "Credentials",
    "CrewSerializer",
    "DriveEntrySerializer",
    "DriveSerializer",
    "DrivesAsked",
    "InvitationSerializer",
    "JobSerializer",
    "MemberSerializer",
    "NewInvitationSerializer",
    "NewPassword",
    "NoticeChoicesSerializer",
    "PersonSerializer",
    "PublicHolidaySerializer",
    "PublicHolidaysAsked",
    "SecretSerializer",
    "SignInSerializer",
    "SiteForecastSerializer",
    "TokenOut",
    "TokenSerializer",
    "UnlockSerializer",
    "WeatherLimitsSerializer",
    "WebhookSerializer",
    "refuse_change",
]
