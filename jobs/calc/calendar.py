"""Working days and cut-off times. Dates are local to the job; instants are aware."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Set
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

FURTHEST_BEHIND_UTC = timedelta(hours=12)
"""The zone in which a day ends last: Etc/GMT+12 of the IANA time zone database."""

FURTHEST_AHEAD_OF_UTC = timedelta(hours=14)
"""The zone in which a day begins first: Etc/GMT-14 of the IANA time zone database."""

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
    """Return the last day before `on` that is worked; the calendar day before where none is found.

    The calendar ends at its first day: nothing lies before that one but itself.
    """
    return _seek(on, -1, works)


def next_working_day(on: date, *, works: Callable[[date], bool]) -> date:
    """Return the first day after `on` that is worked; the calendar day after where none is found, as above."""
    return _seek(on, 1, works)


def days_after(on: date, *, at_most: int) -> Iterator[date]:
    """Yield the days after `on` in order, as far as the calendar goes."""
    for number in range(1, min(at_most, (date.max - on).days) + 1):
        yield on + timedelta(days=number)


def days_before(on: date, *, at_most: int) -> Iterator[date]:
    """Yield the days before `on`, the last one first, as far as the calendar goes."""
    for number in range(1, min(at_most, (on - date.min).days) + 1):
        yield on - timedelta(days=number)


def _seek(on: date, step: int, works: Callable[[date], bool]) -> date:
    way = days_after if step > 0 else days_before
    days = list(way(on, at_most=LONGEST_SHUTDOWN.days))
    return next((day for day in days if works(day)), days[0] if days else on)


def cutoff_instant(on: date, *, cutoff: time, time_zone: str) -> datetime:
    """Return the instant at which the clock in `time_zone` shows `cutoff` on `on`.

    A time that the spring change skips is read with the offset before the change, so it lands an hour
    later; one that the autumn change repeats is the first of the two (PEP 495, fold=0).
    """
    return datetime.combine(on, cutoff, tzinfo=ZoneInfo(time_zone))


def local_date(at: datetime, *, time_zone: str) -> date:
    """Return the date that the clock in `time_zone` shows at an instant; its own date at the ends of the calendar."""
    margin = timedelta(days=1)
    if not date.min + margin <= at.date() <= date.max - margin:
        return at.date()
    return at.astimezone(ZoneInfo(time_zone)).date()


def earliest_today(now: datetime) -> date:
    """Return today's date where it is earliest: a day before it is past everywhere."""
    return (now - FURTHEST_BEHIND_UTC).date()


def latest_today(now: datetime) -> date:
    """Return today's date where it is latest: a day after it has come nowhere."""
    return (now + FURTHEST_AHEAD_OF_UTC).date()
