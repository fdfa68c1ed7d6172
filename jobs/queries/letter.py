"""Named reads of mail."""

from __future__ import annotations

from django.conf import settings

from jobs.calc.say import counted
from jobs.models import Letter


def mail_state() -> str:
    """Return in a few words whether mail leaves, and how much waits. One query."""
    waiting = Letter.objects.waiting()
    if not settings.MAIL_IS_SET_UP:
        return f"no mail server is set up; {counted(waiting.count(), 'letter')} kept"
    failed = waiting.exclude(failure="").count()
    return f"the mail server has not taken {counted(failed, 'letter')} yet" if failed else "sent"
