"""How a list of jobs or crews says times and weekdays, as people write them in spreadsheets."""

from __future__ import annotations

import re
from enum import StrEnum
from typing import Final


class FirmList(StrEnum):
    """What a firm that starts lists in a spreadsheet."""

    JOBS = "jobs"
    CREWS = "crews"

    @property
    def one(self) -> str:
        return self.removesuffix("s")


_CLOCK: Final = re.compile(r"(1[0-2]|0?[1-9])(?::([0-5][0-9]))?\s*([ap])\.?m\.?", re.ASCII | re.IGNORECASE)
_WEEKDAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_DAY: Final = re.compile(r"(mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?", re.ASCII | re.IGNORECASE)
_RUN: Final = re.compile(r"\s*(?:to|through|thru|[-\N{EN DASH}])\s*", re.IGNORECASE)
_BETWEEN: Final = re.compile(r"\s*(?:[,;&/+]|\band\b|\s)\s*", re.IGNORECASE)
_THOUSANDS: Final = re.compile(r"\d{1,3}(?:,\d{3})+(?:\.\d+)?", re.ASCII)


def read_clock(text: str) -> str:
    """Return a time of the 12-hour clock as one of the 24-hour clock; any other text as it is.

    >>> read_clock("2:00 PM"), read_clock("12 a.m."), read_clock("14:00"), read_clock("noon")
    ('14:00', '00:00', '14:00', 'noon')
    """
    found = _CLOCK.fullmatch(text.strip())
    if not found:
        return text
    hour, minute, half = found.groups()
    return f"{int(hour) % 12 + 12 * (half.lower() == 'p'):02}:{minute or '00'}"


def read_weekdays(text: str) -> list[str]:
    """Return the ISO 8601 digits of weekdays as people write them; the text itself where it names none.

    >>> read_weekdays("Mon to Fri"), read_weekdays("Tue, Thursday and Sat"), read_weekdays("12345")
    (['1', '2', '3', '4', '5'], ['2', '4', '6'], ['1', '2', '3', '4', '5'])
    >>> read_weekdays("Mon-Thu, Sat"), read_weekdays("most days")
    (['1', '2', '3', '4', '6'], ['most days'])
    """
    if re.fullmatch(r"[1-7]{1,7}", text, re.ASCII):
        return sorted(set(text))
    digits: set[int] = set()
    for part in _BETWEEN.split(_RUN.sub("-", text.strip())):
        ends = [_DAY.fullmatch(one) for one in part.split("-")]
        numbers = [_WEEKDAYS.index(end[1].lower()) + 1 for end in ends if end]
        if len(numbers) != len(ends) or len(numbers) > 2 or numbers[0] > numbers[-1]:
            return [text]
        digits |= set(range(numbers[0], numbers[-1] + 1))
    return [str(digit) for digit in sorted(digits)]


def read_figure(text: str) -> str:
    """Return a figure without the commas between its thousands; any other text as it is.

    >>> read_figure("3,500"), read_figure("3,5")
    ('3500', '3,5')
    """
    return text.replace(",", "") if _THOUSANDS.fullmatch(text.strip()) else text
