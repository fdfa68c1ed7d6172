"""What a worker is asked to do: through a real broker, and without one."""

from __future__ import annotations

import time
from importlib import import_module

import pytest
from django.conf import settings
from rest_framework.test import APIClient

from config.celery import app
from materials import tasks
from materials.models import PullSheet
from tests.factories import PersonFactory, make_catalogue
from tests.materials.crew_days import make_crew_day

PATIENCE_S = 30


def ask(crew_day):
    client = APIClient()
    client.force_authenticate(PersonFactory())
    return client.post("/api/v1/pull-sheets/", {"crew": crew_day.crew_id, "on": crew_day.on})


def wait_until_written() -> PullSheet:
    deadline = time.monotonic() + PATIENCE_S
    while time.monotonic() < deadline:
        if sheet := PullSheet.objects.filter(state="written").first():
            return sheet
        time.sleep(0.1)
    raise AssertionError(f"still {PullSheet.objects.values_list('state', 'failure')} after {PATIENCE_S} s")


@pytest.mark.django_db(transaction=True)
@pytest.mark.usefixtures("live_worker")
def test_a_worker_process_takes_a_task_from_the_broker_and_writes_the_sheet():
    make_catalogue()
    asked = ask(make_crew_day(openings=2))
    assert asked.status_code == 202, asked.json()
    sheet = wait_until_written()
    assert sheet.pk == asked.json()["id"]
    assert bytes(sheet.workbook).startswith(b"PK")
    assert sheet.lines.count() > 5


@pytest.fixture
def dead_broker(monkeypatch, tmp_path):
    """The broker's address is a socket where nobody listens."""
    monkeypatch.setenv("CELERY_BROKER_URL", f"redis+socket://{tmp_path}/nobody.sock")
    monkeypatch.setattr(app, "_pool", None)
    monkeypatch.setattr(app.amqp, "_producer_pool", None)


@pytest.mark.django_db(transaction=True)
@pytest.mark.usefixtures("dead_broker")
def test_without_a_broker_a_request_succeeds_and_a_later_tick_sends_it(monkeypatch, caplog):
    crew_day = make_crew_day()
    begun = time.monotonic()
    asked = ask(crew_day)
    assert (asked.status_code, asked.json()["state"]) == (202, "pending")
    assert time.monotonic() - begun < 5
    assert "Error calling" in caplog.text
    sent: list[int] = []
    monkeypatch.setattr(tasks.write_pull_sheet, "delay", sent.append)
    tasks.send_due_pull_sheets()
    assert sent == [asked.json()["id"]]


def test_the_clock_strikes_a_task_that_there_is_at_least_every_two_minutes():
    for entry in settings.CELERY_BEAT_SCHEDULE.values():
        module, name = entry["task"].rsplit(".", 1)
        assert app.tasks[entry["task"]] == getattr(import_module(module), name)
        assert entry["schedule"].total_seconds() <= 120
