"""The whole service on one machine: embedded servers, demo jobs, worker, beat and web server."""

from __future__ import annotations

import errno
import json
import socket
import time
from argparse import ArgumentParser
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.core.management import BaseCommand, call_command

from config import demo_content, demo_database, programs, services

HOST = "127.0.0.1"
PORTS_TRIED = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class Ready:
    """What somebody needs to know about a demo that is up."""

    base_url: str
    logins: dict[str, dict[str, str]]
    workbooks: list[Path]
    counts: dict[str, int]

    def as_json(self) -> str:
        return json.dumps(
            {
                "base_url": self.base_url,
                "logins": self.logins,
                "workbooks": [str(path) for path in self.workbooks],
                "counts": self.counts,
            }
        )

    def as_text(self) -> str:
        counts = ", ".join(f"{number} {name.replace('_', ' ')}" for name, number in self.counts.items())
        signs_in = [
            f"  {role:<12}{login['username']} / {login['password']}" for role, login in self.logins.items()
        ] or ["  (the passwords that the demo gave are no longer in force)"]
        return "\n".join(
            [
                f"Loaded: {counts}.",
                "Pull sheets:",
                *(f"  {path}" for path in self.workbooks),
                "Sign in as:",
                *signs_in,
                f"Pages:  {self.base_url}/",
                f"API:    {self.base_url}/api/docs/",
            ]
        )


class Command(BaseCommand):
    """Bring everything up, tell where to look, and take it down again on Ctrl-C."""

    help = (
        "Run the whole service with demo jobs: PostgreSQL, Redis, Celery workers, beat and a web server. "
        "With DATABASE_URL and REDIS_URL set, those servers are used."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--once", action="store_true", help="do the work, print the summary, shut down")
        parser.add_argument("--json", action="store_true", help="print one JSON line on stdout when ready")
        parser.add_argument("--port", type=int, default=8000, help="first port to try (default: 8000)")
        parser.add_argument("--data", type=Path, default=services.default_data(), help="folder that keeps the data")

    def handle(self, *, once: bool, json: bool, port: int, data: Path, **_options: Any) -> None:
        places = services.places_for(data, report=self._report)
        with (
            services.StopSignals() as stop,
            services.claimed(places.data) as claim,
            places.in_use(),
            services.Supervisor(stop=stop, report=self._report) as children,
        ):
            try:
                services.start(places, claim=claim, children=children, report=self._report)
                ready = self._bring_up(places.data, port=port, children=children, stop=stop)
                self.stdout.write(ready.as_json() if json else ready.as_text())
                self.stdout.flush()
                if not once:
                    self._serve(children)
            finally:
                claim.publish(None)  # whoever comes now waits, and starts servers of their own
                self._report("Stopping.")

    def _bring_up(self, data: Path, *, port: int, children: services.Supervisor, stop: services.StopSignals) -> Ready:
        with stop.interruptible():
            demo_database.require_empty_or_own()
            self._report("Migrating the database.")
            call_command("migrate", interactive=False, verbosity=0)
            loaded = demo_content.load(report=self._report)
        logs = data / "logs"
        with _listening(port, report=self._report) as listener:
            children.start(
                *programs.workers(logs=logs),
                programs.beat(logs=logs, state=data),
                programs.web(logs=logs, listener=listener),
            )
            base_url = f"http://{HOST}:{listener.getsockname()[1]}"
        with stop.interruptible():
            workbooks = self._make_pull_sheets(data / "workbooks", children=children)
        counts = loaded["counts"] | {"pull_sheets": len(workbooks)}
        return Ready(base_url=base_url, logins=loaded["logins"], workbooks=workbooks, counts=counts)

    def _make_pull_sheets(self, folder: Path, *, children: services.Supervisor) -> list[Path]:
        folder.mkdir(exist_ok=True)
        try:
            return demo_content.make_pull_sheets(folder=folder, report=self._report)
        except Exception as error:
            children.check()  # a worker that died is the better explanation
            if isinstance(error, TimeoutError):
                raise services.ServiceError(f"{error}; what it did stands in {folder.parent / 'logs'}.") from error
            raise

    def _serve(self, children: services.Supervisor) -> None:
        self._report("Running. Stop with Ctrl-C; the data is kept.")
        try:
            children.watch()
        except services.Stopped:
            return

    def _report(self, sentence: str) -> None:
        self.stderr.write(f"{time.strftime('%H:%M:%S')} {sentence}", self.style.NOTICE)
        self.stderr.flush()


@contextmanager
def _listening(port: int, *, report: services.Report) -> Iterator[socket.socket]:
    """Listen on the first free port from `port` on while inside.

    Raises:
        ServiceError: none of the ports tried may be used.
    """
    for candidate in range(port, min(port + PORTS_TRIED, 65536)):
        try:
            listener = socket.create_server((HOST, candidate))
        except OSError as error:
            if error.errno != errno.EADDRINUSE:
                raise services.ServiceError(f"Port {candidate}: {error.strerror}.") from error
            report(f"Port {candidate} is taken: trying the next.")
            continue
        with listener:
            yield listener
        return
    raise services.ServiceError(f"No port from {port} on is free: choose another with --port.")
