"""One length as it is written → decimal inches. `openings.calc.tape` is the door to it."""

from __future__ import annotations

import re
import unicodedata
from decimal import ROUND_HALF_UP, Decimal
from functools import lru_cache
from typing import Literal

from openings.calc.call_sizes import feet_and_inches, run_together_in
from openings.errors import BadLength

LengthUnit = Literal["in", "ft", "mm", "cm", "m", "feet-inches"]
"""What a bare number is in; feet-inches runs both together, so that 30 is 3'-0"."""

PLACES = Decimal("0.00001")
"""Decimal inches carry five places: a thirty-second is exact, and the noise of floating point is gone."""

_IN_INCHES: dict[str, tuple[int, int]] = {
    "in": (1, 1),
    "ft": (12, 1),
    "mm": (5, 127),
    "cm": (50, 127),
    "m": (5000, 127),
}
_DENOMINATORS = (2, 4, 8, 16, 32, 64)
LONGEST_LENGTH = 60
_RIGHT = """write it like 3'-0 1/2", 36 1/2, 35.5 or 915 mm"""

UNSEEN = dict.fromkeys((0xAD, *range(0x200B, 0x2010), *range(0x202A, 0x202F), *range(0x2060, 0x206A), 0xFEFF))
"""Characters that no reader sees: soft hyphens, joiners, marks of zero width and of the direction of writing.

Source: Unicode Standard, general category Cf (format characters); those that stand in spreadsheets.
"""

_RAISED = re.compile("[¼½¾⅐-⅞]|[⁰¹²³⁴-⁹]+(?=[⁄/])")
_SIGNS = UNSEEN | str.maketrans(
    {
        **dict.fromkeys("′‘’‛´ʹʼ＇", "'"),
        **dict.fromkeys("″“”„‟ʺ〃＂", '"'),
        **dict.fromkeys("‐‑‒–—−", "-"),
        **dict.fromkeys("×✕✖⨯", "x"),
    }
)

FRACTION = r"\d{1,2}/\d{1,2}"
NUMBER = r"(?:\d{1,7}(?:\.\d{0,20})?|\.\d{1,20})(?![\d/])"
FEET_MARK = r"(?:'|feet|foot|ft\.?)"
INCH_MARK = r"(?:\"|inch(?:es)?|in\.?)"
METRIC = r"(?:mm|cm|m|(?:milli|centi)?met(?:er|re)s?)"
_TAPE = re.compile(
    rf"(?:(?P<feet>\d{{1,4}})(?: ?{FEET_MARK}[ -]*|(?P<dash>-)(?=\d+(?![\d/]))))?"
    rf"(?:(?P<inches>{NUMBER})(?:[ -]+(?P<part>{FRACTION}))?|(?P<only_part>{FRACTION}))?"
    rf"(?: ?(?P<mark>{INCH_MARK}))?(?(dash)'?)"
)
_PLAIN = re.compile(rf"(?P<number>{NUMBER}) ?(?P<unit>{METRIC}|{FEET_MARK})?")
_SLASH = re.compile(r"(\d{1,2})/(\d{1,2})")


@lru_cache(maxsize=8192)
def tidied(text: str, *, longest: int = LONGEST_LENGTH) -> str:
    """Return the text in lower case with one sign for each mark, dash and fraction.

    Raises:
        BadLength: it has more than `longest` letters.
    """
    if len(text) > longest:
        raise BadLength(f"“{text[:longest]}…” is too long to be a length; {_RIGHT}")
    if not text.isascii():
        text = unicodedata.normalize("NFKC", _RAISED.sub(r" \g<0>", text).translate(_SIGNS)).replace("⁄", "/")
    marks = text.lower().replace("*", "x").replace("'`", "'").replace("`", "'").replace("''", '"')
    return " ".join(marks.split())


def length_of(tidy: str, *, text: str, unit: LengthUnit, is_side: bool, is_small: bool = False) -> Decimal:
    """Return the decimal inches that a tidied text means, to five places.

    Args:
        text: as it was written, for the sentence of an error.
        is_side: whether it is one of two sides, which is never a mere fraction of an inch.
        is_small: whether it is never feet, so that a bare fraction is one of an inch.

    Raises:
        BadLength: it is no length, or can mean two.
    """
    if (slash := _SLASH.fullmatch(tidy)) and is_small and unit == "in":
        return _rounded(_part_of_an_inch(slash[0], text=text))
    if slash:
        return _slashed(int(slash[1]), int(slash[2]), text=text, is_side=is_side or unit == "feet-inches")
    if plain := _PLAIN.fullmatch(tidy):
        if unit == "feet-inches" and not plain["unit"]:
            return _run_together(plain["number"], text=text)
        return _in_inches(Decimal(plain["number"]), _unit_of(plain["unit"]) or unit)
    tape = _TAPE.fullmatch(tidy)
    if not tape or not any(tape.group("feet", "inches", "only_part")):
        raise BadLength(f"“{text}” is not a length{why_not(tidy)}; {_RIGHT}")
    part = tape["part"] or tape["only_part"]
    if unit != "in" and part and not tape["feet"] and not tape["mark"]:
        raise BadLength(f"“{text}” is a fraction, but the heading says {unit}; {_RIGHT}")
    inches = Decimal(tape["inches"] or 0) + (_part_of_an_inch(part, text=text) if part else 0)
    if tape["feet"] and inches >= 12:
        raise BadLength(f"“{text}” has {inches} in after the feet, which must be under 12; {_RIGHT}")
    return _rounded(int(tape["feet"] or 0) * 12 + inches)


def why_not(tidy: str) -> str:
    """Return the reason why a text is no length, for the slips that people make most."""
    if tidy.startswith("-"):
        return ": it is negative"
    if re.fullmatch(r"\d{1,3}(,\d{3})+\b.*", tidy):
        bare = tidy.replace(",", "")
        return f": it can mean {bare}, {tidy.replace(',', '.')} or a call size, so leave the comma out"
    if "," in tidy:
        return ": write a decimal point, not a comma"
    return ""


def _slashed(over: int, under: int, *, text: str, is_side: bool) -> Decimal:
    """Return feet/inches such as 5/0. A side of an opening is never a mere fraction of an inch."""
    is_fraction = under in _DENOMINATORS and 0 < over < under and not is_side
    is_feet = under < 12
    if is_fraction and is_feet:
        as_inches, as_feet = f'{over}/{under}"', f"""{over}'-{under}\""""
        raise BadLength(f"“{text}” can mean {over}/{under} in or {as_feet}; write {as_inches} or {as_feet}")
    if not is_fraction and not is_feet:
        raise BadLength(f"“{text}” is neither feet/inches nor a fraction of an inch; {_RIGHT}")
    return _rounded(Decimal(over) / under if is_fraction else Decimal(over * 12 + under))


def _run_together(number: str, *, text: str) -> Decimal:
    inches = run_together_in(number)
    if inches is None and number.strip("0."):
        example = f"30 for {feet_and_inches(36)}"
        raise BadLength(f"“{text}” is not a side in feet and inches run together; write it like {example} or 210")
    return _rounded(Decimal(inches or 0))


def _part_of_an_inch(part: str, *, text: str) -> Decimal:
    over, under = map(int, part.split("/"))
    if under not in _DENOMINATORS or not 0 < over < under:
        raise BadLength(f"“{text}” has the fraction {part}, which is on no tape; use halves to sixty-fourths")
    return Decimal(over) / under


def _in_inches(number: Decimal, unit: str) -> Decimal:
    over, under = _IN_INCHES[unit]
    return _rounded(number * over / under)


def _rounded(inches: Decimal) -> Decimal:
    return inches.quantize(PLACES, ROUND_HALF_UP)


def _unit_of(written: str | None) -> str | None:
    if not written:
        return None
    if written in _IN_INCHES:
        return written
    return {"mil": "mm", "cen": "cm", "met": "m"}.get(written[:3], "ft")
