"""What changes jobs, crews and their days: load, decide, save."""

from jobs.services.crew import require_crew
from jobs.services.crew_day import find_crew_day, lock_crew_day, lock_crew_days, require_worked
from jobs.services.event import tell_event, untold
from jobs.services.first_answer import ANSWERS_KEPT_FOR, forget_old_answers
from jobs.services.letter import mail
from jobs.services.row import Row, add, change
from jobs.services.weather_limits import LimitsChange, reset_weather_limits, set_weather_limits

__all__ = [
    "ANSWERS_KEPT_FOR",
    "LimitsChange",
    "Row",
    "add",
    "change",
    "find_crew_day",
    "forget_old_answers",
    "lock_crew_day",
    "lock_crew_days",
    "mail",
    "require_crew",
    "require_worked",
    "reset_weather_limits",
    "set_weather_limits",
    "tell_event",
    "untold",
]
