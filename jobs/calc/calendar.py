"""Working days and cut-off times. Dates are local to the job; instants are aware."""

from __future__ import annotations

from collections.abc import Callable, Set
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

LONGEST_SHUTDOWN = timedelta(days=60)
"""How far a search for a working day goes before it gives up (our choice: longer than any shutdown)."""


def works_on(on: date, *, weekdays: Set[int], off: Set[date], extra: Set[date] = frozenset()) -> bool:
    """Return whether `on` is worked: an extra day, or one of `weekdays` that is not off.

    Args:
        weekdays: ISO 8601 weekday numbers, 1 is Monday.
        off: single days off; they win over everything else.
        extra: single days worked outside `weekdays`.
    """
    return on not in off and (on in extra or on.isoweekday() in weekdays)


def previous_working_day(on: date, *, works: Callable[[date], bool]) -> date:
    """Return the last day before `on` that is worked; the calendar day before where none is found."""
    return _seek(on, timedelta(days=-1), works)


def next_working_day(on: date, *, works: Callable[[date], bool]) -> date:
    """Return the first day after `on` that is worked; the calendar day after where none is found."""
    return _seek(on, timedelta(days=1), works)


def _seek(on: date, step: timedelta, works: Callable[[date], bool]) -> date:
    day = on + step
    while abs(day - on) <= LONGEST_SHUTDOWN:
        if works(day):
            return day
        day += step
    return on + step


def cutoff_instant(on: date, *, cutoff: time, time_zone: str) -> datetime:
    """Return the instant at which the clock in `time_zone` shows `cutoff` on `on`.

    A time that the spring change skips is read with the offset before the change, so it lands an hour
    later; one that the autumn change repeats is the first of the two (PEP 495, fold=0).
    """
    return datetime.combine(on, cutoff, tzinfo=ZoneInfo(time_zone))
