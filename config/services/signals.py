"""Being asked to stop: SIGINT, SIGTERM and SIGHUP, heard at once but acted on only where that is safe."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType, TracebackType
from typing import Any

ASKING = (signal.SIGINT, signal.SIGTERM, signal.SIGHUP)


class Stopped(KeyboardInterrupt):
    """Somebody asked this process to stop."""

    def __init__(self, number: signal.Signals) -> None:
        super().__init__(f"stopped by {number.name}")
        self.number = number


class StopSignals:
    """Listens for the signals while entered.

    Starting a program and noting it down must not be torn apart, or the program would be left behind. So a
    signal is only noted, and raised as `Stopped` by the next `check()` or inside `interruptible()`.
    """

    def __init__(self) -> None:
        self.received: signal.Signals | None = None
        self._may_raise = False
        self._before: dict[signal.Signals, Any] = {}

    def __enter__(self) -> StopSignals:
        if threading.current_thread() is threading.main_thread():
            self._before = {number: signal.signal(number, self._hear) for number in _heard()}
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        for number, handler in self._before.items():
            signal.signal(number, handler)

    def check(self) -> None:
        """Raise `Stopped` if a signal has come."""
        if self.received is not None:
            raise Stopped(self.received)

    @contextmanager
    def interruptible(self) -> Iterator[None]:
        """Let a signal raise `Stopped` wherever the code inside happens to be."""
        self._may_raise = True
        try:
            self.check()
            yield
        finally:
            self._may_raise = False

    def _hear(self, number: int, frame: FrameType | None) -> None:
        del frame
        self.received = signal.Signals(number)
        if self._may_raise:
            self._may_raise = False
            raise Stopped(self.received)


def _heard() -> list[signal.Signals]:
    """Return the signals to hear: nohup's wish that a hang-up be ignored is respected."""
    return [
        number for number in ASKING if number is not signal.SIGHUP or signal.getsignal(number) is not signal.SIG_IGN
    ]
