"""The bytes of a text file → its lines, whatever its encoding; nothing is lost, and what was assumed is said."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass

from openings.errors import BadSchedule
from openings.schedules.file.extent import MAX_LINES
from openings.schedules.file.invisible import INVISIBLE, left_out

_BEGINNING = 2_000
_FEWEST_ZEROS = 0.1
"""So much of every other byte is zero in UTF-16, if only for the delimiters and digits (our choice)."""
_NO_TEXT = "so it is not a .csv; save the schedule as .csv (UTF-8) or .xlsx."
_STRAY = re.compile("[\udc80-\udcff]")
"""What the surrogateescape handler makes of bytes that are no UTF-8."""
_LINE_END = re.compile(r"\r\n|\r|\n")
_SHOWN_AROUND = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """A text that is decoded anew each time it is gone through, line by line, so that it fills no memory.

    Args:
        has_strays: whether single bytes of it are Windows-1252 amid UTF-8.
        has_invisible: whether it holds letters that nobody sees; they are left out.
        notes: sentences on what was assumed.
    """

    content: bytes
    codec: str
    has_strays: bool = False
    has_invisible: bool = False
    notes: tuple[str, ...] = ()

    def lines(self) -> Iterator[str]:
        """Yield the lines with their ends: a line feed, a carriage return or both."""
        lines = _stream(self.content, self.codec)
        if self.has_strays:
            lines = (_STRAY.sub(_as_windows, line) for line in lines)
        if self.has_invisible:
            lines = (INVISIBLE.sub("", line) for line in lines)
        return lines


def text_of(content: bytes) -> Text:
    """Return the text of a file.

    UTF-16 without a mark is known by the zero bytes of its plain letters. What is no UTF-8 is Windows-1252, the usual
    encoding of spreadsheets saved as .csv on Windows: all of it, or stray bytes where other letters are UTF-8 beyond
    doubt, as in files pasted together.

    Raises:
        BadSchedule: the file is no text.
    """
    lines = max(content.count(b"\n"), content.count(b"\r"))
    if lines > MAX_LINES:
        raise BadSchedule(
            f"The text has {lines:,} lines; upload at most {MAX_LINES:,}, as many as a workbook has rows."
        )
    wide = _wide_codec(content)
    codec = wide or "utf-8-sig"
    notes = ["The text is encoded as UTF-16."] if wide else []
    try:
        letters = content.decode(codec)
    except UnicodeDecodeError as error:
        if wide or b"\x00" in content:
            row = _row_at(content[: error.start].decode(codec, "ignore"))
            raise BadSchedule(f"The file is not text from line {row} on, or was cut off there, {_NO_TEXT}") from error
        codec, letters, note = _no_utf8(content)
        notes.append(note)
    if "\x00" in letters:
        row = _row_at(letters[: letters.index("\x00")])
        raise BadSchedule(f"Line {row} of the file holds a zero character, {_NO_TEXT}")
    invisible: set[str] = set() if letters.isascii() else set(filter(INVISIBLE.match, set(letters)))
    if invisible:
        notes.append(left_out(invisible))
    return Text(
        content=content,
        codec=codec,
        has_strays=codec == "utf-8-sig" and _STRAY.search(letters) is not None,
        has_invisible=bool(invisible),
        notes=tuple(notes),
    )


def _wide_codec(content: bytes) -> str:
    """Return the codec of a text with two bytes a letter, or nothing."""
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return "utf-16"
    even, odd = content[:_BEGINNING:2], content[1:_BEGINNING:2]
    if max(even.count(0), odd.count(0)) < max(1, len(even) * _FEWEST_ZEROS):
        return ""
    return "utf-16-le" if odd.count(0) > even.count(0) else "utf-16-be"


def _no_utf8(content: bytes) -> tuple[str, str, str]:
    """Return codec, letters and note of a text that is not, or not all, UTF-8; strays stay as they are.

    Raises:
        BadSchedule: it has bytes that Windows-1252 leaves open.
    """
    letters = content.decode("utf-8-sig", "surrogateescape")
    if any(letter > "\x7f" and not _STRAY.match(letter) for letter in set(letters)):
        return "utf-8-sig", letters, _note_on_strays(content)
    try:
        letters = content.decode("cp1252")
    except UnicodeDecodeError as error:
        row = _row_at(content[: error.start].decode("latin-1"))
        raise BadSchedule(f"Line {row} of the file is neither UTF-8 nor Windows-1252, {_NO_TEXT}") from error
    row, line = next((row, line) for row, line in _numbered(content, "cp1252") if not line.isascii())
    return "cp1252", letters, f"The text is encoded as Windows-1252, for line {row} is not UTF-8: {_shown(line)}."


def _note_on_strays(content: bytes) -> str:
    found = [(row, line) for row, line in _numbered(content, "utf-8-sig") if _STRAY.search(line)]
    row, line = found[0]
    more = f" and {len(found) - 1:,} more of its lines hold" if len(found) > 1 else " holds"
    return (
        f"The text is UTF-8, but line {row}{more} bytes that are not; they are read as Windows-1252: "
        f"{_shown(_STRAY.sub(_as_windows, line))}. Check the letters there."
    )


def _numbered(content: bytes, codec: str) -> Iterator[tuple[int, str]]:
    return enumerate(_stream(content, codec), start=1)


def _stream(content: bytes, codec: str) -> Iterator[str]:
    """Yield the lines with their ends; bytes that the codec does not know become lone surrogates."""
    return io.TextIOWrapper(io.BytesIO(content), encoding=codec, errors="surrogateescape", newline="")


def _as_windows(stray: re.Match[str]) -> str:
    """Return the letter of a stray byte; the five that Windows-1252 leaves open stay control characters."""
    byte = bytes([ord(stray[0]) - 0xDC00])
    try:
        return byte.decode("cp1252")
    except UnicodeDecodeError:
        return byte.decode("latin-1")


def _row_at(before: str) -> int:
    return len(_LINE_END.findall(before)) + 1


def _shown(line: str) -> str:
    """Return a line around its first letter beyond ASCII, in quotes."""
    first = next((index for index, letter in enumerate(line) if letter > "\x7f"), 0)
    return f"“{line[max(0, first - _SHOWN_AROUND) : first + _SHOWN_AROUND].strip()}”"
