"""A job's progress as a line: openings done by day against all there are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import NamedTuple

ALL = Decimal(100)


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

    Args:
        done_by_day: openings done by local date.
        total: openings that count, >= what is done.
    """
    first = min([today, *done_by_day]) - timedelta(days=1)
    last = max([today, *done_by_day, *([ending_on] if ending_on else [])])

    def at(on: date, done: int) -> At:
        return At(ALL * (on - first).days / (last - first).days, ALL - ALL * done / max(total, 1))

    count, line = 0, [at(first, 0)]
    for on in sorted(done_by_day):
        line.append(at(on, count))
        count += done_by_day[on]
        line.append(at(on, count))
    now = at(max([today, *done_by_day]), count)
    ahead = (now, at(ending_on, total)) if ending_on and ending_on > today and count < total else ()
    return Curve(first=first, last=last, done=(*line, now), ahead=ahead, today=now)
