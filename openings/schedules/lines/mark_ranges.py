"""Several marks in one cell: ranges such as W1-W4, lists such as A, B & C."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from itertools import islice

from openings.errors import BadSchedule

MOST_MARKS = 999
_MOST_WITHOUT_A_WORD = 50
"""What is written with a bare hyphen is taken for one mark where it would name more (our choice)."""

_MOST_DASHES = 8
"""So many dashes of a text are looked at for the one between two marks (our choice: marks have one or two)."""
_LONGEST = 200
"""A longer text is no list of marks; no cell keeps more."""

MAY_NAME_SEVERAL = re.compile(r"[-–—,;&/+]|\.\.|\b(?:and|to|thru|through)\b", re.IGNORECASE)

_LIST = re.compile(r"\s*(?:[,;&+]|\band\b)\s*", re.IGNORECASE)
_SURELY_BETWEEN = re.compile(r"\s*(?:\.{2,3}|…|\b(?:to|thru|through)\b)\s*", re.IGNORECASE)
_DASH = re.compile(r"\s*[-–—]\s*")
_END = re.compile(r"(?P<prefix>.*?)(?P<end>\d{1,6})")
_LETTER_END = re.compile(r"(?P<prefix>(?:.*\d)?)(?P<end>[A-Za-z])")
_MARK = re.compile(r"[^\W_]{1,2}|(?=.*\d)[\w.#'-]+(?: \d\w*)?")
_NUMBERED = re.compile(r"(?:.*\D)?(?P<low>\d{1,6})\s*-\s*(?P<high>\d{1,6})")


@dataclass(frozen=True, slots=True)
class Several:
    """The marks that a cell names.

    Args:
        is_open: whether the cell as a whole can be one mark as well.
    """

    marks: tuple[str, ...]
    is_open: bool


@lru_cache(maxsize=8192)
def several_in(text: str, *, is_settled: bool = False) -> Several | None:
    """Return the marks that a cell names, or None if it names one.

    >>> several_in("W1, W3-W5").marks
    ('W1', 'W3', 'W4', 'W5')
    >>> several_in("101-104").is_open, several_in("W3-01")
    (True, None)

    Args:
        is_settled: whether a person said that such marks are ranges.

    Raises:
        BadSchedule: a range surely meant falls or is too long, a mark stands twice, or a list leaves letters out.

    Source:
        How schedules write them: common practice, no source.
    """
    if len(text) > _LONGEST:
        return None
    items = [item for item in _LIST.split(text) if item]
    if len(items) > 1 and all(map(_is_mark, items)):
        return _listed(items, text=text, is_settled=is_settled)
    return _range(text, is_settled=is_settled) or _slashed(text)


def is_numbered(text: str) -> bool:
    """Return whether a mark is written like a range of numbers but can be none, as 2-1, W3-01 and 1-101."""
    found = _NUMBERED.fullmatch(text)
    if not found:
        return False
    low, high = int(found["low"]), int(found["high"])
    return found["high"].startswith("0") or not 0 < high - low < _MOST_WITHOUT_A_WORD


def _listed(items: list[str], *, text: str, is_settled: bool) -> Several:
    parts = [_range(item, is_settled=is_settled) for item in items]
    found = [mark for part, item in zip(parts, items, strict=True) for mark in (part.marks if part else (item,))]
    if bare := next((mark for mark in found if mark.isdecimal() and not found[0].isdecimal()), ""):
        prefix = (_END.fullmatch(found[0]) or _LETTER_END.fullmatch(found[0]) or {"prefix": found[0]})["prefix"]
        raise BadSchedule(f"“{bare}” in “{text}” can mean {prefix}{bare} or {bare}; write every mark whole")
    if len(found) > MOST_MARKS:
        raise BadSchedule(f"“{text[:80]}” names {len(found):,} marks; one row names at most {MOST_MARKS}")
    folded = [mark.casefold() for mark in found]
    if twice := next((mark for mark in found if folded.count(mark.casefold()) > 1), ""):
        raise BadSchedule(f"“{text}” names {twice} twice; name every mark once")
    return Several(tuple(found), is_open=any(part.is_open for part in parts if part))


def _is_mark(item: str) -> bool:
    """Return whether an item of a list can be a mark or a range, and no word of a sentence."""
    return _MARK.fullmatch(item) is not None or bool(_range(item, is_settled=False))


def _slashed(text: str) -> Several | None:
    """Return the marks of A/B/C or W1/W2, which can be one mark too; their ends must be alike."""
    items = [item.strip() for item in text.split("/")]
    ends = [_END.fullmatch(item) for item in items]
    prefixes = {end["prefix"].casefold() for end in ends if end}
    letters = {len(item) for item in items} == {1} and all(map(str.isalpha, items))
    if len(items) < 2 or not (letters or (all(ends) and len(prefixes) == 1 and prefixes != {""})):
        return None
    return Several(tuple(items), is_open=True) if len({item.casefold() for item in items}) == len(items) else None


def _range(text: str, *, is_settled: bool) -> Several | None:
    """Return the marks from the left end to the right, or None if the text is no range."""
    sure = _SURELY_BETWEEN.search(text)
    for between in [sure] if sure else islice(_DASH.finditer(text), _MOST_DASHES):
        ends = text[: between.start()].strip(), text[between.end() :].strip()
        for pattern in (_END, _LETTER_END):
            first, last = map(pattern.fullmatch, ends)
            if first and last and last["prefix"].casefold() in ("", first["prefix"].casefold()):
                return _between(first, last, sign="" if sure else between[0].strip(), text=text, is_settled=is_settled)
    return None


def _between(first: re.Match[str], last: re.Match[str], *, sign: str, text: str, is_settled: bool) -> Several | None:
    """Return the marks between two ends; `sign` is the dash between them, empty where a word says it is a range."""
    prefix, low, high = first["prefix"], first["end"], last["end"]
    is_bare = last["prefix"] == ""
    if sign and is_bare and prefix and high.startswith("0"):
        return None  # W3-01 is the first opening of W3
    is_open = sign != "" and is_bare and not (prefix and sign in "–—")
    numbers = (int(low), int(high)) if low.isdecimal() else (ord(low), ord(high))
    if low.isupper() is not high.isupper() or not _rises(*numbers, is_unsure=is_open and not is_settled, text=text):
        return None
    places = len(low) if low.startswith("0") else 1
    ends = range(numbers[0], numbers[1] + 1)
    marks = (f"{prefix}{end:0{places}}" if low.isdecimal() else prefix + chr(end) for end in ends)
    return Several(tuple(marks), is_open=is_open)


def _rises(low: int, high: int, *, is_unsure: bool, text: str) -> bool:
    """Return whether it is a range; what is surely meant as one must rise and end.

    Raises:
        BadSchedule: it does not.
    """
    count = high - low + 1
    if is_unsure:
        return 1 < count <= _MOST_WITHOUT_A_WORD
    if count < 2:
        raise BadSchedule(f"the range “{text}” does not rise; write the lower mark first, like W1-W4")
    if count > MOST_MARKS:
        raise BadSchedule(f"the range “{text}” names {count:,} marks; one row names at most {MOST_MARKS}")
    return True


def shown(marks: tuple[str, ...]) -> str:
    """Return the marks in few words.

    >>> shown(("W1", "W2", "W3", "W4", "W5"))
    'W1, W2 … W5'
    """
    return ", ".join(marks) if len(marks) <= 4 else f"{marks[0]}, {marks[1]} … {marks[-1]}"
