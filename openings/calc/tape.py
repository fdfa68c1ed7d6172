"""Lengths and sizes as people write them on tapes, drawings and schedules."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Literal

from openings.errors import BadLength

LengthUnit = Literal["in", "ft", "mm", "cm", "m"]

PLACES = Decimal("0.00001")
"""Decimal inches carry five places: a thirty-second is exact."""

_IN_INCHES: dict[str, tuple[int, int]] = {
    "in": (1, 1),
    "ft": (12, 1),
    "mm": (5, 127),
    "cm": (50, 127),
    "m": (5000, 127),
}
_DENOMINATORS = (2, 4, 8, 16, 32, 64)
_LONGEST_TEXT = 60
_RIGHT = """write it like 3'-0 1/2", 36 1/2, 35.5 or 915 mm"""
_RIGHT_SIZE = """write it width first, like 3'-0" x 4'-6", 36 x 54, 5/0 x 4/6, 3046 or 915 x 1370 mm"""

_RAISED = re.compile("[¼½¾⅐-⅞]|[⁰¹²³⁴-⁹]+(?=[⁄/])")
_SIGNS = str.maketrans(
    {
        **dict.fromkeys("′‘’‛´ʹʼ＇", "'"),
        **dict.fromkeys("″“”„‟ʺ〃＂", '"'),
        **dict.fromkeys("‐‑‒–—−", "-"),
        **dict.fromkeys("×✕✖⨯", "x"),
    }
)

_FRACTION = r"\d{1,2}/\d{1,2}"
_NUMBER = r"(?:\d{1,7}(?:\.\d{0,9})?|\.\d{1,9})(?![\d/])"
_FEET_MARK = r"(?:'|feet|foot|ft\.?)"
_INCH_MARK = r"(?:\"|inch(?:es)?|in\.?)"
_TAPE = re.compile(
    rf"(?:(?P<feet>\d{{1,4}})(?: ?{_FEET_MARK}[ -]*|(?P<dash>-)(?=\d+(?![\d/]))))?"
    rf"(?:(?P<inches>{_NUMBER})(?:[ -]+(?P<part>{_FRACTION}))?|(?P<only_part>{_FRACTION}))?"
    rf"(?: ?(?P<mark>{_INCH_MARK}))?(?(dash)'?)"
)
_METRIC = r"(?:mm|cm|m|(?:milli|centi)?met(?:er|re)s?)"
_PLAIN = re.compile(rf"(?P<number>{_NUMBER}) ?(?P<unit>{_METRIC}|{_FEET_MARK})?")
_HAS_FEET = re.compile(rf"{_FEET_MARK}|^\d+/\d+$|^\d+-\d+(?![\d/])")
_SLASH = re.compile(r"(\d{1,2})/(\d{1,2})")
_BETWEEN = re.compile(r" ?(?:x|\bby\b) ?")
_LABEL = re.compile(r"(?:(?P<before>[wh])[ :=]*(?=[\d.]))?(?P<side>.*?)(?: ?(?P<after>[wh]))?")
_METRIC_END = re.compile(rf"(?<=[\d. ]){_METRIC}$")


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """Width and height in decimal inches."""

    width_in: Decimal
    height_in: Decimal


@lru_cache(maxsize=8192)
def read_length(text: str, *, unit: LengthUnit = "in") -> Decimal:
    """Return the decimal inches that a written length means, to five places.

    >>> read_length("3' 0 1/2\\"")
    Decimal('36.50000')
    >>> read_length("91.5 cm")
    Decimal('36.02362')

    Args:
        text: tape notation, decimal inches, feet/inches such as 5/0, or a number with a metric unit.
        unit: what a bare number is in.

    Raises:
        BadLength: the text is no length, or can mean two; the sentence names both.

    Source:
        Inch of 25.4 mm: NIST Handbook 44, Appendix C. That 3-0 and 5/0 are feet and inches: schedules in use.
    """
    return _length(_tidy(text), text=text, unit=unit, is_side=False)


@lru_cache(maxsize=8192)
def read_size(text: str, *, unit: LengthUnit = "in", height_first: bool = False) -> Size:
    """Return the width and height that a written size means, in decimal inches to five places.

    >>> read_size("3046")
    Size(width_in=Decimal('36.00000'), height_in=Decimal('54.00000'))

    Args:
        text: two lengths with x or "by" between them, or a call size of four to six digits.
        unit: what bare numbers are in.
        height_first: whether the heading says that height stands before width.

    Raises:
        BadLength: the text is no size, or can mean two; the sentence names both.

    Source:
        Call size: feet and inches of the width, then of the height (common practice of schedules).
    """
    tidy = _tidy(text)
    parts = _BETWEEN.split(tidy)
    if len(parts) == 1 and tidy.isdecimal():
        return _call_size(tidy, height_first=height_first)
    if len(parts) != 2:
        raise BadLength(f"“{text}” does not give exactly two sides{_why_not(tidy)}; {_RIGHT_SIZE}")
    labels, (first, second) = _unlabelled(parts, text=text)
    first, second = _shared_unit(first, second, text=text)
    lengths = [_length(side, text=text, unit=unit, is_side=True) for side in (first, second)]
    if labels in (("h", "w"), ("h", ""), ("", "w")) or (height_first and labels == ("", "")):
        lengths.reverse()
    return Size(width_in=lengths[0], height_in=lengths[1])


def format_length(inches: Decimal) -> str:
    """Return inches in tape notation, rounded half up to the nearest 1/32 in.

    >>> format_length(Decimal("36.5"))
    '3\\' 0 1/2"'
    """
    thirty_seconds = int((abs(inches) * 32).to_integral_value(ROUND_HALF_UP))
    whole, over = divmod(thirty_seconds, 32)
    feet, left = divmod(whole, 12)
    fraction = str(Fraction(over, 32)) if over else ""
    shown = f"{left} {fraction}".strip() if left or feet or not over else fraction
    sign = "-" if inches < 0 and thirty_seconds else ""
    return sign + (f"{feet}' " if feet else "") + f'{shown}"'


def _tidy(text: str) -> str:
    """Return the text in lower case with one sign for each mark, dash and fraction."""
    if len(text) > _LONGEST_TEXT:
        raise BadLength(f"“{text[:_LONGEST_TEXT]}…” is too long to be a length; {_RIGHT}")
    if not text.isascii():
        text = unicodedata.normalize("NFKC", _RAISED.sub(r" \g<0>", text).translate(_SIGNS)).replace("⁄", "/")
    return " ".join(text.lower().replace("*", "x").replace("`", "'").replace("''", '"').split())


def _length(tidy: str, *, text: str, unit: LengthUnit, is_side: bool) -> Decimal:
    if slash := _SLASH.fullmatch(tidy):
        return _slashed(int(slash[1]), int(slash[2]), text=text, is_side=is_side)
    if plain := _PLAIN.fullmatch(tidy):
        return _in_inches(Decimal(plain["number"]), _unit_of(plain["unit"]) or unit)
    tape = _TAPE.fullmatch(tidy)
    if not tape or not any(tape.group("feet", "inches", "only_part")):
        raise BadLength(f"“{text}” is no length{_why_not(tidy)}; {_RIGHT}")
    part = tape["part"] or tape["only_part"]
    if unit != "in" and part and not tape["feet"] and not tape["mark"]:
        raise BadLength(f"“{text}” is a fraction, but the heading says {unit}; {_RIGHT}")
    inches = Decimal(tape["inches"] or 0) + (_part_of_an_inch(part, text=text) if part else 0)
    if tape["feet"] and inches >= 12:
        raise BadLength(f"“{text}” has {inches} in after the feet, which must be under 12; {_RIGHT}")
    return (int(tape["feet"] or 0) * 12 + inches).quantize(PLACES, ROUND_HALF_UP)


def _slashed(over: int, under: int, *, text: str, is_side: bool) -> Decimal:
    """Return feet/inches such as 5/0. A side of an opening is never a mere fraction of an inch."""
    is_fraction = under in _DENOMINATORS and 0 < over < under and not is_side
    is_feet = under < 12
    if is_fraction and is_feet:
        as_inches, as_feet = f'{over}/{under}"', f"""{over}'-{under}\""""
        raise BadLength(f"“{text}” can mean {over}/{under} in or {as_feet}; write {as_inches} or {as_feet}")
    if not is_fraction and not is_feet:
        raise BadLength(f"“{text}” is neither feet/inches nor a fraction of an inch; {_RIGHT}")
    inches = Decimal(over) / under if is_fraction else Decimal(over * 12 + under)
    return inches.quantize(PLACES, ROUND_HALF_UP)


def _part_of_an_inch(part: str, *, text: str) -> Decimal:
    over, under = map(int, part.split("/"))
    if under not in _DENOMINATORS or not 0 < over < under:
        raise BadLength(f"“{text}” has the fraction {part}, which is on no tape; use halves to sixty-fourths")
    return Decimal(over) / under


def _in_inches(number: Decimal, unit: str) -> Decimal:
    over, under = _IN_INCHES[unit]
    return (number * over / under).quantize(PLACES, ROUND_HALF_UP)


def _unit_of(written: str | None) -> str | None:
    if not written:
        return None
    if written in _IN_INCHES:
        return written
    return {"mil": "mm", "cen": "cm", "met": "m"}.get(written[:3], "ft")


def _why_not(tidy: str) -> str:
    """Return what stands in the way, for the slips that people make most."""
    if tidy.startswith("-"):
        return ": it is negative"
    if re.fullmatch(r"\d{1,3}(,\d{3})+\b.*", tidy):
        bare = tidy.replace(",", "")
        return f": it can mean {bare}, {tidy.replace(',', '.')} or a call size, so leave the comma out"
    if "," in tidy:
        return ": write a decimal point, not a comma"
    return ""


def _unlabelled(parts: list[str], *, text: str) -> tuple[tuple[str, str], tuple[str, str]]:
    """Return the letters w and h that stand at the two sides, and the sides without them."""
    found = [_LABEL.fullmatch(part) for part in parts]
    labels = [(match["before"] or match["after"] or "") if match else "" for match in found]
    sides = [match["side"] if match else part for match, part in zip(found, parts, strict=True)]
    if labels[0] and labels[0] == labels[1]:
        raise BadLength(f"“{text}” gives the same side twice; {_RIGHT_SIZE}")
    return (labels[0], labels[1]), (sides[0], sides[1])


def _shared_unit(first: str, second: str, *, text: str) -> tuple[str, str]:
    """Return both sides with the metric unit that is written once, after the second."""
    is_bare = [re.fullmatch(_NUMBER, side) is not None for side in (first, second)]
    metric = _METRIC_END.search(second)
    if metric and is_bare[0]:
        return f"{first} {metric[0]}", second
    has_feet = [_HAS_FEET.search(side) is not None for side in (first, second)]
    if (is_bare[0] and has_feet[1]) or (is_bare[1] and has_feet[0]):
        raise BadLength(f"“{text}” says feet on one side only; {_RIGHT_SIZE}")
    return first, second


def _call_size(digits: str, *, height_first: bool) -> Size:
    """Return the one size that the digits can mean: feet and inches of the width, then of the height."""
    readings = [
        ((int(width_ft), int(width_in)), (int(height_ft), int(height_in)))
        for width_ft, width_in, height_ft, height_in in _splits(digits)
    ]
    shown = [f"{w[0]}'-{w[1]}\" x {h[0]}'-{h[1]}\"" for w, h in readings]
    if not readings:
        raise BadLength(f"“{digits}” is no call size; {_RIGHT_SIZE}")
    if len(readings) > 1:
        raise BadLength(f"“{digits}” can mean {' or '.join(shown)}; write it with feet and inch marks")
    if height_first:
        raise BadLength(f"“{digits}” is a call size, width first, but the heading says height first; write {shown[0]}")
    width_in, height_in = (Decimal(feet * 12 + inches).quantize(PLACES) for feet, inches in readings[0])
    return Size(width_in=width_in, height_in=height_in)


def _splits(digits: str) -> list[tuple[str, str, str, str]]:
    """Return every way to cut a call size into feet and inches; a width of even feet may lack its zero."""
    patterns = (
        r"([1-9])(\d)([1-9])(\d)",
        r"([1-9])(1[01])([1-9])(\d)",
        r"([1-9])(\d)([1-9])(1[01])",
        r"([1-9])(1[01])([1-9])(1[01])",
        r"([1-9])()([1-9])(1[01])",
    )
    found = (re.fullmatch(pattern, digits) for pattern in patterns)
    return [(match[1], match[2] or "0", match[3], match[4]) for match in found if match]
