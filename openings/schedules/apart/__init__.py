"""Reading a file in a process of its own, within a budget of time and memory.

What somebody sends may keep a reader busy for ever, eat the memory of the machine or end the process that reads it.
Then only that process ends, and the file is refused in words. `read_apart` is the way in; it reads as `read_schedule`.
`read_cells` has the cells of a list read alike.

    whoever asks ── a socket for each file ──→ nursery (has the readers imported, forks) ──→ a reader for each file

Source:
    Measured on two busy cores: starting Python with the readers takes 0.6 s; a small file that is read in a process
    forked from one that has them takes 0.06 to 0.12 s, and 0.01 to 0.05 s where it is read here.
"""

from __future__ import annotations

import logging
import os
import pickle
import signal
import socket
from collections.abc import Mapping
from contextlib import suppress
from threading import BoundedSemaphore
from typing import cast

from openings.errors import BadSchedule, ReadersBusy, Unreadable
from openings.schedules.apart.asked import AT_ONCE, ENDED, Asked, Broke, Budget, OutOfMemory, Refused
from openings.schedules.apart.nursery import send_to_nursery
from openings.schedules.apart.plain import dumped, loaded
from openings.schedules.cells import CellSheet, in_words_of_a_list
from openings.schedules.layout import Layout
from openings.schedules.readers import check_file_size
from openings.schedules.rows import ScheduleRead

__all__ = ["FOR_A_PAGE", "FOR_A_REQUEST", "FOR_A_WORKER", "Budget", "read_apart", "read_cells"]

FOR_A_PAGE = Budget(time_s=10, memory_mb=1_000, wait_s=2)
"""Somebody looks at a page that does not come; what takes longer goes to the worker."""

FOR_A_REQUEST = Budget(time_s=60, memory_mb=1_000, wait_s=10)
"""The largest file that is read, of fifty thousand rows, takes a few seconds (measured)."""

FOR_A_WORKER = Budget(time_s=120, memory_mb=2_000, wait_s=240)
"""A model of 20 MB takes 210 MB (measured)."""

_OUT_OF_TIME = {signal.SIGXCPU, signal.SIGALRM}
_INSTEAD = (
    "Copy the schedule alone, without other sheets, notes and formats, into a new workbook and upload that; of a model "
    "export the windows and the walls they stand in alone"
)

log = logging.getLogger(__name__)
_turns = BoundedSemaphore(AT_ONCE)


def read_apart(
    *,
    filename: str,
    content: bytes,
    budget: Budget,
    settled: Layout | None = None,
    remembered: Mapping[str, Layout] | None = None,
) -> ScheduleRead:
    """Return the rows of a window schedule, as `read_schedule`, which another process calls.

    >>> content = b"Mark,Qty,RO Width,RO Height\\nW1,2,36,54\\n"
    >>> read = read_apart(filename="windows.csv", content=content, budget=FOR_A_REQUEST)
    >>> [(row.mark, row.quantity) for row in read.rows]
    [('W1', 2)]

    Args:
        budget: what reading may take; more ends it.

    Raises:
        BadSchedule: as `read_schedule`.
        Unreadable: reading took more than the budget, or ended the process that read; the sentence says which.
        ReadersBusy: this process reads as many files as it may at once, and none was done in the time it waits.
    """
    check_file_size(len(content), filename=filename)
    asked = Asked(
        filename=filename, content=content, settled=settled or Layout(), remembered=remembered or {}, budget=budget
    )
    return cast(ScheduleRead, _read(asked))


def read_cells(*, filename: str, content: bytes, budget: Budget) -> tuple[CellSheet, ...]:
    """Return the sheets of a list as rows of text, read in another process; `listed_rows` finds what they list.

    >>> (sheet,) = read_cells(filename="crews.csv", content=b"Crew,People\\nNorth,3\\n", budget=FOR_A_REQUEST)
    >>> [(row.row, row.cells) for row in sheet.rows]
    [(1, ('Crew', 'People')), (2, ('North', '3'))]

    Raises:
        BadList: the file is neither .xlsx nor .csv, is damaged, has more rows or columns than a list, or reading it
            took more than the budget.
        ReadersBusy: this process reads as many files as it may at once, and none was done in the time it waits.
    """
    with in_words_of_a_list():
        check_file_size(len(content), filename=filename)
        asked = Asked(filename=filename, content=content, settled=Layout(), remembered={}, budget=budget, is_list=True)
        return cast(tuple[CellSheet, ...], _read(asked))


def _read(asked: Asked) -> object:
    """Return what a reader makes of a file, or raise why there is nothing."""
    budget, filename = asked.budget, asked.filename
    if not _turns.acquire(timeout=budget.wait_s):
        raise ReadersBusy("other files are being read at this moment; try again in a few seconds")
    try:
        said, how_it_ended = _answer(dumped(asked))
    finally:
        _turns.release()
    match said:
        case ScheduleRead() | tuple():
            return said
        case Refused():
            raise BadSchedule(said.detail, faults=said.faults)
        case OutOfMemory():
            raise _over(f"it takes more than {budget.memory_mb:,} MB of memory")
        case Broke():
            log.error("A reader broke down over %r:\n%s", filename, said.where)
            raise _over("the reader broke down over it, which is in our log")
    if how_it_ended in _OUT_OF_TIME:
        raise _over(f"reading it takes longer than {budget.time_s:g} s", is_late=True)
    log.error("A reader of %r ended without a word: %s", filename, how_it_ended)
    raise _over("the process that read it ended; it is damaged or far too large")


def _over(why: str, *, is_late: bool = False) -> Unreadable:
    return Unreadable(f"The file could not be read: {why}. {_INSTEAD}.", is_late=is_late)


def _answer(asked: bytes) -> tuple[object, signal.Signals | None]:
    """Return the reader's answer, None where it ended before giving one, and the signal that ended it."""
    said, status = _heard(asked)
    if not status:  # it was the nursery that ended, not by what it never reads
        said, status = _heard(asked)
    if not status:
        return None, None
    (number,) = ENDED.unpack(status)
    if number:
        return None, signal.Signals(os.WTERMSIG(number)) if os.WIFSIGNALED(number) else None
    try:
        return loaded(said), None
    except pickle.UnpicklingError as error:
        return Broke(where=str(error)), None


def _heard(asked: bytes) -> tuple[bytes, bytes]:
    """Return the answer of a reader and how it ended as the nursery tells it; nothing where the nursery ended."""
    ours, theirs = socket.socketpair()
    reports, tells = os.pipe()
    with ours, os.fdopen(reports, "rb") as ended:
        with theirs:
            try:
                send_to_nursery(theirs.fileno(), tells)
            finally:
                os.close(tells)
        with suppress(OSError):  # it ended before it had heard everything; how is reported below
            ours.sendall(asked)
            ours.shutdown(socket.SHUT_WR)
        return _all_of(ours), ended.read(ENDED.size)


def _all_of(reader: socket.socket) -> bytes:
    parts = []
    with suppress(OSError):
        while part := reader.recv(1 << 20):
            parts.append(part)
    return b"".join(parts)
