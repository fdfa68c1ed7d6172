"""What people are told of outside of the pages, and when."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, time, timedelta
from enum import StrEnum
from typing import Final
from zoneinfo import ZoneInfo

from jobs.calc.calendar import cutoff_instant, local_date


class EventKind(StrEnum):
    """What happened."""

    DAY_CHANGED = "day_changed"
    SHEET_REVISED = "sheet_revised"
    STRANDED = "stranded"
    DELIVERY_LATE = "delivery_late"
    COVER_BY_NEAR = "cover_by_near"
    NO_SHEET = "no_sheet"


SAID: Final[Mapping[EventKind, str]] = {
    EventKind.DAY_CHANGED: "A crew’s day changed",
    EventKind.SHEET_REVISED: "A pull sheet was revised after loading",
    EventKind.STRANDED: "Openings are stranded",
    EventKind.DELIVERY_LATE: "A delivery is late",
    EventKind.COVER_BY_NEAR: "What must be covered soon",
    EventKind.NO_SHEET: "No pull sheet at the cut-off",
}
"""Each kind as people read it."""


class How(StrEnum):
    """How somebody is told."""

    AT_ONCE = "at once"
    DAILY = "once a day"
    NEVER = "never"


_AT_ONCE, _DAILY, _NEVER = How.AT_ONCE, How.DAILY, How.NEVER
_BY_ROLE: Final[Mapping[EventKind, Mapping[str, How]]] = {
    EventKind.DAY_CHANGED: {"crew_lead": _AT_ONCE},
    EventKind.SHEET_REVISED: {"crew_lead": _AT_ONCE, "warehouse": _AT_ONCE, "scheduler": _DAILY},
    EventKind.STRANDED: {"scheduler": _AT_ONCE, "owner": _DAILY},
    EventKind.DELIVERY_LATE: {"scheduler": _AT_ONCE, "warehouse": _AT_ONCE, "owner": _DAILY},
    EventKind.COVER_BY_NEAR: {"scheduler": _AT_ONCE, "crew_lead": _AT_ONCE, "owner": _DAILY},
    EventKind.NO_SHEET: {"scheduler": _AT_ONCE, "warehouse": _AT_ONCE, "crew_lead": _AT_ONCE, "owner": _DAILY},
}

DAILY_AT: Final = time(6, 0)
"""When the mail of a day goes out (our choice: before the trucks leave)."""

SOON: Final = timedelta(days=2)
"""A change of a day that is further ahead than this can wait for the mail of the day (our choice)."""


def starting_choice(kind: EventKind, role: str) -> How:
    """Return how somebody of a role is told who has chosen nothing.

    >>> starting_choice(EventKind.NO_SHEET, "warehouse"), starting_choice(EventKind.DAY_CHANGED, "owner")
    (<How.AT_ONCE: 'at once'>, <How.NEVER: 'never'>)
    """
    return _BY_ROLE[kind].get(role, How.NEVER)


def mailed_at(how: How, *, told_at: datetime, on: date | None, time_zone: str) -> datetime:
    """Return when what happened is due to be mailed.

    Args:
        how: at once or once a day.
        on: the crew day that it is about, where it is about one. One that is not soon waits for the mail of the day.
        time_zone: where the mail of the day goes out at `DAILY_AT`.
    """
    today = local_date(told_at, time_zone=time_zone)
    if how is How.AT_ONCE and (on is None or on <= today + SOON):
        return told_at
    next_one = cutoff_instant(today, cutoff=DAILY_AT, time_zone=time_zone)
    if next_one <= told_at:
        next_one = cutoff_instant(today + timedelta(days=1), cutoff=DAILY_AT, time_zone=time_zone)
    return next_one.astimezone(ZoneInfo("UTC"))
