"""Lengths and sizes as people write them on tapes, drawings and schedules."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from openings.calc.call_sizes import call_sizes_in, feet_and_inches, run_together_in
from openings.calc.notation import (
    FEET_MARK,
    FRACTION,
    INCH_MARK,
    LONGEST_LENGTH,
    METRIC,
    NUMBER,
    PLACES,
    LengthUnit,
    length_of,
    tidied,
    why_not,
)
from openings.calc.size_letters import RIGHT, WIDE_OR_HIGH, labelled_sides, unlabelled
from openings.errors import BadLength

__all__ = ["BareSize", "LengthUnit", "Size", "bare_size", "format_length", "read_length", "read_size", "size_in_text"]

_LONGEST_TEXT = 200
_LEAST_SIDE_IN = 4
"""Less than that inside a text is the thickness of glass or the count of something, not an opening (our choice)."""

_HAS_FEET = re.compile(rf"{FEET_MARK}|^\d+/\d+$|^\d+-\d+(?![\d/])")
_BETWEEN = re.compile(r" ?(?:x|\bby\b) ?")
_METRIC_END = re.compile(rf"(?<=[\d. ]){METRIC}$")
_BARE = re.compile(
    rf"(?P<type>[a-z]{{1,6}})[- ]?(?P<w>\d\d)(?P<h>\d\d)|(?P<first>{NUMBER}) ?(?:x|by) ?(?P<second>{NUMBER})"
)

_INCHES = rf"(?:{NUMBER}(?:[ -]{FRACTION})?|{FRACTION})"
_MARKED = (
    rf"(?:\d{{1,3}}(?:-\d{{1,2}}'| ?{FEET_MARK}(?:[ -]*{_INCHES}(?: ?{INCH_MARK})?)?)"
    rf"|{_INCHES} ?{INCH_MARK}|{NUMBER} ?{METRIC})(?![a-wyz0-9])(?: ?{WIDE_OR_HIGH}\b)?"
)
_IN_TEXT = re.compile(
    rf"(?<![a-z0-9./'\"])(?<!\d[,-])(?<!x )(?<!by )(?:{_MARKED}|{_INCHES}) ?(?:x|by) ?(?>{_MARKED})"
    r"(?![a-z0-9/'\"]| ?(?:x|by) ?\d)"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """Width and height in decimal inches.

    Args:
        found_in: the text that said more than this size; empty if it said nothing else.
    """

    width_in: Decimal
    height_in: Decimal
    found_in: str = field(default="", compare=False)


class BareSize(NamedTuple):
    """A size without any mark or unit, such as 30x46 or A-3648: its two numbers as they are written."""

    first: str
    second: str
    is_code: bool

    @property
    def is_open(self) -> bool:
        """Return whether both numbers can be inches, or feet and inches run together."""
        return run_together_in(self.first) is not None and run_together_in(self.second) is not None

    @property
    def is_small(self) -> bool:
        """Return whether both numbers are too small for inches of an opening, so that they may be feet."""
        return 0 < float(self.first) < _SMALL and 0 < float(self.second) < _SMALL

    @property
    def readings(self) -> tuple[str, str]:
        """Return its readings in inches, and in feet (and inches)."""
        as_feet = [run_together_in(side) or int(Decimal(side) * 12) for side in (self.first, self.second)]
        return f"{self.first} x {self.second} in", " x ".join(map(feet_and_inches, as_feet))


_SMALL = 10


@lru_cache(maxsize=8192)
def read_length(text: str, *, unit: LengthUnit = "in", is_small: bool = False) -> Decimal:
    """Return the decimal inches that a written length means, to five places.

    >>> read_length("3' 0 1/2\\"")
    Decimal('36.50000')
    >>> read_length("91.5 cm")
    Decimal('36.02362')
    >>> read_length("1/8", is_small=True)
    Decimal('0.12500')

    Args:
        text: tape notation, decimal inches, feet/inches such as 5/0, or a number with a metric unit.
        unit: what a bare number is in.
        is_small: whether it can only be small, such as how far a sill is out of level, so that 1/8 is a fraction of
            an inch and never feet/inches.

    Raises:
        BadLength: the text is no length, or can mean two; the sentence names both.

    Source:
        Inch of 25.4 mm: NIST Handbook 44, Appendix C. That 3-0 and 5/0 are feet and inches: schedules in use.
    """
    return length_of(tidied(text), text=text, unit=unit, is_side=False, is_small=is_small)


@lru_cache(maxsize=8192)
def read_size(text: str, *, unit: LengthUnit | None = None, height_first: bool = False) -> Size:
    """Return the width and height that a written size means, in decimal inches to five places.

    >>> read_size("3046")
    Size(width_in=Decimal('36.00000'), height_in=Decimal('54.00000'), found_in='')

    Args:
        text: two lengths with x or "by" between them, a call size of four to six digits, or a longer text with
            exactly one size in it whose unit is written.
        unit: what bare numbers are in; None if nobody said, so that 30x30 can mean two sizes.
        height_first: whether the heading says that height stands before width.

    Raises:
        BadLength: the text is no size, or can mean two; the sentence names both.

    Source:
        Call size: feet and inches of the width, then of the height (common practice of schedules).
    """
    tidy = tidied(text, longest=_LONGEST_TEXT)
    try:
        return _whole_size(tidy, text=text, unit=unit, height_first=height_first)
    except BadLength:
        found = _sizes_in(tidy, height_first=height_first)
        if len(found) > 1:
            shown = ", ".join(f"{format_length(one.width_in)} x {format_length(one.height_in)}" for one in found)
            raise BadLength(f"“{text}” gives {len(found)} sizes ({shown}); leave one") from None
        if not found:
            raise
    return Size(width_in=found[0].width_in, height_in=found[0].height_in, found_in=text)


def size_in_text(text: str, *, height_first: bool = False) -> Size | None:
    """Return the one size in a text that is written with its unit; None if there is none, or more than one.

    >>> size_in_text("Fixed: 0915 x 1830mm")
    Size(width_in=Decimal('36.02362'), height_in=Decimal('72.04724'), found_in='Fixed: 0915 x 1830mm')
    """
    found = _sizes_in(tidied(text[:_LONGEST_TEXT], longest=_LONGEST_TEXT), height_first=height_first)
    return Size(width_in=found[0].width_in, height_in=found[0].height_in, found_in=text) if len(found) == 1 else None


def bare_size(text: str) -> BareSize | None:
    """Return the numbers of a size that says no unit, or None if it says one or is none.

    >>> bare_size("30 x 46").readings
    ('30 x 46 in', '3\\'-0" x 4\\'-6"')
    """
    return _bare_size(tidied(text)) if len(text) <= LONGEST_LENGTH else None


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


@lru_cache(maxsize=8192)
def _bare_size(tidy: str) -> BareSize | None:
    found = _BARE.fullmatch(tidy)
    if not found:
        return None
    if found["type"]:
        return BareSize(found["w"], found["h"], is_code=True)
    return BareSize(found["first"], found["second"], is_code=False)


def _whole_size(tidy: str, *, text: str, unit: LengthUnit | None, height_first: bool) -> Size:
    if tidy.isdecimal() and unit in (None, "in", "ft", "feet-inches"):
        return _call_size(tidy, height_first=height_first)
    if bare := _bare_size(tidy):
        return _size_of_bare(bare, text=text, unit=unit, height_first=height_first)
    parts = _BETWEEN.split(tidy)
    if len(parts) == 1:
        parts = labelled_sides(tidy) or parts
    if len(parts) != 2:
        raise BadLength(f"“{text}” does not give exactly two sides{_why_no_size(tidy)}; {RIGHT}")
    labels, (first, second) = unlabelled(parts, text=text)
    first, second = _shared_unit(first, second, text=text)
    lengths = [length_of(side, text=text, unit=unit or "in", is_side=True) for side in (first, second)]
    if labels in (("h", "w"), ("h", ""), ("", "w")) or (height_first and labels == ("", "")):
        lengths.reverse()
    return Size(width_in=lengths[0], height_in=lengths[1])


def _size_of_bare(bare: BareSize, *, text: str, unit: LengthUnit | None, height_first: bool) -> Size:
    is_unsure = bare.is_open or bare.is_small if unit is None else bare.is_code and unit not in ("in", "feet-inches")
    if is_unsure:
        raise BadLength(f"“{text}” can mean {' or '.join(bare.readings)}; write it with feet and inch marks")
    if bare.is_code and height_first:
        raise BadLength(f"“{text}” gives the width first, but the heading says height first; {RIGHT}")
    first, second = (length_of(side, text=text, unit=unit or "in", is_side=True) for side in (bare.first, bare.second))
    return Size(width_in=second, height_in=first) if height_first else Size(width_in=first, height_in=second)


def _sizes_in(tidy: str, *, height_first: bool) -> list[Size]:
    """Return the different sizes in a text that are written with their unit."""
    found: list[Size] = []
    for written in _IN_TEXT.finditer(tidy):
        try:
            size = _whole_size(written[0], text=written[0], unit="in", height_first=height_first)
        except BadLength:
            continue
        if min(size.width_in, size.height_in) >= _LEAST_SIDE_IN and size not in found:
            found.append(size)
    return found


def _why_no_size(tidy: str) -> str:
    if glass := re.fullmatch(r"(\d{1,2})/(\d{1,2})", tidy):
        length = f" or one side of {glass[1]}'-{glass[2]}\"" if int(glass[2]) < 12 else ""
        return f": it can mean a light of glass of {glass[1]} x {glass[2]} in{length}"
    return why_not(tidy)


def _shared_unit(first: str, second: str, *, text: str) -> tuple[str, str]:
    """Return both sides with the metric unit that is written once, after the second."""
    is_bare = [re.fullmatch(NUMBER, side) is not None for side in (first, second)]
    metric = _METRIC_END.search(second)
    if metric and is_bare[0]:
        return f"{first} {metric[0]}", second
    has_feet = [_HAS_FEET.search(side) is not None for side in (first, second)]
    if (is_bare[0] and has_feet[1]) or (is_bare[1] and has_feet[0]):
        raise BadLength(f"“{text}” says feet on one side only; {RIGHT}")
    return first, second


def _call_size(digits: str, *, height_first: bool) -> Size:
    """Return the one size that the digits can mean."""
    readings = call_sizes_in(digits)
    shown = [" x ".join(map(feet_and_inches, reading)) for reading in readings]
    if not readings:
        raise BadLength(f"“{digits}” is not a call size; {RIGHT}")
    if len(readings) > 1:
        raise BadLength(f"“{digits}” can mean {' or '.join(shown)}; write it with feet and inch marks")
    if height_first:
        raise BadLength(f"“{digits}” is a call size, width first, but the heading says height first; write {shown[0]}")
    width_in, height_in = (Decimal(side).quantize(PLACES) for side in readings[0])
    return Size(width_in=width_in, height_in=height_in)
