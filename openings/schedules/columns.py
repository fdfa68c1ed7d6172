"""Which heading means what. Position never matters."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum

from openings.calc.tape import LengthUnit


class Meaning(StrEnum):
    """What a column of a window schedule says."""

    MARK = "mark"
    QUANTITY = "quantity"
    RO_WIDTH = "ro_width_in"
    RO_HEIGHT = "ro_height_in"
    RO_SIZE = "ro_size"
    UNIT_WIDTH = "unit_width_in"
    UNIT_HEIGHT = "unit_height_in"
    UNIT_SIZE = "unit_size"
    OPERATION = "operation"
    FLOOR = "floor"
    DETAIL = "detail"
    REMARKS = "remarks"
    WEIGHT = "weight_lb"


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """What a heading means.

    Args:
        rank: 0 is the plainest way to say it; of several columns the lowest rank is read.
        unit: what the heading says its numbers are in; empty if it says nothing.
        height_first: whether a column of whole sizes has height before width.
        caveat: what had to be assumed; empty if nothing.
    """

    meaning: Meaning
    rank: int = 0
    unit: str = ""
    height_first: bool = False
    caveat: str = ""


_WORDS: dict[Meaning, tuple[str, ...]] = {
    Meaning.MARK: (
        "mark", "window mark", "opening mark", "unit mark", "mark no", "mark id", "mark number", "tag",
        "window tag", "tag no", "id", "window id", "opening id", "window no", "window number", "opening no",
        "opening number", "type mark", "symbol", "window", "key", "item", "item no", "no", "number",
    ),
    Meaning.QUANTITY: (
        "quantity", "qty", "quan", "quant", "count", "no of", "number of", "no of units", "number of units",
        "no of windows", "number of windows", "no of openings", "qty reqd", "qty required",
        "quantity required", "no reqd", "no required", "total qty", "total quantity",
        "units", "pcs", "pieces", "ea", "each",
    ),
    Meaning.OPERATION: (
        "operation", "operation type", "operation code", "operating type", "function", "style",
        "window style", "type", "window type", "unit type", "type operation", "type style",
    ),
    Meaning.FLOOR: (
        "floor", "floor level", "level", "storey", "story", "floor no", "location", "floor location", "room",
        "room name", "area", "space", "elevation", "facade", "building",
    ),
    Meaning.DETAIL: (
        "installation detail", "install detail", "detail", "detail no", "details", "flashing detail",
        "mounting detail", "mounting", "installation", "installation method", "install method",
    ),
    Meaning.REMARKS: ("remarks", "remark", "notes", "note", "comments", "comment"),
    Meaning.WEIGHT: (
        "weight", "unit weight", "weight each", "weight per unit", "weight ea", "wt", "unit wt", "wt each",
    ),
}  # fmt: skip
_BY_WORDS = {
    words: Heading(meaning=meaning, rank=rank)
    for meaning, phrases in _WORDS.items()
    for rank, words in enumerate(phrases)
}

_NOMINAL = "a nominal or call size is read as the rough opening it is named for"
_BARE = "the heading names neither rough opening nor unit, so it is read as the unit"
_RO_WORDS = ("ro", "r o", "rough opening", "rough open", "rough opng", "rough", "ro opening", "opening")
_UNIT_WORDS = (
    "unit", "frame", "unit frame", "frame unit", "window unit", "actual", "actual unit", "net", "net frame",
    "overall unit", "overall frame", "outside frame", "frame outside", "actual frame", "jamb to jamb",
)  # fmt: skip
_NOMINAL_WORDS = ("nominal", "call", "callout", "call out", "nominal call", "nominal unit", "nominal window")
_BARE_WORDS = ("", "window", "overall", "window unit overall")
_KINDS: dict[str, tuple[str, int, str]] = {
    **dict.fromkeys(_RO_WORDS, ("RO", 0, "")),
    **dict.fromkeys(_UNIT_WORDS, ("UNIT", 0, "")),
    **dict.fromkeys(_NOMINAL_WORDS, ("RO", 1, _NOMINAL)),
    **dict.fromkeys(_BARE_WORDS, ("UNIT", 1, _BARE)),
}
_SIZES_BY_NAME_ALONE = {"ro", "r o", "rough opening", "rough opng", "rough open", "callout", "call out"}
_DIMENSIONS = {
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
_SAME_WORD = {
    **dict.fromkeys(("width", "widths", "wide", "wd", "wdth"), "w"),
    **dict.fromkeys(("height", "heights", "high", "ht", "hgt"), "h"),
    **dict.fromkeys(("sizes", "dimension", "dimensions", "dim", "dims"), "size"),
    **dict.fromkeys(("nom", "nom'l"), "nominal"),
    "wxh": "w x h",
    "hxw": "h x w",
}

_UNIT_NAMES: dict[str, str] = {
    **dict.fromkeys(("in", "ins", "inch", "inches", '"', "''", "″", "decimal in", "decimal inches"), "in"),
    **dict.fromkeys(("ft in", "feet inches", "feet and inches", "ft and in", "ft & in", "feet & inches"), "in"),
    **dict.fromkeys(("ft", "feet", "foot", "'", "′"), "ft"),
    **dict.fromkeys(("mm", "millimeters", "millimetres", "millimeter", "millimetre"), "mm"),
    **dict.fromkeys(("cm", "centimeters", "centimetres"), "cm"),
    **dict.fromkeys(("m", "meters", "metres"), "m"),
    **dict.fromkeys(("lb", "lbs", "pounds", "#"), "lb"),
    **dict.fromkeys(("kg", "kgs", "kilograms"), "kg"),
}
_LENGTH_UNITS: dict[str, LengthUnit] = {"in": "in", "ft": "ft", "mm": "mm", "cm": "cm", "m": "m"}
_IN_BRACKETS = re.compile(r"[(\[{]\s*([^)\]}]*?)\s*[)\]}]")
_AT_END = re.compile(r"(?<=[\w.),])[\s,:_]+(in|ins|inch|inches|mm|cm|ft|feet|lb|lbs|kg)\.?\s*$")


def read_heading(text: str) -> Heading | None:
    """Return what a heading means, or None if it means nothing here.

    >>> read_heading("R.O. Width (mm)").unit
    'mm'
    """
    rest, unit = _without_unit(text.casefold())
    words = _words(rest)
    found = _BY_WORDS.get(words) or _size_heading(words) or _either(rest)
    if found is None:
        return None
    return Heading(
        meaning=found.meaning,
        rank=found.rank,
        unit=unit,
        height_first=found.height_first,
        caveat=found.caveat,
    )


def length_unit(name: str) -> LengthUnit | None:
    """Return the unit of length by its short name, or None if it is none."""
    return _LENGTH_UNITS.get(name)


def unit_named(text: str) -> str:
    """Return the short name of the unit that a text consists of, or nothing."""
    bare = re.sub(r"[\s\-/–]+", " ", text.casefold().replace(".", "")).strip(" ()[]")
    return _UNIT_NAMES.get(bare, "")


def is_subheading(text: str) -> bool:
    """Return whether a text only completes the heading above it: Width, Height or a unit."""
    return unit_named(text) != "" or _words(_without_unit(text.casefold())[0]) in (
        "w",
        "h",
        "size",
        "w x h",
        "h x w",
    )


def _without_unit(text: str) -> tuple[str, str]:
    for bracket in _IN_BRACKETS.finditer(text):
        if unit := unit_named(bracket[1]):
            return f"{text[: bracket.start()]} {text[bracket.end() :]}", unit
    if end := _AT_END.search(text):
        return text[: end.start()], _UNIT_NAMES[end[1]]
    return text, ""


def _words(text: str) -> str:
    """Return the words of a heading with one spelling each and nothing between them but spaces."""
    plain = text.replace(".", "").replace("#", " no ").replace("'d", "d").replace("×", " x ")
    return " ".join(_SAME_WORD.get(word, word) for word in re.findall(r"[^\W_]+", plain))


def _size_heading(words: str) -> Heading | None:
    kind, dimension = words, "size"
    if words not in _SIZES_BY_NAME_ALONE:
        for name in sorted(_DIMENSIONS, key=len, reverse=True):
            if words == name or words.endswith(f" {name}"):
                kind, dimension = words[: -len(name)].strip(), name
                break
            if words.startswith(f"{name} "):
                kind, dimension = words[len(name) :].strip(), name
                break
        else:
            return None
    if kind not in _KINDS:
        return None
    prefix, rank, caveat = _KINDS[kind]
    suffix, height_first = _DIMENSIONS[dimension]
    return Heading(meaning=Meaning[f"{prefix}_{suffix}"], rank=rank, height_first=height_first, caveat=caveat)


def _either(text: str) -> Heading | None:
    """Return the meaning of a heading such as Floor / Location, if its parts agree."""
    found = [_BY_WORDS.get(_words(part)) for part in re.split(r"[/&+]|\band\b|\bor\b", text)]
    first = found[0]
    return first if first and all(part and part.meaning is first.meaning for part in found) else None
