"""A job's progress as a line: openings done by day against all there are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import NamedTuple

from jobs.calc.horizon import PLAN

ALL = Decimal(100)
ONE_DAY = timedelta(days=1)


class At(NamedTuple):
    """A place on the picture, in percent of its width and of its height from the top."""

    x_pct: Decimal
    y_pct: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """What was done, as steps up to today, and the straight way from there to the ending, where one is known."""

    first: date
    last: date
    done: tuple[At, ...]
    ahead: tuple[At, ...]
    today: At


def curve_of(*, done_by_day: Mapping[date, int], total: int, today: date, ending_on: date | None) -> Curve:
    """Return the curve of one job, from the day before its first finished opening to today or its ending.

    What was done beyond the horizon is drawn at its end, so that a date that cannot be leaves the rest to be read.

    Args:
        done_by_day: openings done by local date.
        total: openings that count, >= what is done.
    """
    is_ahead = ending_on is not None and ending_on > today and sum(done_by_day.values()) < total
    first = max(min([today, *done_by_day]), PLAN.first(today), date.min + ONE_DAY) - ONE_DAY
    last = max(min(max([today, *done_by_day]), PLAN.last(today)), first + ONE_DAY)
    if ending_on and is_ahead:
        last = max(last, ending_on)

    def at(on: date, done: int) -> At:
        shown = min(max(on, first), last)
        return At(ALL * (shown - first).days / (last - first).days, ALL - ALL * done / max(total, 1))

    count, line = 0, [at(first, 0)]
    for on in sorted(done_by_day):
        line.append(at(on, count))
        count += done_by_day[on]
        line.append(at(on, count))
    now = at(max([today, *done_by_day]), count)
    ahead = (now, at(ending_on, total)) if ending_on and is_ahead else ()
    return Curve(first=first, last=last, done=(*line, now), ahead=ahead, today=now)
