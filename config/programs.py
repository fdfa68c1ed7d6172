"""Our own programs as children: the worker, the beat that sends what is due, and the web server."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from contextlib import closing
from http import HTTPStatus
from http.client import HTTPConnection, HTTPException
from pathlib import Path
from socket import socket

from kombu.exceptions import OperationalError

from config.celery import app
from config.services import CHECKOUT, Program

PATIENCE_S = 5.0
QUEUES = ("sheets", "files", "outside")


def workers(*, logs: Path, environment: Mapping[str, str] | None = None) -> tuple[Program, ...]:
    """Return how to start a worker for each queue, so that no file and no server elsewhere keeps a sheet waiting."""
    return tuple(_worker(queue, logs=logs, environment=environment) for queue in QUEUES)


def _worker(queue: str, *, logs: Path, environment: Mapping[str, str] | None) -> Program:
    """Return how to start a worker. It is ready when it answers a ping through the broker."""
    node = f"weatherlap-{queue}-{os.getpid()}@localhost"
    return Program(
        name=f"Celery worker for {queue}",
        command=[
            *(sys.executable, "-m", "celery", "-A", "config", "worker", f"--queues={queue}"),
            *(f"--hostname={node}", "--concurrency=2", "--loglevel=INFO"),
            *("--without-gossip", "--without-mingle"),
        ],
        folder=CHECKOUT,
        environment={**(os.environ if environment is None else environment), "WEATHERLAP_PROGRAM": "worker"},
        log=logs / f"worker-{queue}.log",
        is_ready=lambda: _answers_ping(node),
    )


def beat(*, logs: Path, state: Path) -> Program:
    """Return how to start the beat. It is ready when it has written its pid file, in the folder `state`."""
    pid_file = state / "beat.pid"
    pid_file.unlink(missing_ok=True)  # whoever wrote it is gone: the caller has claimed the folder
    return Program(
        name="Celery beat",
        command=[
            *(sys.executable, "-m", "celery", "-A", "config", "beat", "--loglevel=INFO"),
            *(f"--schedule={state / 'beat-schedule'}", f"--pidfile={pid_file}"),
        ],
        folder=CHECKOUT,
        log=logs / "beat.log",
        is_ready=pid_file.exists,
    )


def web(*, logs: Path, listener: socket, environment: Mapping[str, str] | None = None) -> Program:
    """Return how to start the web server on a listening socket. It is ready when /health/ready says so."""
    host, port = listener.getsockname()
    return Program(
        name="Web server",
        command=[
            *(sys.executable, "-m", "gunicorn", "config.wsgi", f"--bind=fd://{listener.fileno()}"),
            *("--config=python:config.web", f"--worker-tmp-dir={logs}"),
        ],
        folder=CHECKOUT,
        environment=environment,
        log=logs / "web.log",
        is_ready=lambda: says_ready(host, port),
        keep_open=(listener.fileno(),),
    )


def says_ready(host: str, port: int) -> bool:
    """Return whether the web server there answers /health/ready with 200."""
    with closing(HTTPConnection(host, port, timeout=PATIENCE_S)) as connection:
        try:
            connection.request("GET", "/health/ready")
            return connection.getresponse().status == HTTPStatus.OK
        except (OSError, HTTPException):
            return False


def _answers_ping(node: str) -> bool:
    try:
        return bool(app.control.ping(destination=[node], timeout=1.0, limit=1))
    except OperationalError:
        return False
