"""A process that has the readers imported and forks one for each file; and the way to it.

It is started with the first file and ends with the process that started it. It knows no secrets: of the environment it
gets what Python needs. A reader bounds itself and the kernel ends it by its own clocks, so that nobody has to watch it.
"""

from __future__ import annotations

import gc
import os
import pickle
import resource
import selectors
import signal
import socket
import subprocess
import sys
import traceback
from contextlib import suppress
from math import ceil
from pathlib import Path
from threading import Lock
from typing import NoReturn

from jobs.errors import CallerError
from openings.schedules.apart.asked import ENDED, Asked, Broke, Budget, OutOfMemory, Refused
from openings.schedules.apart.plain import dumped
from openings.schedules.cells import CellSheet, sheets_of
from openings.schedules.readers import read_schedule
from openings.schedules.rows import ScheduleRead

CHECKOUT = Path(__file__).parents[3]
PASSED_ON = ("PATH", "HOME", "LANG", "TMPDIR", "LD_LIBRARY_PATH", "PYTHONPATH", "PYTHONDONTWRITEBYTECODE", "SYSTEMROOT")
"""A file from outside must not get at the secrets among the rest."""

GRACE_S = 5

SAMPLE = b"Mark;Qty;Rough Openning;Style;Level;Remarks\nA;2;3'-0\" x 4'-6\";casement;1;\n"
"""Read once, misspelled heading and all, so that what readers look up is there before one is forked; a small file then
takes a tenth of the time (measured)."""


class _Way:
    """The way to the nursery of this process; a process that was forked starts its own."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._socket: socket.socket | None = None
        self._nursery: subprocess.Popen[bytes] | None = None
        self._pid = 0

    def send(self, *descriptors: int) -> None:
        """Have a reader started with these file descriptors; the nursery is started where none answers."""
        with self._lock:
            for is_last in (False, True):
                try:
                    socket.send_fds(self._open(), [b"r"], descriptors)
                except OSError:
                    self.close()
                    if is_last:
                        raise
                else:
                    return

    def close(self) -> None:
        """End the nursery."""
        if self._socket is not None:
            self._socket.close()
        if self._nursery is not None and self._pid == os.getpid():
            self._nursery.kill()
            self._nursery.wait()
        self._socket = self._nursery = None

    def _open(self) -> socket.socket:
        if self._socket is None or self._pid != os.getpid():
            self._socket, self._nursery = _started()
            self._pid = os.getpid()
        return self._socket


_way = _Way()


def send_to_nursery(talks: int, tells: int) -> None:
    """Have a reader started.

    Args:
        talks: a socket that it reads an `Asked` from, to the end, and answers on.
        tells: a pipe on which its end is reported.
    """
    _way.send(talks, tells)


def _started() -> tuple[socket.socket, subprocess.Popen[bytes]]:
    ours, theirs = socket.socketpair()
    paths = os.pathsep.join(filter(None, [str(CHECKOUT), os.environ.get("PYTHONPATH")]))
    with theirs:
        nursery = subprocess.Popen(  # noqa: S603 (our own words)
            [sys.executable, "-P", "-m", __package__, str(theirs.fileno())],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            cwd="/",
            env={
                **{name: os.environ[name] for name in PASSED_ON if name in os.environ},
                "PYTHONPATH": paths,
                "OPENBLAS_NUM_THREADS": "1",
            },
            pass_fds=[theirs.fileno()],
            start_new_session=True,  # Ctrl-C is for who started us; we end when they have
        )
    return ours, nursery


def main(control: socket.socket) -> None:
    """Fork a reader for each pair of descriptors that comes, tell how it ended, and end with who sends them."""
    with suppress(CallerError):
        read_schedule(filename="sample.csv", content=SAMPLE)
    gc.freeze()  # what is there stays, so its pages stay shared
    waking, wakes = os.pipe()
    for end in (waking, wakes):
        os.set_blocking(end, False)
    signal.set_wakeup_fd(wakes, warn_on_full_buffer=False)
    signal.signal(signal.SIGCHLD, lambda _number, _frame: None)
    tells_of: dict[int, int] = {}
    with selectors.DefaultSelector() as selector:
        selector.register(control, selectors.EVENT_READ)
        selector.register(waking, selectors.EVENT_READ)
        while True:
            ready = {key.fd for key, _ in selector.select()}
            if waking in ready:
                with suppress(BlockingIOError):
                    os.read(waking, 1024)
                _tell(tells_of)
            if control.fileno() in ready:
                word, descriptors, _, _ = socket.recv_fds(control, 1, 2)
                if not word:
                    return
                talks, tells = descriptors
                pid = os.fork()
                if pid == 0:
                    control.close()
                    for other in (tells, *tells_of.values()):
                        os.close(other)
                    _be_a_reader(talks)
                os.close(talks)
                tells_of[pid] = tells


def _tell(tells_of: dict[int, int]) -> None:
    """Report the end of each reader that ended, and end the processes that it started."""
    for pid, tells in list(tells_of.items()):
        ended, status = os.waitpid(pid, os.WNOHANG)
        if ended:
            with suppress(ProcessLookupError, PermissionError):
                os.killpg(pid, signal.SIGKILL)
            with suppress(BrokenPipeError):
                os.write(tells, ENDED.pack(status))
            os.close(tells)
            del tells_of[pid]


def _be_a_reader(talks: int) -> NoReturn:
    """Read one file, answer and end; nothing of the nursery goes on here."""
    try:
        signal.set_wakeup_fd(-1)
        signal.signal(signal.SIGCHLD, signal.SIG_DFL)
        os.setpgid(0, 0)
        with socket.socket(fileno=talks) as asks:
            if given := _all_of(asks):
                asked: Asked = pickle.loads(given)  # noqa: S301 (from who started us)
                _bound(asked.budget)
                asks.sendall(_answer(asked))
    except BaseException:
        traceback.print_exc()
        os._exit(1)
    os._exit(0)


def _all_of(asks: socket.socket) -> bytes:
    parts = []
    while part := asks.recv(1 << 20):
        parts.append(part)
    return b"".join(parts)


def _bound(budget: Budget) -> None:
    """Let the kernel end this process over its budget; some systems know a limit and refuse to set it."""
    memory_bytes, time_s = budget.memory_mb * 10**6, ceil(budget.time_s)
    for kind, soft, hard in (
        (resource.RLIMIT_AS, memory_bytes, memory_bytes),
        (resource.RLIMIT_CPU, time_s, time_s + GRACE_S),
        (resource.RLIMIT_CORE, 0, 0),
    ):
        with suppress(ValueError, OSError):
            resource.setrlimit(kind, (soft, hard))
    signal.signal(signal.SIGALRM, signal.SIG_DFL)
    signal.setitimer(signal.ITIMER_REAL, 2 * budget.time_s)


def _answer(asked: Asked) -> bytes:
    said: object
    try:
        return dumped(_read(asked))
    except CallerError as error:
        said = Refused(detail=error.detail, faults=error.faults)
    except MemoryError:
        said = OutOfMemory()
    except Exception:
        said = Broke(where=traceback.format_exc()[-4_000:])
    return dumped(said)


def _read(asked: Asked) -> ScheduleRead | tuple[CellSheet, ...]:
    if asked.is_list:
        return sheets_of(filename=asked.filename, content=asked.content)
    return read_schedule(
        filename=asked.filename, content=asked.content, settled=asked.settled, remembered=asked.remembered
    )
