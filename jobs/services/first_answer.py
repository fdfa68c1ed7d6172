"""Answers that are kept for a while."""

from __future__ import annotations

from datetime import datetime, timedelta

from jobs.models import FirstAnswer

ANSWERS_KEPT_FOR = timedelta(days=7)
"""How long a request may be sent again with its key (our choice: a phone that was without a signal for a week)."""


def forget_old_answers(*, now: datetime) -> int:
    """Forget the answers that are kept for too long, and return how many. Safe to repeat."""
    count, _ = FirstAnswer.objects.filter(answered_at__lt=now - ANSWERS_KEPT_FOR).delete()
    return count
