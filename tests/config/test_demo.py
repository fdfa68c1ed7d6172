"""`manage.py demo`, as somebody at a terminal has it."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from socket import create_server
from typing import Any
from urllib.parse import urlsplit
from uuid import uuid4

import psycopg
import pytest
from python_calamine import CalamineWorkbook

from config import programs, services
from tests.config.trials import trial_data

OWN_VARIABLES = ("DATABASE_URL", "REDIS_URL", "SECRET_KEY", "DJANGO_SETTINGS_MODULE")
PATIENCE_S = 300.0
LINUX = pytest.mark.skipif(sys.platform != "linux", reason="reads /proc")


class Demo:
    """One run of the command, whose processes are known by a mark in their environment."""

    def __init__(self, *arguments: str, data: Path, environment: Mapping[str, str]) -> None:
        self._mark = uuid4().hex
        inherited = {name: text for name, text in os.environ.items() if name not in OWN_VARIABLES}
        self.process = subprocess.Popen(
            [sys.executable, "manage.py", "demo", "--data", str(data), *arguments],
            cwd=services.CHECKOUT,
            env={**inherited, **environment, "DEMO_MARK": self._mark},
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        self.told: list[str] = []

    def wait_until_told(self, words: str) -> None:
        """Read its progress until a sentence holds `words`."""
        assert self.process.stderr is not None
        for sentence in self.process.stderr:
            self.told.append(sentence)
            if words in sentence:
                return
        raise AssertionError(f"never told of {words!r}:\n{''.join(self.told)}")

    def end(self) -> tuple[int, str]:
        """Return exit code and standard output once it has ended."""
        output, progress = self.process.communicate(timeout=PATIENCE_S)
        self.told.append(progress)
        return self.process.returncode, output

    def processes(self) -> list[str]:
        """Return the command lines of the processes that it or its children started and that still run."""
        found = []
        for folder in Path("/proc").glob("[0-9]*"):
            try:
                if self._mark.encode() in (folder / "environ").read_bytes():
                    found.append((folder / "cmdline").read_bytes().replace(b"\0", b" ").decode())
            except OSError:
                continue
        return found


@pytest.fixture(scope="module")
def data() -> Iterator[Path]:
    """One folder for all: a first start takes the longest."""
    with trial_data() as folder:
        yield folder


@contextmanager
def _demo(*arguments: str, data: Path, environment: Mapping[str, str] | None = None) -> Iterator[Demo]:
    demo = Demo(*arguments, data=data, environment=environment or {})
    try:
        yield demo
    finally:
        if demo.process.poll() is None:
            demo.process.terminate()
        demo.end()


def _once(data: Path) -> dict[str, Any]:
    with _demo("--once", "--json", data=data) as demo:
        code, output = demo.end()
    assert code == 0, demo.told
    assert demo.processes() == []
    (line,) = output.splitlines()
    return json.loads(line)


@LINUX
def test_once_does_the_work_tells_it_in_one_line_and_leaves_nothing_running(data: Path) -> None:
    told = _once(data)
    assert set(told) == {"base_url", "logins", "workbooks", "counts"}
    assert told["counts"]["jobs"] >= 3
    assert told["counts"]["openings"] >= 150
    assert told["counts"]["crews"] >= 4
    assert told["counts"]["pull_sheets"] == len(told["workbooks"]) > 0
    assert set(told["logins"]) == {"scheduler", "warehouse", "crew_lead", "owner"}
    for path in told["workbooks"]:
        assert CalamineWorkbook.from_path(path).sheet_names


@LINUX
def test_second_start_adds_nothing(data: Path) -> None:
    first, second = _once(data), _once(data)
    assert second["counts"] == first["counts"]
    assert second["logins"] == first["logins"]


@LINUX
def test_a_live_firms_database_is_refused_in_one_sentence_before_anything_is_changed(data: Path) -> None:
    with services.running(data / "firm", report=lambda _sentence: None, durable=False) as urls:
        with psycopg.connect(urls.database_url, autocommit=True) as connection:
            connection.execute("CREATE TABLE jobs_person AS SELECT 1 AS id")
        with _demo("--once", data=data, environment={"DATABASE_URL": urls.database_url}) as demo:
            code, _output = demo.end()
        with psycopg.connect(urls.database_url) as connection:
            tables = connection.execute("SELECT tablename FROM pg_tables WHERE schemaname = 'public'").fetchall()
    assert code == 1
    assert "This database holds 1 person that the demo did not put there" in demo.told[-1]
    assert tables == [("jobs_person",)]


def test_taken_port_is_told_and_the_next_one_serves(data: Path) -> None:
    with create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        with _demo("--json", "--port", str(port), data=data) as demo:
            demo.wait_until_told(f"Port {port} is taken")
            demo.wait_until_told("Running.")
            assert demo.process.stdout is not None
            address = urlsplit(json.loads(demo.process.stdout.readline())["base_url"])
            assert address.port != port
            assert programs.says_ready("127.0.0.1", address.port)


def test_second_demo_on_the_same_data_is_told_who_runs_it(data: Path) -> None:
    with _demo(data=data) as first:
        first.wait_until_told("PostgreSQL is ready")
        with _demo(data=data) as second:
            second.wait_until_told(f"Process {first.process.pid} already runs the servers")
            assert second.end()[0] == 1


@LINUX
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM], ids=lambda number: number.name)
@pytest.mark.parametrize(
    ("moment", "was_ready"),
    [
        ("PostgreSQL is ready", False),
        ("Migrating", False),
        ("Celery worker for sheets is ready", False),
        ("Running.", True),
    ],
    ids=["servers", "migrations", "worker", "running"],
)
def test_stop_signal_leaves_no_process_behind(moment: str, was_ready: bool, number: signal.Signals, data: Path) -> None:
    with _demo(data=data) as demo:
        demo.wait_until_told(moment)
        demo.process.send_signal(number)
        code, _output = demo.end()
    assert demo.processes() == []
    assert code == (0 if was_ready else 128 + number)  # as shells count


@LINUX
def test_even_a_kill_leaves_no_process_behind_and_the_next_start_works(data: Path) -> None:
    with _demo(data=data) as demo:
        demo.wait_until_told("Celery worker for sheets is ready")
        demo.process.kill()
        demo.process.wait()
    deadline_s = time.monotonic() + PATIENCE_S
    while demo.processes() and time.monotonic() < deadline_s:
        time.sleep(0.1)
    assert demo.processes() == []
    assert _once(data)["counts"]["jobs"] >= 3


@LINUX
def test_death_of_a_child_is_named_and_ends_the_demo(data: Path) -> None:
    with _demo(data=data) as demo:
        demo.wait_until_told("Running.")
        os.kill(int((data / "beat.pid").read_text()), signal.SIGKILL)
        demo.wait_until_told("Celery beat was killed by SIGKILL")
        assert demo.end()[0] == 1
    assert demo.processes() == []
