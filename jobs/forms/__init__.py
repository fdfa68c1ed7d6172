"""What is typed or chosen on the pages of this floor ⇄ values, split by noun."""

from jobs.forms.drive import DrivesForm
from jobs.forms.outside import CalendarLinkForm, NoticesForm, WebhookForm

__all__ = [
    "CalendarLinkForm",
    "DrivesForm",
    "NoticesForm",
    "WebhookForm",
]
