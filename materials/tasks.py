"""What a worker does, one line a task."""

from __future__ import annotations

from django.utils import timezone

from jobs.worker import task
from materials import services


@task
def write_pull_sheet(sheet_id: int) -> None:
    services.write_pull_sheet(sheet_id=sheet_id)


@task
def send_due_pull_sheets() -> None:
    for sheet_id in services.request_due_pull_sheets(now=timezone.now()):
        write_pull_sheet.delay(sheet_id)


@task
def tell_what_waits() -> None:
    services.tell_missing_sheets(now=timezone.now())
    services.tell_cover_by(now=timezone.now())
