"""Callbacks: what was reported of a finished opening, and what became of it."""

from __future__ import annotations

from datetime import date
from typing import Unpack

from jobs import transaction
from jobs.calc.horizon import PAST
from jobs.dates import require_within
from jobs.queries import today_at
from jobs.services import add, change
from openings.models import Callback, Opening
from openings.models.values import CallbackAnswers, CallbackValues


@transaction.atomic
def report_callback(*, opening: Opening, reported_on: date, **values: Unpack[CallbackAnswers]) -> Callback:
    """Keep what was reported of an opening.

    Raises:
        DayOutOfReach: a date has not come where the job is, or lies too far back.
        ValidationError: a value or a constraint is not kept.
    """
    _require_past(opening, reported_on=reported_on, resolved_on=values.get("resolved_on"))
    return add(Callback(opening=opening, reported_on=reported_on, **values))


@transaction.atomic
def revise_callback(callback: Callback, **values: Unpack[CallbackValues]) -> Callback:
    """Change the named columns of a callback.

    Raises:
        DayOutOfReach, ValidationError: as `report_callback`.
    """
    _require_past(callback.opening, reported_on=values.get("reported_on"), resolved_on=values.get("resolved_on"))
    return change(callback, **values)


def _require_past(opening: Opening, **days: date | None) -> None:
    today = today_at(opening.job)
    for field, day in days.items():
        if day:
            require_within(PAST, day, today=today, field=field)
