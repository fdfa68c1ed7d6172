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


@task
def tell_people() -> None:
    services.spread_events(now=timezone.now())
    services.write_letters(now=timezone.now())
    services.send_letters(now=timezone.now())


@task
def tell_programs() -> None:
    services.call_webhooks(now=timezone.now())


@task
def forget_old_events() -> None:
    services.forget_old_events(now=timezone.now())
