"""Messages to the process that reads a file, and its answers."""

from __future__ import annotations

import struct
from collections.abc import Mapping
from dataclasses import dataclass

from jobs.errors import Fault
from openings.schedules.layout import Layout

AT_ONCE = 2
"""How many files one process has read at once (our choice: as many as a small machine has cores)."""

ENDED = struct.Struct("i")
"""How a reader ended, as `os.waitpid` says it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Budget:
    """What reading one file may take.

    Args:
        time_s: of computing; twice as long by the clock, since others use the machine too.
        memory_mb: of address space, the reader's own 40 MB included.
        wait_s: how long to wait while other files are being read.
    """

    time_s: float
    memory_mb: int
    wait_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A file to read, and how: as a window schedule, or as cells alone."""

    filename: str
    content: bytes
    settled: Layout
    remembered: Mapping[str, Layout]
    budget: Budget
    is_list: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """The file cannot be taken as a whole: a `BadSchedule`."""

    detail: str
    faults: tuple[Fault, ...]


@dataclass(frozen=True, slots=True)
class OutOfMemory:
    """Reading it asked for more memory than the budget has."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Broke:
    """The reader has a fault of its own, and where."""

    where: str
