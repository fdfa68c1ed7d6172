"""How much text the cells of a workbook hold, found out before it is laid out: many may point to one long text."""

from __future__ import annotations

from collections.abc import Iterable
from xml.parsers import expat

from openings.errors import BadSchedule

MAX_LETTERS = 300_000_000
"""Each cell that points to a shared text holds a copy of it while the sheet is read."""


def check_repeated(sheets: Iterable[bytes], shared: bytes) -> None:
    """Return if the texts that cells share can be laid out once for each cell.

    Nearly every workbook keeps within bounds even if each cell held its longest text; any other is gone through.

    Args:
        sheets: the XML of each sheet.
        shared: the XML of the texts that they share.

    Raises:
        BadSchedule: they hold more than 300 million letters together, or the XML is damaged.
    """
    sheets = list(sheets)
    cells = sum(sheet.count(b"<c") + sheet.count(b":c") for sheet in sheets)
    if cells * len(shared) <= MAX_LETTERS or cells * max(map(len, shared.split(b"si>"))) <= MAX_LETTERS:
        return
    letters = 0
    try:
        lengths = _Lengths().of(shared)
        for sheet in sheets:
            letters += _Pointers(lengths).letters_of(sheet)
    except (expat.ExpatError, ValueError, IndexError) as error:
        raise BadSchedule(f"The workbook is damaged ({error}); save it again in a spreadsheet program.") from error
    if letters > MAX_LETTERS:
        raise BadSchedule(
            f"The cells of the workbook hold {letters:,} letters together; copy the schedule alone, without long texts "
            "that repeat themselves, into a new workbook and upload that."
        )


class _Lengths:
    """Adds up the letters of each shared text."""

    def __init__(self) -> None:
        self._lengths: list[int] = []

    def of(self, shared: bytes) -> list[int]:
        parser = expat.ParserCreate("utf-8")
        parser.StartElementHandler = self._start
        parser.CharacterDataHandler = self._read
        parser.Parse(shared, True)
        return self._lengths

    def _start(self, tag: str, _attributes: dict[str, str]) -> None:
        if tag.rpartition(":")[2] == "si":
            self._lengths.append(0)

    def _read(self, text: str) -> None:
        if self._lengths:
            self._lengths[-1] += len(text)


class _Pointers:
    """Adds up the letters of the texts that the cells of a sheet point to."""

    def __init__(self, lengths: list[int]) -> None:
        self._lengths = lengths
        self._letters = 0
        self._is_shared = False
        self._pointer: list[str] = []

    def letters_of(self, sheet: bytes) -> int:
        parser = expat.ParserCreate("utf-8")
        parser.StartElementHandler = self._start
        parser.CharacterDataHandler = self._read
        parser.EndElementHandler = self._end
        parser.Parse(sheet, True)
        return self._letters

    def _start(self, tag: str, attributes: dict[str, str]) -> None:
        if tag.rpartition(":")[2] == "c":
            self._is_shared = attributes.get("t") == "s"
        self._pointer = []

    def _read(self, text: str) -> None:
        self._pointer.append(text)

    def _end(self, tag: str) -> None:
        if self._is_shared and tag.rpartition(":")[2] == "v":
            self._letters += self._lengths[int("".join(self._pointer))]
