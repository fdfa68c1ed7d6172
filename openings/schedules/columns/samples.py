"""Cells beneath a heading, and whether they fit the meaning that the heading seems to have."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from openings.schedules.grid import Cell
from openings.schedules.layout import LENGTHS, Meaning
from openings.schedules.lines.cells import is_blank, shown

SHOWN = 3
_LONGEST_SHOWN = 80
_SEARCHED_LINES = 300
_MOST_DIFFERENT = 40
_MOST_WRONG = 0.2
"""Which part of the cells may not fit a meaning: a column has slips of the pen (our choice)."""

_LEAST_NUMBERED = 8
"""So many rows counted up from 1 are numbered and not counted (our choice)."""

_SMALL_WHOLE = re.compile(r"\d{1,2}(?:\.0+)?(?: ?(?:ea|pcs?|no|units?|x)\.?)?|x ?\d{1,2}|\(\d{1,2}\)", re.IGNORECASE)
_FEET = re.compile(r"\d{1,2}(?:\.0+)?(?: ?(?:'|ft\.?|feet))?|-", re.IGNORECASE)
_UNDER_A_FOOT = re.compile(
    r"(?:(?:\d|1[01])(?:\.\d{1,6})?(?:[ -]\d{1,2}/\d{1,2})?|\d{1,2}/\d{1,2})(?: ?(?:\"|''|in\.?))?|-", re.IGNORECASE
)
_BARE_NUMBER = re.compile(r"\d{1,6}(?:\.0+)?")
_LETTERED = re.compile(r"[A-Za-z]{1,4}[-. ]?\d{1,4}[A-Za-z]?(?:[-.]\d{1,3})?")
_WHOLE = re.compile(r"\d{1,3}(?:\.0+)?(?: ?(?:ea|pcs?|no)\.?)?", re.IGNORECASE)
_LENGTH = re.compile(r"[^A-Za-z]{0,3}\d.{0,30}|[wh][a-z]{0,5}[:=. -]{0,3}\d.*", re.IGNORECASE)
_YES_OR_NO = re.compile(r"(?:y|n|yes|no|x|true|false|0|1|•|✓|✔|req'?d|required)\.?", re.IGNORECASE)
_LETTER = re.compile(r"[^\W\d_]")
_LONGEST_MARK = 40
_LONGEST_SHORT_MARK = 8
_OPERATION = re.compile(
    r"casement|awning|fixed|hung|slid|hopper|picture|pivot|tilt|csmt|awn|\b(?:sh|dh|sl|fx|xo|ox|oxo|pw)\b",
    re.IGNORECASE,
)
_FRACTION = re.compile(r"\d+\.\d*[1-9]\d*")

_FIGURES = LENGTHS | {Meaning.WEIGHT, Meaning.DESIGN_PRESSURE, Meaning.STOREYS_UP}


def different(cells: Iterable[Cell], *, at_most: int = _MOST_DIFFERENT) -> list[str]:
    """Return the first different texts of cells that are not blank, as they are shown."""
    found: dict[str, None] = {}
    seen: set[Cell] = set()
    for cell in cells:
        if cell not in seen:
            seen.add(cell)
            if not is_blank(cell):
                found[shown(cell)[:_LONGEST_SHOWN]] = None
            if len(found) == at_most:
                break
    return list(found)


def rows_of(lines: Sequence[list[Cell]], *, first: int, last: int | None) -> list[list[Cell]]:
    """Return the first lines beneath headings with more than one cell filled, so that they are no floor and no note."""
    stop = min(first + _SEARCHED_LINES, len(lines) if last is None else last)
    return [line for line in lines[first:stop] if len(line) - line.count("") > 1]


def beneath(rows: Sequence[list[Cell]], index: int, *, heading: str) -> tuple[str, ...]:
    """Return the first different texts of a column, without its heading where that is repeated."""
    texts = different(line[index] for line in rows if index < len(line))
    return tuple(text for text in texts if text.casefold() != heading.casefold())


def fits(meaning: Meaning, texts: Sequence[str]) -> bool:
    """Return whether nearly all texts can be of a meaning; a column without any can be of every one."""
    wrong = sum(1 for text in texts if not _fits(meaning, text.strip()))
    return wrong <= len(texts) * _MOST_WRONG


def are_counts(texts: Sequence[str]) -> bool:
    """Return whether whole numbers stand beneath a heading, and nothing else."""
    return bool(texts) and all(_WHOLE.fullmatch(text) or text in ("-", "–", "—") for text in texts)


def are_marks(texts: Sequence[str]) -> bool:
    """Return whether short texts stand beneath a heading that name no way of opening."""
    return bool(texts) and all(len(text) <= _LONGEST_SHORT_MARK and not _OPERATION.search(text) for text in texts)


def are_small_counts(texts: Sequence[str]) -> bool:
    """Return whether nearly all texts are small whole numbers, as quantities are, and do not merely number the rows."""
    small = sum(1 for text in texts if _SMALL_WHOLE.fullmatch(text.strip()))
    return small > 0 and small >= len(texts) * (1 - _MOST_WRONG) and not _number_rows(texts)


def are_feet_and_inches(feet: Sequence[str], inches: Sequence[str]) -> bool:
    """Return whether one column can be the whole feet of lengths and the other their inches under 12."""
    wrong = [sum(1 for text in feet if not _FEET.fullmatch(text.strip()))]
    wrong.append(sum(1 for text in inches if not _UNDER_A_FOOT.fullmatch(text.strip())))
    return bool(feet or inches) and wrong[0] <= len(feet) * _MOST_WRONG and wrong[1] <= len(inches) * _MOST_WRONG


def are_numbers(texts: Sequence[str]) -> bool:
    """Return whether nearly all texts are bare whole numbers."""
    found = sum(1 for text in texts if _BARE_NUMBER.fullmatch(text.strip()))
    return found > 0 and found >= len(texts) * (1 - _MOST_WRONG)


def read_as_marks(texts: Sequence[str]) -> bool:
    """Return whether nearly all texts are letters and then a number, as marks are: W1, A-101, B2."""
    found = sum(1 for text in texts if _LETTERED.fullmatch(text.strip()))
    return found > 0 and found >= len(texts) * (1 - _MOST_WRONG)


def _number_rows(texts: Sequence[str]) -> bool:
    """Return whether texts count the rows up from 1; a few numbers may do so by chance."""
    return len(texts) >= _LEAST_NUMBERED and list(texts) == [str(number) for number in range(1, len(texts) + 1)]


def _fits(meaning: Meaning, text: str) -> bool:
    if meaning in (Meaning.QUANTITY, Meaning.COUNT_ON_FLOOR):
        return _WHOLE.fullmatch(text) is not None
    if meaning in _FIGURES:
        return _LENGTH.fullmatch(text) is not None or not any(map(str.isalnum, text))
    if meaning is Meaning.MARK:
        return len(text) <= _LONGEST_MARK and not _FRACTION.fullmatch(text)
    if meaning.value.startswith("is_"):
        return _YES_OR_NO.fullmatch(text) is not None
    if meaning is Meaning.FLOOR:
        return not _FRACTION.fullmatch(text)
    return _LETTER.search(text) is not None or not any(map(str.isalnum, text))
