"""The parts of a zipped workbook, unpacked within bounds."""

from __future__ import annotations

import io
import struct
import zipfile
import zlib

from openings.errors import BadSchedule

MAX_ENTRIES = 2_000
MAX_UNPACKED_BYTES = 200_000_000
MAX_RATIO = 200
"""Sheets pack ten to a hundred to one; bombs a thousand to one (deflate's limit is 1,032)."""

_SMALL_BYTES = 10_000_000
_ENTRY_SIGNATURE = b"PK\x01\x02"
_BROKEN = (zipfile.BadZipFile, zlib.error, struct.error, OSError, EOFError, ValueError, RuntimeError, OverflowError)
"""What reading a broken or crafted zip raises, some of it by way of a subclass."""
_DAMAGED = "The workbook is damaged or cut off; open it in a spreadsheet program and save it again as .xlsx."


class Archive:
    """A zip file whose directory keeps within the bounds above.

    Raises:
        BadSchedule: the file is no readable zip, is locked, or would unpack to too much. Nothing is
            unpacked before the directory is checked, and no more than it declares is unpacked after.
    """

    def __init__(self, content: bytes) -> None:
        # Counted before the directory is read: a million entries take a second and a gigabyte to list.
        if content.count(_ENTRY_SIGNATURE) > MAX_ENTRIES:
            raise BadSchedule(
                f"The workbook holds more than {MAX_ENTRIES} parts; a window schedule has a few dozen. Copy the "
                "schedule into a new workbook and upload that."
            )
        try:
            self._zip = zipfile.ZipFile(io.BytesIO(content))
        except _BROKEN as error:
            raise BadSchedule(_DAMAGED) from error
        self._entries: dict[str, zipfile.ZipInfo] = {}
        for entry in self._zip.infolist():
            name = entry.filename.replace("\\", "/").lstrip("/")
            if name in self._entries:
                raise BadSchedule(f"The workbook holds the part {name[:80]} twice. {_DAMAGED}")
            self._entries[name] = entry
        self._check_bounds(packed=len(content))

    def _check_bounds(self, *, packed: int) -> None:
        entries = self._zip.infolist()
        unpacked = sum(entry.file_size for entry in entries)
        if unpacked > MAX_UNPACKED_BYTES or unpacked > max(_SMALL_BYTES, packed * MAX_RATIO):
            raise BadSchedule(
                f"The workbook would unpack to {unpacked:,} bytes from {packed:,}, which no window "
                "schedule does; copy the schedule into a new workbook and upload that."
            )
        if any(entry.flag_bits & 1 for entry in entries):
            raise BadSchedule("The workbook is locked with a password; save it without one.")
        if any(entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED) for entry in entries):
            # Source (from memory): ISO/IEC 29500-2 allows these two alone; others unpack without bounds.
            raise BadSchedule(f"The workbook is packed in a way that no spreadsheet program uses. {_DAMAGED}")

    @property
    def names(self) -> set[str]:
        return set(self._entries)

    def read(self, name: str) -> bytes:
        """Return one part, or nothing if there is none of that name.

        Raises:
            BadSchedule: the part is damaged, or declares its own document type or entities.
        """
        entry = self._entries.get(name)
        if entry is None:
            return b""
        try:
            with self._zip.open(entry) as packed:
                # Told how much, it unpacks no more; left to itself it unpacks a whole bomb before it compares sizes.
                part = packed.read(entry.file_size)
        except _BROKEN as error:
            raise BadSchedule(_DAMAGED) from error
        if b"<!DOCTYPE" in part or b"<!ENTITY" in part or b"\x00" in part[:200]:
            raise BadSchedule(f"The part {name} of the workbook declares entities or is not UTF-8 text. {_DAMAGED}")
        return part


def pack(parts: dict[str, bytes]) -> io.BytesIO:
    """Return the parts as an uncompressed zip, so that the next reader meets only what was measured."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_STORED) as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    packed.seek(0)
    return packed
