"""What a worker does, one line a task."""

from __future__ import annotations

from celery import shared_task
from django.utils import timezone

from jobs import services


@shared_task
def forget_old_answers() -> None:
    services.forget_old_answers(now=timezone.now())
