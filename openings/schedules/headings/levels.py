"""Floors and buildings as headings, titles and names of sheets name them: Level 2, 1st Floor, L3, Bldg A."""

from __future__ import annotations

import re

_COUNTED = r"(?:\d{1,3}[a-z]?|[a-h]|i{1,3}|iv|vi{0,3}|one|two|three|four|five|six|seven|eight|nine|ten)"
_NTH = (
    r"(?:\d{1,2}(?:st|nd|rd|th)|first|second|third|fourth|fifth|sixth|seventh|eighth|ninth|tenth|ground|main|lower"
    r"|upper|top|attic|basement|terrace|garden|mezzanine|penthouse|typical)"
)
_LEVEL = r"(?:level|lvl|lev|floor|flr|fl|storey|story)"
_HOUSE = r"(?:building|bldg|block|wing|tower|phase)"
_SHORT = r"(?:l|b|lv|f)[- ]?\d{1,2}|\d{1,2}(?:st|nd|rd|th)|\d{1,2}f"
_ALONE = r"ground|basement|cellar|attic|mezzanine|penthouse|roof|first|second|third|fourth|fifth"
_NAMED = (
    rf"(?:{_HOUSE}|{_LEVEL})\.?[\s\-#:]*(?:no\.?\s*)?{_COUNTED}\b|\b{_NTH}[\s-]+{_LEVEL}\b\.?"
    rf"|\b(?:ground|basement|cellar|attic|mezzanine|penthouse)\b|\b(?:north|south|east|west)\s+(?:{_HOUSE})\b"
)
_WITHIN = re.compile(rf"\b(?:{_NAMED})", re.IGNORECASE)
_WHOLE = re.compile(rf"(?:{_NAMED}|{_SHORT}|{_ALONE}|roof(?: level)?)", re.IGNORECASE)
_COUNT_WORDS = re.compile(
    r"\b(?:quantity|quantities|qty|quan|count|number of|no\. of|units|total|per|on|at|windows)\b[.:]*", re.IGNORECASE
)
_EDGES = " .,:;-–—/()#"
_SIDES = re.compile(
    r"(?:north|south|east|west|front|rear|back|left|right|n|s|e|w|ne|nw|se|sw|[a-h]|\d{1,3})"
    r"(?: (?:side|elevation|wing))?",
    re.IGNORECASE,
)


def floor_within(text: str) -> str:
    """Return the floors or buildings that a text names, as they stand there, or nothing.

    >>> floor_within("WINDOW SCHEDULE - LEVEL 2")
    'LEVEL 2'
    """
    if _WHOLE.fullmatch(text.strip(_EDGES)):
        return text.strip()
    return ", ".join(found[0].strip(_EDGES) for found in _WITHIN.finditer(text))


def floor_counted(heading: str) -> str:
    """Return the floor whose openings a column of that heading would count, or nothing.

    >>> floor_counted("Qty Level 2")
    'Level 2'
    """
    rest = " ".join(_COUNT_WORDS.sub(" ", heading).split()).strip(_EDGES)
    parts = [part.strip(_EDGES) for part in re.split(r"[,/]|\s[-–—]\s", rest)]
    return rest if rest and all(_WHOLE.fullmatch(part) for part in parts) else ""


def may_count(heading: str) -> bool:
    """Return whether a heading names a side or a letter that openings may be counted by: North, Rear, A."""
    return _SIDES.fullmatch(" ".join(_COUNT_WORDS.sub(" ", heading).split()).strip(_EDGES)) is not None
