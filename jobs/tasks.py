"""What a worker does, one line a task."""

from __future__ import annotations

from django.utils import timezone

from jobs import services
from jobs.worker import task


@task
def forget_old_sign_ins() -> None:
    services.forget_old_sign_ins(now=timezone.now())


@task
def forget_old_answers() -> None:
    services.forget_old_answers(now=timezone.now())
