"""Which user the servers run as, and what that user can reach."""

from __future__ import annotations

import os
import pwd
import subprocess
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypedDict

from config.services.errors import ServiceError

UNPRIVILEGED = ("postgres", "nobody", "daemon")


class RunAs(TypedDict, total=False):
    """The arguments of `subprocess.Popen` that choose a user."""

    user: int
    group: int
    extra_groups: list[int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """A user of this machine."""

    name: str
    uid: int
    gid: int

    def run_as(self) -> RunAs:
        """Return what to hand to `subprocess.Popen`; nothing when we are this user already."""
        if self.uid == os.geteuid():
            return {}
        return {"user": self.uid, "group": self.gid, "extra_groups": []}

    def give(self, path: Path) -> None:
        """Make this user the owner of `path`."""
        if path.stat().st_uid != self.uid:
            os.chown(path, self.uid, self.gid)

    def can_enter(self, folder: Path) -> bool:
        """Ask the system, as this user, whether every folder on the way to `folder` lets it pass."""
        return self._succeeds(["/bin/sh", "-c", 'cd -- "$1"', "sh", str(folder)])

    def can_run(self, binary: Path) -> bool:
        """Ask the system, as this user, whether `binary` starts."""
        return self._succeeds([str(binary), "--version"])

    def _succeeds(self, command: Sequence[str]) -> bool:
        try:
            done = subprocess.run(  # noqa: S603 (our own words)
                command, cwd="/", capture_output=True, check=False, **self.run_as()
            )
        except PermissionError:
            return False
        return done.returncode == 0


def account_for(data: Path) -> Account:
    """Return the user that runs the servers on `data`: ourselves, or an unprivileged one when we are root.

    As root, servers that already have data there keep running as its owner.

    Raises:
        ServiceError: we are root and the machine has no user to step down to.
    """
    if os.geteuid() != 0:
        return _account(pwd.getpwuid(os.geteuid()))
    if data.exists() and data.stat().st_uid != 0:
        return _account(pwd.getpwuid(data.stat().st_uid))
    for name in UNPRIVILEGED:
        try:
            return _account(pwd.getpwnam(name))
        except KeyError:
            continue
    raise ServiceError(
        "PostgreSQL refuses to run as root, and this machine has none of the users "
        f"{', '.join(UNPRIVILEGED)}. Run this as an ordinary user, or set DATABASE_URL and REDIS_URL."
    )


def _account(entry: pwd.struct_passwd) -> Account:
    return Account(name=entry.pw_name, uid=entry.pw_uid, gid=entry.pw_gid)
