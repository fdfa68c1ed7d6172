"""Child programs: started, waited for until they work, watched, and stopped in reverse order."""

from __future__ import annotations

import ctypes
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType

from config.services.accounts import Account
from config.services.errors import ServiceError
from config.services.signals import StopSignals

PR_SET_PDEATHSIG = 1  # prctl(2)
PAUSE_S = 0.05
LOG_TAIL_LINES = 15


@dataclass(frozen=True, slots=True, kw_only=True)
class Program:
    """What to start, how to see that it works and how to ask it to stop."""

    name: str
    command: Sequence[str]
    log: Path
    is_ready: Callable[[], bool]
    stop_with: signal.Signals = signal.SIGTERM
    ready_within_s: float = 60
    stop_within_s: float = 20
    account: Account | None = None
    environment: Mapping[str, str] | None = None
    folder: Path = Path("/")
    keep_open: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Child:
    """A started program."""

    program: Program
    process: subprocess.Popen[bytes]
    started_s: float

    @property
    def has_ended(self) -> bool:
        return self.process.poll() is not None


class Supervisor:
    """Keeps the programs started through it, and stops them, last first, when left."""

    def __init__(self, *, stop: StopSignals, report: Callable[[str], None]) -> None:
        self._stop = stop
        self._report = report
        self._children: list[Child] = []

    def __enter__(self) -> Supervisor:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        while self._children:
            _end(self._children[-1], report=self._report)
            self._children.pop()

    def start(self, *programs: Program) -> None:
        """Start the programs side by side and return when all of them work.

        Raises:
            ServiceError: one of them ended, or was not ready in its time.
            Stopped: we were asked to stop meanwhile.
        """
        children = []
        for program in programs:
            self._stop.check()
            children.append(_launch(program))
            self._children.append(children[-1])
        for child in children:
            self._wait_until_ready(child)

    def check(self) -> None:
        """Raise ServiceError if a program has ended, or Stopped if we were asked to stop."""
        self._stop.check()
        for child in self._children:
            if child.has_ended:
                raise ServiceError(_obituary(child))

    def watch(self) -> None:
        """Return never: `check()` until it raises."""
        while True:
            self.check()
            time.sleep(PAUSE_S * 4)

    def _wait_until_ready(self, child: Child) -> None:
        while not child.program.is_ready():
            self.check()
            if time.monotonic() - child.started_s > child.program.ready_within_s:
                raise ServiceError(
                    f"{child.program.name} was not ready after {child.program.ready_within_s:g} s. "
                    + _last_words(child.program.log)
                )
            time.sleep(PAUSE_S)
        self.check()
        self._report(f"{child.program.name} is ready ({time.monotonic() - child.started_s:.1f} s).")


def end_leftover(pid_file: Path, *, program: Path, folder: Path, stop_with: signal.Signals) -> bool:
    """End the program that a killed supervisor left running on `folder`; return whether it was there.

    The number in the pid file may meanwhile belong to a stranger, so the process is asked what it is first.
    """
    pid = _first_number(pid_file)
    if pid is None or not _is_running(pid, program=program, folder=folder):
        return False
    for number, patience_s in ((stop_with, 20.0), (signal.SIGKILL, 10.0)):
        with suppress(ProcessLookupError):
            os.kill(pid, number)
        deadline_s = time.monotonic() + patience_s
        while time.monotonic() < deadline_s:
            if not _is_running(pid, program=program, folder=folder):
                return True
            time.sleep(PAUSE_S)
    raise ServiceError(f"Process {pid} still runs on {folder} and cannot be ended.")


def dies_with_parent(number: signal.Signals) -> Callable[[], None] | None:
    """Return what a child runs before its program so that our death, even by SIGKILL, ends it (Linux)."""
    if sys.platform != "linux":
        return None
    libc = ctypes.CDLL(None)
    parent = os.getpid()

    def in_child() -> None:
        libc.prctl(PR_SET_PDEATHSIG, int(number), 0, 0, 0)
        if os.getppid() != parent:
            os._exit(1)

    return in_child


def _launch(program: Program) -> Child:
    with program.log.open("wb") as log:
        process = subprocess.Popen(  # noqa: S603 (our own words)
            program.command,
            stdin=subprocess.DEVNULL,
            stdout=log,
            stderr=subprocess.STDOUT,
            env=program.environment,
            cwd=program.folder,
            start_new_session=True,  # a terminal's Ctrl-C reaches only us; we stop the others in order
            preexec_fn=dies_with_parent(program.stop_with),
            pass_fds=program.keep_open,
            **(program.account.run_as() if program.account else {}),
        )
    return Child(program=program, process=process, started_s=time.monotonic())


def _end(child: Child, *, report: Callable[[str], None]) -> None:
    if not child.has_ended:
        child.process.send_signal(child.program.stop_with)
    try:
        child.process.wait(child.program.stop_within_s)
    except subprocess.TimeoutExpired:
        report(f"{child.program.name} does not stop: killing it.")
        with suppress(ProcessLookupError):
            os.killpg(child.process.pid, signal.SIGKILL)
        child.process.wait()
    with suppress(ProcessLookupError, PermissionError):
        os.killpg(child.process.pid, signal.SIGKILL)


def _obituary(child: Child) -> str:
    code = child.process.returncode
    how = f"was killed by {signal.Signals(-code).name}" if code < 0 else f"ended with exit code {code}"
    return f"{child.program.name} {how}. {_last_words(child.program.log)}"


def _last_words(log: Path) -> str:
    tail = log.read_text(errors="replace").splitlines()[-LOG_TAIL_LINES:]
    return "\n  ".join([f"The end of {log}:", *tail])


def _first_number(pid_file: Path) -> int | None:
    try:
        return int(pid_file.read_text().split()[0])
    except (FileNotFoundError, ValueError, IndexError):
        return None


def _is_running(pid: int, *, program: Path, folder: Path) -> bool:
    """Tell whether process `pid` is `program` at work on `folder`, by its command line or working folder."""
    proc = Path(f"/proc/{pid}")
    if proc.parent.joinpath("self").exists():
        try:
            command = proc.joinpath("cmdline").read_bytes().replace(b"\0", b" ").decode(errors="replace")
        except (FileNotFoundError, ProcessLookupError):
            return False
    else:
        command = subprocess.run(  # noqa: S603 (our own words)
            ["/bin/ps", "-o", "command=", "-p", str(pid)], capture_output=True, text=True, check=False
        ).stdout
    return program.name in command and str(folder) in command
