"""The embedded Redis: append-only, started on a Unix socket."""

from __future__ import annotations

import signal
from pathlib import Path

import redis

from config.services.binaries import Binaries
from config.services.places import Places
from config.services.processes import Program, end_leftover

CONNECT_TIMEOUT_S = 5


def url(places: Places) -> str:
    """Return the address of this server, as redis-py reads it."""
    return f"unix://{_socket(places)}"


def program(places: Places, binaries: Binaries) -> Program:
    """Return how to start the server."""
    settings = {
        "port": "0",
        "unixsocket": str(_socket(places)),
        "unixsocketperm": "700",
        "dir": str(places.redis),
        "pidfile": str(_pid_file(places)),
        "appendonly": "yes",
        "save": "",
        "daemonize": "no",
        "set-proc-title": "no",  # the folder stays in the command line, by which a leftover is known
    }
    return Program(
        name="Redis",
        command=[
            str(binaries.redis_server),
            *(word for name, value in settings.items() for word in (f"--{name}", value)),
        ],
        log=places.log("redis"),
        is_ready=lambda: _answers(places),
        account=places.account,
    )


def tidy(places: Places, binaries: Binaries) -> bool:
    """Make way for a start after a supervisor or server was killed; return whether a server was ended."""
    return end_leftover(_pid_file(places), program=binaries.redis_server, folder=places.redis, stop_with=signal.SIGTERM)


def _socket(places: Places) -> Path:
    return places.sockets / "redis.sock"


def _pid_file(places: Places) -> Path:
    return places.redis / "redis.pid"


def _answers(places: Places) -> bool:
    with redis.Redis(unix_socket_path=str(_socket(places)), socket_timeout=CONNECT_TIMEOUT_S) as client:
        try:
            return bool(client.ping())
        except (redis.ConnectionError, redis.TimeoutError):  # BusyLoading is a ConnectionError
            return False
