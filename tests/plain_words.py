"""What no installer in the US would say, found in what people read: pages, problems, workbooks.

`faults(text)` says what is wrong with a text; `require_plain(text)` fails a test with all of it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from decimal import Decimal
from typing import Final

_COUNTED: Final = (
    "opening|roll|box|cartridge|bag|piece|step|line|row|day|person|crew|sheet|hold|remnant|question|window|strap|shim|"
    "screw|bead|lot|truck|job|change|caution|hour|strip|corner|floor"
)

# What is wrong, and how it is found. The first group, where there is one, is what is shown.
_FORMS: Final = {
    "an ISO date": r"\b\d{4}-\d{2}-\d{2}(?:T[\d:]+)?\b",
    "a 24-hour time": r"(?<![\d:])(?:[01]?\d|2[0-3]):[0-5]\d(?::\d\d)?(?![\d:])(?!\s?[AP]M\b)",
    "UTC": r"\b(?:UTC|GMT)\b",
    "the name of a zone": r"\b(?:America|Europe|Asia|Africa|Australia|Pacific|Atlantic|Etc|US)/[A-Z][A-Za-z_/]+",
    "snake_case": r"\b[A-Za-z]+(?:_[A-Za-z0-9]+)+\b",
    "a value of a program": r"(?:(?<=[a-z:,=] )None|\b(?:True|False|null|NaN|Decimal\(.*?\)))(?![\w-])",
    "one of several": r"(?<![\w.,/×’'-])1 (?!(?:less|plus|across|is|was|has|this|as|lbs|gas|glass|its|yes)\b)[a-z]+s\b",
    "several of one": rf"(?<![\w.,/-])(?:[2-9]|[1-9]\d+) (?:{_COUNTED})\b(?![-’'/])(?! (?!is\b|was\b|has\b)[a-z]+s\b)",
    "a percent sign apart": r"\d %",
}

# Words of a program, of a translation or of another country, with what a US installer says.
_WORDS: Final = {
    r"lay order|laying order": "install steps",
    r"hold points?(?!: stop for inspection)": "hold point: stop for inspection",
    r"(?:weather )?(?<!weather-resistive )barrier": "WRB",
    r"person-hours?": "labor hours",
    r"storey\w*": "story, stories",
    r"from memory|our choice|secondary(?! sealant)": "company default, editable",
    r"to settle(?<!returns to settle)": "returns (to settle)",
    r"ask for (?:a|the) (?:new revision|sheet)": "update pull sheet",
    r"stands? as it is|as it stands": "is up to date",
    r"takes? along|took along": "load list",
    r"(?:send|sent) (?:a|the|its|another) (?:window )?(?:schedule|file)": "upload",
    r"(?:take|taken) (?:it|the file|the schedule)": "apply",
    r"(?:un)?tick(?:s|ed|ing)?": "select, check",
    r"withdraw(?:s|n|ing)?|withdrew": "unassign",
    r"may stay empty": "optional",
    r"mend(?:s|ed|ing)?": "fix, correct",
    r"l(?:ies|ay|ying) (?:there|at)": "is at, on hand",
    r"stands there": "found",
    r"computed": "automatic",
    r"goes without": "short",
    r"metres?|millimetres?|colour\w*|labour\w*|grey|aluminium|programme": "US spelling",
}
_FOUND: Final = {name: re.compile(pattern) for name, pattern in _FORMS.items()}
_BANNED: Final = {say: re.compile(rf"\b(?:{words})\b", re.IGNORECASE) for words, say in _WORDS.items()}
_DECIMAL_INCH: Final = re.compile(
    r"(?<![\d.])\d*(\.\d+)(?=\s?(?:in\b(?!\.? ?(?:\d|the|a|each|of|\w+ order))|inch|\"|″))"
)
_TAPE_PARTS: Final = 32
_AROUND: Final = 40


def faults(text: str, *, codes: Iterable[str] = ()) -> list[str]:
    """Return what is wrong with a text, each with the words around it; nothing where it is plain.

    >>> faults("Mon, Nov 30 at 2:00 PM: 1 roll, 36 1/2 in")
    []
    >>> faults("2026-11-30")
    ['an ISO date: 2026-11-30']

    Args:
        codes: codes of steps or products which have names, and which nobody is to read.
    """
    return [f"{fault}: {_around(text, match)}" for fault, match in _matches(text, codes)]


def require_plain(text: str, *, codes: Iterable[str] = ()) -> None:
    """Fail with all that is wrong with a text."""
    found = faults(text, codes=codes)
    assert not found, "\n".join(found)


def _matches(text: str, codes: Iterable[str]) -> Iterator[tuple[str, re.Match[str]]]:
    for fault, form in _FOUND.items():
        yield from ((fault, match) for match in form.finditer(text))
    for say, words in _BANNED.items():
        yield from ((f"say “{say}”", match) for match in words.finditer(text))
    for match in _DECIMAL_INCH.finditer(text):
        if (Decimal(match[1]) * _TAPE_PARTS) % 1 == 0:
            yield "a decimal inch where a tape has a fraction", match
    if named := "|".join(re.escape(code) for code in sorted(codes, key=len, reverse=True)):
        yield from (("a code", match) for match in re.finditer(rf"(?<![\w-])(?:{named})(?![\w-])", text))


def _around(text: str, match: re.Match[str]) -> str:
    return " ".join(text[max(match.start() - _AROUND, 0) : match.end() + _AROUND].split())
