"""What a worker does, one line a task."""

from __future__ import annotations

from django.utils import timezone

from jobs.worker import task
from openings import services


@task
def read_schedule(draft_id: int) -> None:
    services.read_draft(draft_id=draft_id)


@task
def take_schedule(draft_id: int) -> None:
    services.take_draft(draft_id=draft_id)


@task
def tell_what_waits() -> None:
    services.tell_stranded()
    services.tell_late_deliveries(now=timezone.now())


@task
def go_on_with_schedules() -> None:
    to_read, to_take = services.drafts_to_go_on(now=timezone.now())
    for draft_id in to_read:
        read_schedule.delay(draft_id)
    for draft_id in to_take:
        take_schedule.delay(draft_id)
