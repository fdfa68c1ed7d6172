"""Dates and times as people on a US site say them."""

from __future__ import annotations

from datetime import date, datetime, time


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
