"""The embedded PostgreSQL: made once with a random password, started on a Unix socket."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
from urllib.parse import quote

import psycopg

from config.services.binaries import Binaries
from config.services.errors import ServiceError
from config.services.places import LONGEST_SOCKET_NAME, Places, secret
from config.services.processes import Program, dies_with_parent, end_leftover

ROLE = DATABASE = "weatherlap"
CONNECT_TIMEOUT_S = 5
# What a crash of the machine may cost: everything, and a throw-away database is faster for it.
THROW_AWAY = {"fsync": "off", "synchronous_commit": "off", "full_page_writes": "off"}


def url(places: Places, *, database: str = DATABASE) -> str:
    """Return the address of a database of this server, as libpq reads it."""
    password = quote(secret(places.data, "postgres-password"), safe="")
    return f"postgresql://{ROLE}:{password}@/{database}?host={quote(str(places.sockets), safe='')}"


def make_cluster(places: Places, binaries: Binaries) -> bool:
    """Make the data folder if it is missing; return whether it was made.

    The folder gets its name last, so one that exists is complete.

    Raises:
        ServiceError: initdb failed; its own words are in the message.
    """
    if places.postgres.exists():
        return False
    half_made, password_file = places.home / "postgres.part", places.home / "postgres-password.part"
    shutil.rmtree(half_made, ignore_errors=True)
    password_file.unlink(missing_ok=True)
    half_made.mkdir(mode=0o700)
    password_file.touch(mode=0o600)
    password_file.write_text(secret(places.data, "postgres-password"))
    for path in (half_made, password_file):
        places.account.give(path)
    done = subprocess.run(  # noqa: S603 (our own words)
        [
            binaries.postgres("initdb"),
            f"--pgdata={half_made}",
            f"--username={ROLE}",
            f"--pwfile={password_file}",
            "--auth=scram-sha-256",
            "--encoding=UTF8",
            "--locale=C",
            "--locale-provider=builtin",
            "--builtin-locale=C.UTF-8",
            "--no-instructions",
        ],
        cwd="/",
        capture_output=True,
        text=True,
        check=False,
        start_new_session=True,
        preexec_fn=dies_with_parent(signal.SIGKILL),
        **places.account.run_as(),
    )
    password_file.unlink()
    if done.returncode != 0:
        shutil.rmtree(half_made, ignore_errors=True)
        raise ServiceError(f"initdb failed: {done.stderr.strip()}")
    half_made.rename(places.postgres)
    return True


def program(places: Places, binaries: Binaries, *, durable: bool) -> Program:
    """Return how to start the server; with `durable` off it is faster and a power cut may spoil its data."""
    settings = {
        "listen_addresses": "",
        "unix_socket_directories": f'"{places.sockets}"',
        "unix_socket_permissions": "0700",
        "max_connections": "100",
        "timezone": "UTC",
        "log_timezone": "UTC",
        "random_page_cost": "1.1",  # a disk without heads: an index is asked, not the whole table read
        **({} if durable else THROW_AWAY),
    }
    return Program(
        name="PostgreSQL",
        command=[
            str(binaries.postgres("postgres")),
            "-D",
            str(places.postgres),
            *(word for name, value in settings.items() for word in ("-c", f"{name}={value}")),
        ],
        log=places.log("postgres"),
        is_ready=lambda: _answers(url(places, database="postgres")),
        stop_with=signal.SIGINT,  # "fast": ends the sessions, then shuts down cleanly
        stop_within_s=30,
        account=places.account,
    )


def tidy(places: Places, binaries: Binaries) -> bool:
    """Make way for a start after a supervisor or server was killed; return whether a server was ended.

    If the number in `postmaster.pid` has gone to a stranger, PostgreSQL would refuse to start. It is replaced
    by ours, which PostgreSQL, as our child, takes for dead; the file stays, because PostgreSQL learns from
    its other lines whether backends of the killed server still run.
    """
    pid_file = places.postgres / "postmaster.pid"
    server = binaries.postgres("postgres")
    ended = end_leftover(pid_file, program=server, folder=places.postgres, stop_with=signal.SIGINT)
    if pid_file.exists():
        _first, *others = pid_file.read_text().splitlines(keepends=True)
        pid_file.write_text("".join([f"{os.getpid()}\n", *others]))
    (places.sockets / f"{LONGEST_SOCKET_NAME}.lock").unlink(missing_ok=True)
    return ended


def make_database(places: Places) -> None:
    """Make the database in the running server if it is missing."""
    with psycopg.connect(url(places, database="postgres"), autocommit=True) as connection:
        if not connection.execute("SELECT 1 FROM pg_database WHERE datname = %s", [DATABASE]).fetchone():
            connection.execute(f"CREATE DATABASE {DATABASE}")


def _answers(address: str) -> bool:
    try:
        psycopg.connect(address, connect_timeout=CONNECT_TIMEOUT_S).close()
    except psycopg.OperationalError:
        return False
    return True
