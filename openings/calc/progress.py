"""When a job will end, from what is planned and what is done."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

LOOK_BACK_DAYS = 14
"""Openings done in these last days give the pace (our choice: two weeks even out weather and deliveries)."""

MOST_DAYS = 3650
"""A pace that needs longer than this is none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ending:
    """The day on which the last opening should be done, or None where nothing says; `reason` tells either way."""

    on: date | None
    reason: str


def ending_of(
    *,
    left: int,
    done_by_day: Mapping[date, int],
    today: date,
    assigned_by_day: Mapping[date, int],
    works: Callable[[date], bool],
) -> Ending:
    """Return when the openings that are left will be done.

    The pace is what was done in the last 14 days over the working days among them. With nothing done lately,
    what is assigned stands in: its last day, and for openings that no day has yet, its pace from there on.

    Args:
        left: openings neither done nor void.
        done_by_day: openings done by local date.
        assigned_by_day: openings assigned and not done, by date.
        works: whether a date is a working day.
    """
    if left == 0:
        return Ending(on=max(done_by_day, default=None), reason="every opening is done")
    first = today - timedelta(days=LOOK_BACK_DAYS - 1)
    lately = {day: count for day, count in done_by_day.items() if first <= day <= today}
    if not lately:
        return _as_assigned(left, assigned_by_day, today, works)
    begun, done = min(lately), sum(lately.values())
    days = max(1, sum(works(begun + timedelta(days=n)) for n in range((today - begun).days + 1)))
    needed = -(-left * days // done)
    on = _after(today, needed, works)
    pace = f"{done} openings in {days} working day{'s' * (days != 1)} since {begun}"
    if on is None:
        return Ending(on=None, reason=f"{left} openings left at a pace of {pace}: no end in sight")
    return Ending(on=on, reason=f"{left} openings left at a pace of {pace}: {needed} more working days")


def _as_assigned(left: int, assigned_by_day: Mapping[date, int], today: date, works: Callable[[date], bool]) -> Ending:
    """Return the ending that the assignments give: each day takes as many openings as they do on average."""
    assigned, days = sum(assigned_by_day.values()), len(assigned_by_day)
    none_done = f"{left} openings left, none done in {LOOK_BACK_DAYS} days"
    if not assigned:
        return Ending(on=None, reason=f"{none_done} and none assigned")
    last = max(*assigned_by_day, today)
    if assigned >= left:
        return Ending(on=last, reason=f"{none_done}; all are assigned, the last on {last}")
    needed = -(-(left - assigned) * days // assigned)
    pace = f"{assigned} are assigned on {days} day{'s' * (days != 1)} to {last}"
    on = _after(last, needed, works)
    if on is None:
        return Ending(on=None, reason=f"{none_done}; {pace}: no end in sight")
    return Ending(on=on, reason=f"{none_done}; {pace}, and at that pace {needed} more working days follow")


def _after(today: date, needed: int, works: Callable[[date], bool]) -> date | None:
    day = today
    for _ in range(MOST_DAYS):
        day += timedelta(days=1)
        needed -= works(day)
        if needed <= 0:
            return day
    return None
