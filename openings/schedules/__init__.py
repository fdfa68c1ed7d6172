"""Window schedules as people send them → rows.

`read_schedule` is the way in. Each kind of file has a module of its own that gives a `ScheduleRead`:
`workbook` and `delimited` lay cells out as a `Grid`, and `table` reads any grid; a kind that is no grid
gives the same rows by itself.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import PurePath

from openings.errors import BadSchedule
from openings.schedules.delimited import read_delimited
from openings.schedules.rows import ColumnRead, ScheduleRead, ScheduleRow
from openings.schedules.workbook import read_workbook

__all__ = ["MAX_FILE_BYTES", "ColumnRead", "ScheduleRead", "ScheduleRow", "check_file_size", "read_schedule"]

MAX_FILE_BYTES = 20_000_000
"""A schedule of ten thousand rows takes about one; edges refuse more before they read it."""

_READERS: dict[str, Callable[[bytes], ScheduleRead]] = {".xlsx": read_workbook, ".csv": read_delimited}

_ZIP, _OLE, _PDF = b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", b"%PDF"
_OTHER_KINDS = {
    ".xls": "The file is an old .xls workbook; save it as .xlsx.",
    ".xlsm": "The workbook may carry macros (.xlsm); save it as a plain .xlsx.",
    ".xlsb": "The file is a binary .xlsb workbook; save it as .xlsx.",
    ".ods": "The file is an .ods workbook; save it as .xlsx.",
    ".pdf": "A PDF holds no cells to read; ask for the schedule as .xlsx or .csv.",
}


def read_schedule(*, filename: str, content: bytes) -> ScheduleRead:
    """Return the rows of a window schedule, and everything wrong in it.

    Args:
        filename: the name it was sent under; its ending says what kind of file it claims to be.
        content: the whole file.

    Raises:
        BadSchedule: the file as a whole cannot be taken; the sentence says why and what to do.
            Rows that cannot be taken are not raised but returned as `faults`.
    """
    check_file_size(len(content))
    kind = PurePath(filename).suffix.lower()
    if kind not in _READERS:
        raise BadSchedule(
            _OTHER_KINDS.get(
                kind, f"“{filename[-80:]}” is neither .xlsx nor .csv; save the schedule as one of the two."
            )
        )
    _check_is_what_it_says(content, kind=kind)
    return _READERS[kind](content)


def check_file_size(size: int) -> None:
    """Return if a file of so many bytes is read at all.

    Raises:
        BadSchedule: it is empty, or larger than `MAX_FILE_BYTES`.
    """
    if size == 0:
        raise BadSchedule("The file is empty; send the schedule as .xlsx or .csv.")
    if size > MAX_FILE_BYTES:
        raise BadSchedule(
            f"The file has {size:,} bytes; at most {MAX_FILE_BYTES:,} are read. "
            "Copy the schedule alone, without pictures, into a new workbook and send that."
        )


def _check_is_what_it_says(content: bytes, *, kind: str) -> None:
    if content.startswith(_OLE):
        raise BadSchedule(
            f"The file is called {kind} but is an old .xls workbook or one locked with a password; "
            "save it as .xlsx without a password."
        )
    if content.startswith(_PDF):
        raise BadSchedule(f"The file is called {kind} but is a PDF; ask for the schedule as .xlsx or .csv.")
    is_zip = content.startswith(_ZIP)
    if kind == ".xlsx" and not is_zip:
        raise BadSchedule("The file is called .xlsx but is no workbook; if it is text, give it the ending .csv.")
    if kind == ".csv" and is_zip:
        raise BadSchedule("The file is called .csv but is a zip or a workbook; give it the ending .xlsx.")
