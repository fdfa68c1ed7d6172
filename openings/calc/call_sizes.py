"""Feet and inches run together: one side such as 30, a whole size such as 3046."""

from __future__ import annotations

import re
from functools import lru_cache

_SIDE = re.compile(r"([1-9])(\d|1[01])")
_WHOLE = tuple(
    re.compile(pattern)
    for pattern in (
        r"([1-9])(\d)([1-9])(\d)",
        r"([1-9])(1[01])([1-9])(\d)",
        r"([1-9])(\d)([1-9])(1[01])",
        r"([1-9])(1[01])([1-9])(1[01])",
        r"([1-9])()([1-9])(1[01])",
    )
)
"""A width of even feet may lack its zero before a height whose inches take two digits."""


@lru_cache(maxsize=1024)
def run_together_in(digits: str) -> int | None:
    """Return the inches of one side, or None if the digits are no single digit of feet and then inches.

    >>> run_together_in("30"), run_together_in("210"), run_together_in("45.5")
    (36, 34, None)
    """
    found = _SIDE.fullmatch(digits)
    return int(found[1]) * 12 + int(found[2]) if found else None


def call_sizes_in(digits: str) -> list[tuple[int, int]]:
    """Return every width and height in inches that the digits of a call size can mean.

    >>> call_sizes_in("3046"), call_sizes_in("2210")
    ([(36, 54)], [(26, 12), (24, 34)])

    Source:
        Feet and inches of the width, then of the height: greathousedesign.com, engineerfix.com. That inches of 10
        and 11 make five or six digits: from memory.
    """
    found = (pattern.fullmatch(digits) for pattern in _WHOLE)
    return [
        (int(one[1]) * 12 + int(one[2] or 0), int(one[3]) * 12 + int(one[4]))
        for one in found
        if one
    ]  # fmt: skip


def feet_and_inches(inches: int) -> str:
    """Return whole inches as schedules write them.

    >>> feet_and_inches(34)
    '2\\'-10"'
    """
    return f"{inches // 12}'-{inches % 12}\""
