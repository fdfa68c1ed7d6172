"""What changes people, jobs, crews and their days: load, decide, save."""

from jobs.services.calendar_link import (
    NewLink,
    draw_token,
    follow_calendar_link,
    make_calendar_link,
    revoke_calendar_link,
)
from jobs.services.company import set_company
from jobs.services.crew import add_crew, require_crew
from jobs.services.crew_day import find_crew_day, lock_crew_day, lock_crew_days, require_worked
from jobs.services.drive import enter_drives
from jobs.services.event import tell_event, untold
from jobs.services.first_answer import ANSWERS_KEPT_FOR, forget_old_answers
from jobs.services.forecast import set_forecast, set_forecasts
from jobs.services.job import add_job
from jobs.services.letter import mail, send_letters
from jobs.services.notice import choose_notices, forget_old_events, spread_events, write_letters
from jobs.services.password import set_password, sign_out_everywhere
from jobs.services.person import (
    INVITATION_LASTS,
    PersonChange,
    accept_invitation,
    add_person,
    change_person,
    deactivate_person,
    deactivating,
    invite_person,
    mail_invitation,
    make_first_owner,
    reactivate_person,
    renew_invitation,
    take_back_invitation,
)
from jobs.services.row import Row, add, change, faults_of
from jobs.services.sign_in import forget_old_sign_ins, try_password, unlock_sign_in
from jobs.services.token import make_token, revoke_token, token_to_revoke
from jobs.services.weather_limits import LimitsChange, reset_weather_limits, set_weather_limits
from jobs.services.webhook import (
    WebhookChange,
    add_webhook,
    as_sent,
    call_webhooks,
    change_webhook,
    draw_secret,
    resume_webhook,
    stop_webhook,
)

__all__ = [
    "ANSWERS_KEPT_FOR",
    "INVITATION_LASTS",
    "LimitsChange",
    "NewLink",
    "PersonChange",
    "Row",
    "WebhookChange",
    "accept_invitation",
    "add",
    "add_crew",
    "add_job",
    "add_person",
    "add_webhook",
    "as_sent",
    "call_webhooks",
    "change",
    "change_person",
    "change_webhook",
    "choose_notices",
    "deactivate_person",
    "deactivating",
    "draw_secret",
    "draw_token",
    "enter_drives",
    "faults_of",
    "find_crew_day",
    "follow_calendar_link",
    "forget_old_answers",
    "forget_old_events",
    "forget_old_sign_ins",
    "invite_person",
    "lock_crew_day",
    "lock_crew_days",
    "mail",
    "mail_invitation",
    "make_calendar_link",
    "make_first_owner",
    "make_token",
    "reactivate_person",
    "renew_invitation",
    "require_crew",
    "require_worked",
    "reset_weather_limits",
    "resume_webhook",
    "revoke_calendar_link",
    "revoke_token",
    "send_letters",
    "set_company",
    "set_forecast",
    "set_forecasts",
    "set_password",
    "set_weather_limits",
    "sign_out_everywhere",
    "spread_events",
    "stop_webhook",
    "take_back_invitation",
    "tell_event",
    "token_to_revoke",
    "try_password",
    "unlock_sign_in",
    "untold",
    "write_letters",
]
