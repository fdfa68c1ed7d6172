"""Dates and times as people on a US site say them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, time
from typing import Final

_WEEKDAYS: Final = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def day(on: date, today: date | None = None) -> str:
    """Return a date in words, with its year where `today` is given and lies in another one.

    >>> day(date(2026, 11, 30))
    'Mon, Nov 30'
    >>> day(date(2026, 11, 30), date(2026, 1, 2))
    'Mon, Nov 30'
    >>> day(date(2026, 11, 30), date(2027, 1, 2))
    'Mon, Nov 30, 2026'
    """
    year = f", {on.year}" if today and on.year != today.year else ""
    return f"{on:%a, %b} {on.day}{year}"


def time_of(at: datetime | time) -> str:
    """Return a time of the 12-hour clock; an instant must be in the zone of those who read it.

    >>> time_of(datetime(2026, 11, 30, 14, 0))
    '2:00 PM'
    >>> time_of(time(0, 5)), time_of(time(12, 30))
    ('12:05 AM', '12:30 PM')
    """
    return f"{at.hour % 12 or 12}:{at:%M} {'AM' if at.hour < 12 else 'PM'}"


def moment(at: datetime) -> str:
    """Return an instant in words; it must be in the zone of those who read it.

    >>> moment(datetime(2026, 11, 30, 14, 0))
    'Mon, Nov 30 at 2:00 PM'
    """
    return f"{day(at.date())} at {time_of(at)}"


def weekdays(numbers: Iterable[int]) -> str:
    """Return days of the week in words, a run of three and more as one.

    >>> weekdays([1, 2, 3, 4, 5]), weekdays([2, 4]), weekdays([1, 2, 3, 6])
    ('Mon to Fri', 'Tue and Thu', 'Mon to Wed and Sat')

    Args:
        numbers: ISO 8601 weekday numbers in order, 1 is Monday.
    """
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    named = [[_WEEKDAYS[number - 1] for number in run] for run in runs]
    said = [part for run in named for part in ([f"{run[0]} to {run[-1]}"] if len(run) > 2 else run)]
    return " and ".join([", ".join(said[:-1]), said[-1]] if len(said) > 1 else said)
