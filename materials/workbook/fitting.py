"""How many lines a text takes, guessed from the widths that letters have in common sans-serif fonts."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final
from unicodedata import east_asian_width

_BLANK: Final = 0.5
_WIDEST: Final = 1.8
_NARROW: Final = frozenset("fijlrtI .,:;!|/\\'`()[]-")


class _Digits(dict[str, float]):
    """A character → its width as a share of a digit's."""

    def __missing__(self, character: str) -> float:
        self[character] = _width(character)
        return self[character]


def _width(character: str) -> float:
    if character in _NARROW:
        return 0.6
    if character in "MWmw@%—" or east_asian_width(character) in "WF":
        return _WIDEST
    return 1.3 if character.isupper() else 1.05


_DIGITS: Final = _Digits()


def line_count(text: str, *, digits: float) -> int:
    """Return how many lines the text takes where so many digits fit side by side.

    >>> line_count("sill strip, jamb strip, head strip", digits=12)
    3
    """
    if len(text) * _WIDEST <= digits and "\n" not in text:
        return 1
    return sum(_wrapped_count(line, digits) for line in text.split("\n"))


def listed(items: Iterable[str], *, digits: float) -> str:
    """Return the items as a list, whole items on each line, of so many digits side by side.

    >>> listed(["36 in W1", "54 in W2", "30 in W3"], digits=20)
    '36 in W1; 54 in W2;\\n30 in W3'
    """
    text, used = "", 0.0
    for item in items:
        width = _DIGITS[";"] + sum(map(_DIGITS.__getitem__, item))
        is_next_line = used + _BLANK + width > digits
        if text:
            text += ";\n" if is_next_line else "; "
        text, used = text + item, width if is_next_line else used + _BLANK + width
    return text


def _wrapped_count(text: str, digits: float) -> int:
    count, used = 1, 0.0
    for word in text.split(" "):
        width = sum(map(_DIGITS.__getitem__, word))
        if used and used + _BLANK + width > digits:
            count, used = count + 1, 0.0
        used += width + (_BLANK if used else 0)
        while used > digits:
            count, used = count + 1, used - digits
    return count
