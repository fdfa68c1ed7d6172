from __future__ import annotations

import re

import pytest
from django.db import InterfaceError, OperationalError

from config import health
from tests.factories import PersonFactory, make_openings
from tests.materials.crew_days import make_crew_day, request

# One sample of the text exposition format 0.0.4 of Prometheus: metric name, labels, value.
SAMPLE = re.compile(r'[a-zA-Z_:][a-zA-Z0-9_:]*\{[a-zA-Z_][a-zA-Z0-9_]*="(?:[^"\\\n]|\\["\\n])*"\} \d+')


class Unreachable:
    def __init__(self, error: type[Exception]) -> None:
        self._error = error

    def cursor(self) -> None:
        raise self._error("no answer")


def test_a_live_process_says_so_without_its_servers(client):
    assert client.get("/health/live").json() == {"status": "live"}


@pytest.mark.django_db
def test_with_database_and_broker_it_is_ready(client):
    answer = client.get("/health/ready")
    kept = "no mail server is set up; 0 letters kept"
    assert answer.status_code == 200
    assert answer.json() == {"status": "ready", "database": True, "broker": True, "mail": kept}


@pytest.mark.parametrize("error", [OperationalError, InterfaceError])
def test_without_a_database_it_is_not_ready(client, monkeypatch, error):
    monkeypatch.setattr(health, "connection", Unreachable(error))
    answer = client.get("/health/ready")
    assert (answer.status_code, answer.json()["status"], answer.json()["database"]) == (503, "not ready", False)


@pytest.mark.django_db
def test_without_a_broker_it_is_ready_and_says_so(client, settings, tmp_path):
    settings.REDIS_URL = f"unix://{tmp_path}/nobody.sock"
    answer = client.get("/health/ready")
    assert (answer.status_code, answer.json()["status"], answer.json()["broker"]) == (200, "ready", False)


@pytest.mark.django_db
def test_metrics_are_in_the_text_format_of_prometheus(client):
    make_openings(2)
    request(make_crew_day())
    answer = client.get("/metrics")
    assert answer["Content-Type"] == "text/plain; version=0.0.4; charset=utf-8"
    text = answer.content.decode()
    assert text.endswith("\n")
    lines = text.splitlines()
    for line in lines:
        assert line.startswith(("# HELP ", "# TYPE ")) or SAMPLE.fullmatch(line), line
    assert 'weatherlap_openings{state="ready"} 2' in lines
    assert 'weatherlap_openings{state="assigned"} 1' in lines
    assert 'weatherlap_pull_sheets{state="pending"} 1' in lines
    assert 'weatherlap_pull_sheets{state="failed"} 0' in lines


@pytest.mark.django_db
def test_metrics_are_for_this_machine_or_somebody_signed_in(client):
    assert client.get("/metrics", REMOTE_ADDR="203.0.113.9").status_code == 403
    client.force_login(PersonFactory())
    assert client.get("/metrics", REMOTE_ADDR="203.0.113.9").status_code == 200
