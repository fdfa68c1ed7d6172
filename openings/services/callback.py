"""Callbacks: what was reported of a finished opening, and what became of it."""

from __future__ import annotations

from datetime import date
from typing import Any

from jobs import transaction
from jobs.calc.horizon import PAST
from jobs.dates import require_within
from jobs.queries import today_at
from jobs.services import add, change
from openings.models import Callback, Opening


@transaction.atomic
def report_callback(*, opening: Opening, reported_on: date, **values: Any) -> Callback:
    """Keep what was reported of an opening.

    Raises:
        DayOutOfReach: a date has not come where the job is, or lies too far back.
        ValidationError: a value or a constraint is not kept.
    """
    _require_past(opening, {"reported_on": reported_on, **values})
    return add(Callback(opening=opening, reported_on=reported_on, **values))


@transaction.atomic
def revise_callback(callback: Callback, **values: Any) -> Callback:
    """Change the named columns of a callback.

    Raises:
        DayOutOfReach, ValidationError: as `report_callback`.
    """
    _require_past(callback.opening, values)
    return change(callback, **values)


def _require_past(opening: Opening, values: dict[str, Any]) -> None:
    today = today_at(opening.job)
    for field in ("reported_on", "resolved_on"):
        if values.get(field):
            require_within(PAST, values[field], today=today, field=field)
