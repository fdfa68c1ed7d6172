"""One process at a time runs the servers of a data folder; others are told, or join."""

from __future__ import annotations

import fcntl
import json
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from config.services.errors import InUse, ServiceError


@dataclass(frozen=True, slots=True, kw_only=True)
class Urls:
    """Where the database and the broker are."""

    database_url: str
    redis_url: str

    @contextmanager
    def exported(self) -> Iterator[Urls]:
        """Keep both in the environment, for this process and its children, while inside."""
        ours = {"DATABASE_URL": self.database_url, "REDIS_URL": self.redis_url}
        before = {name: os.environ.get(name) for name in ours}
        os.environ.update(ours)
        try:
            yield self
        finally:
            for name, text in before.items():
                if text is None:
                    os.environ.pop(name, None)
                else:
                    os.environ[name] = text


class Claim:
    """The right to run the servers of one folder, held until the process ends, however it ends."""

    def __init__(self, descriptor: int) -> None:
        self._descriptor = descriptor

    def publish(self, urls: Urls | None) -> None:
        """Tell who asks `published()` where the servers answer; None while they do not yet."""
        text = json.dumps({"pid": os.getpid(), "urls": asdict(urls) if urls else None}).encode()
        os.pwrite(self._descriptor, text, 0)
        os.ftruncate(self._descriptor, len(text))


@contextmanager
def claimed(data: Path) -> Iterator[Claim]:
    """Hold the claim on `data` while inside.

    Raises:
        InUse: another process holds it.
        ServiceError: the folder is not ours to write in.
    """
    path = _lock_file(data)
    try:
        descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
    except PermissionError as error:
        raise ServiceError(f"{path} belongs to another user: choose a folder of your own with --data.") from error
    try:
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError as error:
            raise InUse(
                f"Process {_read(data).get('pid', '?')} already runs the servers of {data}. "
                "Stop it first, or choose another folder with --data."
            ) from error
        claim = Claim(descriptor)
        claim.publish(None)
        yield claim
    finally:
        os.close(descriptor)


def is_claimed(data: Path) -> bool:
    """Return whether some process holds the claim on `data`, and so runs its servers."""
    with _lock_file(data).open() as file:
        try:
            fcntl.flock(file, fcntl.LOCK_SH | fcntl.LOCK_NB)
        except BlockingIOError:
            return True
    return False


def published(data: Path) -> Urls | None:
    """Return where the holder of the claim says that the servers answer. Only meaningful while it is held."""
    urls = _read(data).get("urls")
    return Urls(**urls) if urls else None


def _read(data: Path) -> dict[str, Any]:
    try:
        found = json.loads(_lock_file(data).read_text())
    except (OSError, ValueError):  # being written this very moment
        return {}
    return dict(found)


def _lock_file(data: Path) -> Path:
    return data / "servers.lock"
