"""Which heading means what when it says so in plain words. Position never matters."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache

from openings.calc.tape import LengthUnit
from openings.schedules.headings.vocabulary import CAVEATS, FOREIGN_PHRASES, PHRASES, SAME_WORD
from openings.schedules.layout import Meaning

ASSUMED = Decimal("0.9")
"""How sure a plain heading is that leaves something to assume."""

LONGEST_HEADING = 200
"""A text of more letters is no heading, and nothing is looked for in it (our choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """What a heading means.

    Args:
        rank: 0 is the plainest way to say it; of several columns the lowest rank is read.
        unit: what the heading says its numbers are in; empty if it says nothing.
        height_first: whether a column of whole sizes has height before width.
        is_order_known: whether the heading or a person says so, or the heading is known to mean width first.
        caveat: what had to be assumed; empty if nothing.
        floor: the floor that a column of counts stands for.
        is_settled: whether a person said so; nothing about it is asked again.
        confidence: from 0 to 1, two places.
    """

    meaning: Meaning
    rank: int = 0
    unit: str = ""
    height_first: bool = False
    is_order_known: bool = True
    caveat: str = ""
    floor: str = ""
    is_settled: bool = False
    confidence: Decimal = Decimal(1)


_NOMINAL = "a nominal or call size is read as the rough opening it is named for"
_BARE = "the heading names neither rough opening nor unit, so it is read as the unit"
_RO_WORDS = ("ro", "r o", "rough opening", "rough open", "rough", "ro opening", "opening")
_UNIT_WORDS = (
    "unit", "frame", "unit frame", "frame unit", "actual", "actual unit", "net", "net frame",
    "overall unit", "overall frame", "outside frame", "frame outside", "actual frame", "jamb to jamb",
)  # fmt: skip
_NOMINAL_WORDS = ("nominal", "call", "callout", "call out", "nominal call", "nominal unit")
_BARE_WORDS = ("", "overall", "unit overall")
KINDS: dict[str, tuple[str, int, str]] = {
    **dict.fromkeys(_RO_WORDS, ("RO", 0, "")),
    **dict.fromkeys(_UNIT_WORDS, ("UNIT", 0, "")),
    **dict.fromkeys(_NOMINAL_WORDS, ("RO", 1, _NOMINAL)),
    **dict.fromkeys(_BARE_WORDS, ("UNIT", 1, _BARE)),
}
"""Which size the words before or after Width and Height name: its meaning, rank and caveat."""

_SIZES_BY_NAME_ALONE = {"ro", "r o", "rough opening", "rough open", "nominal", "callout", "call out"}
DIMENSIONS = {
    "w": ("WIDTH", False),
    "h": ("HEIGHT", False),
    "size": ("SIZE", False),
    "w x h": ("SIZE", False),
    "size w x h": ("SIZE", False),
    "w h": ("SIZE", False),
    "h x w": ("SIZE", True),
    "size h x w": ("SIZE", True),
    "h w": ("SIZE", True),
}
_LONGEST_FIRST = sorted(DIMENSIONS, key=len, reverse=True)

_UNIT_NAMES: dict[str, str] = {
    **dict.fromkeys(("in", "ins", "inch", "inches", '"', "''", "″", "decimal in", "decimal inches"), "in"),
    **dict.fromkeys(("ft in", "feet inches", "feet and inches", "ft and in", "ft & in", "feet & inches"), "in"),
    **dict.fromkeys(("ft", "feet", "foot", "'", "′", "decimal feet", "decimal ft"), "ft"),
    **dict.fromkeys(("mm", "millimeters", "millimetres", "millimeter", "millimetre"), "mm"),
    **dict.fromkeys(("cm", "centimeters", "centimetres", "centimeter", "centimetre"), "cm"),
    **dict.fromkeys(("m", "meters", "metres", "meter", "metre"), "m"),
    **dict.fromkeys(("lb", "lbs", "pounds", "#"), "lb"),
    **dict.fromkeys(("kg", "kgs", "kilograms"), "kg"),
}
_LENGTH_UNITS: dict[str, LengthUnit] = {"in": "in", "ft": "ft", "mm": "mm", "cm": "cm", "m": "m"}
_IN_BRACKETS = re.compile(r"[(\[{]([^()\[\]{}]*+)[)\]}]")
_AT_END = re.compile(
    r"(?<=[\w.),])(?:[\s,:_]+(?:in\s+)?((?:decimal\s+)?(?:in|ins|inch|inches|ft|feet)|ft[\s-]in|mm|cm|m|lb|lbs|kg|kgs"
    r"|(?:milli|centi)?met(?:er|re)s?|pounds|kilograms)|\s*(\"|″|''|'|′))\.?[\s:*†]*$"
)
_LETTERS = re.compile(r"[A-Z]?[^\W\dA-Z_]+|[A-Z]+")
_CAMEL = re.compile(r"(?<=[a-z])(?=[A-Z])|(?<=[A-Z])(?=[A-Z][a-z])")
_SIDE = r"(w|h|wd|ht|hgt|width|height|wide|high)"
_BOTH_SIDES = re.compile(rf"\b{_SIDE}\.?\s*(?:[x×✕✖⨯*/]|by)\s*{_SIDE}\b", re.IGNORECASE)
_HYPHEN = re.compile(r"(?<=[a-z])-[^\S\n]*+\n\s*+(?=[a-z])", re.IGNORECASE)
_LONGEST_END = 40
"""So near to the end of a heading its unit stands."""


@lru_cache(maxsize=4096)
def read_heading(text: str) -> Heading | None:
    """Return the meaning of a heading, or None if it has none here.

    >>> read_heading("R.O. Width (mm)").unit
    'mm'
    """
    if len(text) > LONGEST_HEADING or not has_known_word(text) or is_foreign(text):
        return None
    rest, unit = without_unit(_apart(text))
    words = _words(rest)
    found = _BY_WORDS.get(words) or _size_heading(words) or _either(rest)
    return replace(found, unit=unit, height_first=bool(height_stated_first(text))) if found else None


def height_stated_first(text: str) -> bool | None:
    """Return whether a heading names the height before the width, or None if it does not name both.

    >>> height_stated_first("Structural opening (Ht × Wd)"), height_stated_first("RO")
    (True, None)
    """
    if len(text) > LONGEST_HEADING:
        return None
    words = words_of(text).split()
    return words.index("h") < words.index("w") if {"w", "h"} <= set(words) else None


def has_known_word(text: str) -> bool:
    """Return whether a text has a word that headings are made of, so that it is worth a closer look."""
    words = _LETTERS.findall(text)
    return not words or not _KNOWN.isdisjoint(map(str.casefold, words))


def is_foreign(text: str) -> bool:
    """Return whether a heading is known to mean nothing here, such as Glazing."""
    apart = _apart(text)
    return _words(apart) in _FOREIGN or _words(without_unit(apart)[0]) in _FOREIGN


def length_unit(name: str) -> LengthUnit | None:
    """Return the unit of length by its short name, or None if it is none."""
    return _LENGTH_UNITS.get(name)


def unit_named(text: str) -> str:
    """Return the short name of the unit that a text consists of, or nothing."""
    bare = re.sub(r"[\s\-/–]+", " ", text.casefold().replace(".", "")).strip(" ()[]{}")
    return _UNIT_NAMES.get(bare, "")


def is_subheading(text: str) -> bool:
    """Return whether a text only completes the heading above it: Width, Height or a unit."""
    return unit_named(text) != "" or words_of(text) in DIMENSIONS


def is_kind(text: str) -> bool:
    """Return whether a text names the rough opening, the unit or the nominal size, and no side of it."""
    words = words_of(text).removesuffix(" size").removesuffix(" w x h")
    return bool(words) and words.removeprefix("window ") in KINDS


def names_openings(text: str) -> bool:
    """Return whether a heading of marks says that each is the mark of one opening, and never a range of them."""
    return words_of(text) == "opening mark"


def words_of(text: str) -> str:
    """Return the words of a heading without its unit, with one spelling each and nothing between but spaces."""
    return _words(without_unit(_apart(text))[0])


def plain_text(text: str) -> str:
    """Return a heading on one line, as a person sees it."""
    return " ".join((_HYPHEN.sub("", text) if "\n" in text else text).split())


def without_unit(text: str) -> tuple[str, str]:
    for bracket in _IN_BRACKETS.finditer(text):
        if unit := unit_named(bracket[1]):
            return f"{text[: bracket.start()]} {text[bracket.end() :]}", unit
    if end := _AT_END.search(text, max(0, len(text) - _LONGEST_END)):
        return text[: end.start()], unit_named(end[1] or end[2])
    return text, ""


def _apart(text: str) -> str:
    """Return the text in small letters, words written together taken apart."""
    return _CAMEL.sub(" ", _BOTH_SIDES.sub(r"\1 x \2", plain_text(text))).casefold()


def _words(text: str) -> str:
    plain = text.replace(".", "").replace("#", " no ").replace("×", " x ").replace("’", "'")
    plain = re.sub(r"'(?=[dsl]\b)", "", plain)
    return " ".join(SAME_WORD.get(word, word) for word in re.findall(r"[^\W_]+", plain))


def _size_heading(words: str) -> Heading | None:
    kind, dimension = words, "size"
    if words not in _SIZES_BY_NAME_ALONE:
        dimension = next((name for name in _LONGEST_FIRST if f" {words}".endswith(f" {name}")), "")
        kind = words.removesuffix(dimension).strip()
        if not dimension:
            dimension = next((name for name in _LONGEST_FIRST if words.startswith(f"{name} ")), "")
            kind = words.removeprefix(dimension).strip()
        if not dimension:
            return None
    if kind not in KINDS:
        kind = " ".join(word for word in kind.split() if word not in ("window", "size"))
    if kind not in KINDS:
        return None
    prefix, rank, caveat = KINDS[kind]
    suffix, height_first = DIMENSIONS[dimension]
    return Heading(
        meaning=Meaning[f"{prefix}_{suffix}"],
        rank=rank,
        height_first=height_first,
        caveat=caveat,
        confidence=ASSUMED if caveat else Decimal(1),
    )


def _either(text: str) -> Heading | None:
    """Return the meaning of a heading such as Floor / Location, if its parts agree."""
    found = [_BY_WORDS.get(_words(part)) for part in re.split(r"[/&+]|\band\b|\bor\b", text)]
    first = found[0]
    return first if first and all(part and part.meaning is first.meaning for part in found) else None


_BY_WORDS = {
    _words(words): Heading(
        meaning=meaning,
        rank=rank,
        caveat=CAVEATS.get(words, ""),
        confidence=ASSUMED if words in CAVEATS else Decimal(1),
    )
    for meaning, phrases in PHRASES.items()
    for rank, words in reversed(list(enumerate(phrases)))
}
_FOREIGN = frozenset(map(_words, FOREIGN_PHRASES)) - set(_BY_WORDS)
_KNOWN = frozenset(word for words in (*_BY_WORDS, *KINDS, *DIMENSIONS, *SAME_WORD) for word in _LETTERS.findall(words))
