"""What a worker is asked to do: through a real broker, and without one."""

from __future__ import annotations

import time
from importlib import import_module

import pytest
from celery.exceptions import Retry
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import InterfaceError, OperationalError
from rest_framework.test import APIClient

from config.celery import app
from materials import services, tasks
from materials.models import PullSheet
from openings import services as openings
from openings import tasks as tasks_of_openings
from openings.models import ScheduleDraft
from tests.factories import JobFactory, PersonFactory, make_catalogue
from tests.materials.crew_days import make_crew_day

PATIENCE_S = 60


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


@pytest.mark.django_db(transaction=True)
@pytest.mark.usefixtures("live_worker")
def test_behind_four_slow_files_a_sheet_is_written_at_once():
    make_catalogue()
    crew_day = make_crew_day(openings=2)
    client = APIClient()
    client.force_authenticate(PersonFactory())
    rows = "".join(f"W{row},1,36,54,room {row}\n" for row in range(40_000))
    for number in range(4):
        content = f"Mark,Qty,RO Width,RO Height,Remarks {number}\n{rows}".encode()
        file = SimpleUploadedFile(f"slow-{number}.csv", content)
        sent = client.post("/api/v1/schedule-drafts/", {"job": JobFactory().pk, "file": file}, format="multipart")
        assert sent.status_code == 202, sent.json()
    assert ask(crew_day).status_code == 202
    wait_until_written()
    assert ScheduleDraft.objects.filter(state__in=["waiting", "reading"]).count() >= 2, "the files were too quick"
    ScheduleDraft.objects.all().delete()  # the worker leaves what is gone alone


def test_files_and_sheets_have_queues_of_their_own():
    app.loader.import_default_modules()
    queues = {
        name: app.amqp.router.route({}, name)["queue"].name for name in app.tasks if not name.startswith("celery.")
    }
    assert queues == {
        "materials.tasks.write_pull_sheet": "sheets", "materials.tasks.send_due_pull_sheets": "sheets",
        "openings.tasks.go_on_with_schedules": "sheets",
        "openings.tasks.read_schedule": "files", "openings.tasks.take_schedule": "files",
        "materials.tasks.tell_what_waits": "sheets", "openings.tasks.tell_what_waits": "sheets",
        "jobs.tasks.forget_old_answers": "sheets", "jobs.tasks.forget_old_events": "sheets",
        "jobs.tasks.forget_old_sign_ins": "sheets",
        "jobs.tasks.tell_people": "outside", "jobs.tasks.tell_programs": "outside",
    }  # fmt: skip


@pytest.mark.parametrize("error", [OperationalError("away"), InterfaceError("closed"), OSError("disk full")])
@pytest.mark.parametrize(
    ("task", "verb"),
    [
        (tasks.write_pull_sheet, (services, "write_pull_sheet")),
        (tasks_of_openings.read_schedule, (openings, "read_draft")),
        (tasks_of_openings.take_schedule, (openings, "take_draft")),
    ],
    ids=lambda one: getattr(one, "name", ""),
)
def test_a_task_whose_database_is_away_is_done_again_later(monkeypatch, error, task, verb):
    def fail(**_what: object) -> None:
        raise error

    monkeypatch.setattr(*verb, fail)
    retried = []
    monkeypatch.setattr(task, "retry", lambda *args, **kwargs: retried.append(kwargs) or Retry())
    with pytest.raises(Retry):
        task(1)
    (again,) = retried
    assert again["exc"] is error
    assert 0 <= again["countdown"] <= 1


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


def test_the_clock_strikes_a_task_that_there_is_and_looks_for_what_is_due_at_least_every_two_minutes():
    """What is only cleared away may wait an hour, and letters gather for five minutes."""
    longest = {
        "forget_old_answers": 3600,
        "forget_old_events": 3600,
        "forget_old_sign_ins": 3600,
        "tell_what_waits": 300,
    }
    for entry in settings.CELERY_BEAT_SCHEDULE.values():
        module, name = entry["task"].rsplit(".", 1)
        task = getattr(import_module(module), name)
        assert app.tasks[entry["task"]] == task
        assert entry["schedule"].total_seconds() <= longest.get(name, 120)
