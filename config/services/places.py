"""Where the servers keep their data, their sockets and their secrets."""

from __future__ import annotations

import hashlib
import os
import secrets
import stat
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from config.services.accounts import Account, account_for
from config.services.errors import ServiceError

# The kernel allows 108 bytes on Linux and 104 on macOS (unix(7), unix(4)).
LONGEST_SOCKET_PATH = 100
LONGEST_SOCKET_NAME = ".s.PGSQL.5432"
CHECKOUT = Path(__file__).resolve().parents[2]
VAR_TMP = Path("/var/tmp")  # noqa: S108 (folders made there are private and checked)


@dataclass(frozen=True, slots=True, kw_only=True)
class Places:
    """The folders of one set of embedded servers.

    `data` holds what is ours: lock, secrets, logs. `home` holds what is the servers': their data. They are
    the same folder unless the servers' user cannot reach `data`.
    """

    data: Path
    home: Path
    sockets: Path
    account: Account

    @property
    def postgres(self) -> Path:
        return self.home / "postgres"

    @property
    def redis(self) -> Path:
        return self.home / "redis"

    def log(self, name: str) -> Path:
        return self.data / "logs" / f"{name}.log"

    @contextmanager
    def in_use(self) -> Iterator[None]:
        """Keep the folders there while inside, each owned by who writes in it; a socket folder elsewhere goes."""
        (self.data / "logs").mkdir(exist_ok=True)
        for folder in (self.redis, self.sockets):
            _private_folder(folder, owner=self.account.uid)
            self.account.give(folder)
        try:
            yield
        finally:
            if self.sockets.parent != self.home:
                with suppress(OSError):  # gone already, or kept by a socket still in use
                    self.sockets.rmdir()


def default_data(name: str = "demo") -> Path:
    """Return the git-ignored folder for one set of servers; WEATHERLAP_DATA moves the demo's."""
    chosen = os.environ.get("WEATHERLAP_DATA") if name == "demo" else None
    return Path(chosen) if chosen else CHECKOUT / ".weatherlap" / name


def places_for(data: Path, *, report: Callable[[str], None]) -> Places:
    """Return where the servers of `data` live, making `data` itself if it is missing.

    Raises:
        ServiceError: `data` cannot be made or belongs to another user.
    """
    data = Path(os.path.abspath(data))
    _make_data(data)
    account = account_for(data / "postgres")
    home = data
    if not account.can_enter(data):
        home = VAR_TMP / _hashed(data)
        _private_folder(home, owner=os.geteuid(), mode=0o711)
        report(f"The user {account.name}, who runs the servers, cannot enter {data}: their data is in {home}.")
        account = account_for(home / "postgres")
    return Places(data=data, home=home, sockets=_socket_folder(home), account=account)


def secret(data: Path, name: str) -> str:
    """Return the secret kept in `data` under `name`, drawn at random the first time. Only we can read it."""
    _make_data(data)
    path = data / name
    if not path.exists():
        drawn = path.with_name(f"{name}.{os.getpid()}")
        drawn.touch(mode=0o600)
        drawn.write_text(secrets.token_urlsafe(48))
        drawn.rename(path)
    return path.read_text()


def _make_data(data: Path) -> None:
    try:
        for folder in reversed([folder for folder in (data, *data.parents) if not folder.exists()]):
            folder.mkdir(exist_ok=True)
            folder.chmod(0o755)
        if os.geteuid() == 0 and data.stat().st_uid == 0:
            data.chmod(data.stat().st_mode | 0o011)
    except OSError as error:
        raise ServiceError(f"The data folder {data} cannot be made: {error.strerror}.") from error
    if not os.access(data, os.W_OK | os.X_OK):
        raise ServiceError(f"The data folder {data} belongs to another user: choose one of your own with --data.")


def _socket_folder(home: Path) -> Path:
    temporary = Path(tempfile.gettempdir())
    for folder in (home / "run", temporary / _hashed(home), Path("/tmp") / _hashed(home)):  # noqa: S108
        if len(os.fsencode(folder / LONGEST_SOCKET_NAME)) <= LONGEST_SOCKET_PATH:
            return folder
    raise AssertionError("a path below /tmp is short enough")


def _private_folder(folder: Path, *, owner: int, mode: int = 0o700) -> None:
    try:
        folder.mkdir(mode=mode)
    except FileExistsError:
        found = folder.lstat()
        if not stat.S_ISDIR(found.st_mode) or found.st_uid not in {owner, os.geteuid()}:
            raise ServiceError(f"{folder} is not a folder of ours. Remove it, or choose another --data.") from None
    folder.chmod(mode)


def _hashed(path: Path) -> str:
    return f"weatherlap-{hashlib.sha256(os.fsencode(path)).hexdigest()[:16]}"
