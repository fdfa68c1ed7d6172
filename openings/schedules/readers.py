"""One reader for each kind of file; all give the same rows."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol

from openings.errors import BadSchedule
from openings.schedules.delimited import read_delimited
from openings.schedules.file.kinds import MODEL, TEXT, WORKBOOK, kind_of
from openings.schedules.ifc import read_model
from openings.schedules.layout import Layout
from openings.schedules.rows import ScheduleRead
from openings.schedules.workbook import read_workbook

MAX_FILE_BYTES = 20_000_000
"""A schedule of ten thousand rows takes about one."""

MAX_MODEL_BYTES = 60_000_000
"""A model holds the whole building. Of 20 MB the process that reads it takes 210 MB (measured); it may take 2 GB."""


class _Reader(Protocol):
    def __call__(self, content: bytes, *, settled: Layout, remembered: Mapping[str, Layout]) -> ScheduleRead: ...


_READERS: dict[str, _Reader] = {WORKBOOK: read_workbook, TEXT: read_delimited, MODEL: read_model}


def read_schedule(
    *,
    filename: str,
    content: bytes,
    settled: Layout | None = None,
    remembered: Mapping[str, Layout] | None = None,
) -> ScheduleRead:
    """Return the rows of a window schedule, everything wrong in it and everything that must be settled.

    >>> content = b"Mark,Qty,RO Width,RO Height\\nW1,2,36,54\\n"
    >>> read = read_schedule(filename="windows.csv", content=content)
    >>> [(row.mark, row.quantity, row.ro_width_in) for row in read.rows], read.faults, read.questions
    ([('W1', 2, Decimal('36.00000'))], (), ())

    Args:
        filename: the name it was sent under; its ending says what kind of file it claims to be.
        content: the whole file.
        settled: what a person says about this file; it counts most.
        remembered: what was settled about earlier files, by their `fingerprint`; it counts where this file has the
            same, and before what the reader finds.

    Raises:
        BadSchedule: the file as a whole cannot be taken, or not as it was settled; the sentence says why and what to
            do. Rows that cannot be taken are not raised but returned as `faults`, doubts as `questions`.
    """
    check_file_size(len(content), filename=filename)
    read = _READERS[kind_of(filename=filename, content=content)]
    return read(content, settled=settled or Layout(), remembered=remembered or {})


def check_file_size(size: int, *, filename: str) -> None:
    """Return if a file of so many bytes is read at all.

    >>> check_file_size(1_000, filename="windows.csv")
    >>> check_file_size(0, filename="windows.csv")
    Traceback (most recent call last):
    openings.errors.BadSchedule: The file is empty; upload the schedule as .xlsx or .csv.

    Raises:
        BadSchedule: it is empty, or larger than `MAX_FILE_BYTES`, a model than `MAX_MODEL_BYTES`.
    """
    is_model = filename.lower().endswith(".ifc")
    most = MAX_MODEL_BYTES if is_model else MAX_FILE_BYTES
    if size == 0:
        raise BadSchedule("The file is empty; upload the schedule as .xlsx or .csv.")
    if size > most:
        instead = (
            "Export the floors with windows alone, or upload the schedule as .xlsx, .csv or COBie."
            if is_model
            else "Copy the schedule alone, without pictures, into a new workbook and upload that."
        )
        raise BadSchedule(f"The file has {size:,} bytes; at most {most:,} are read. {instead}")
