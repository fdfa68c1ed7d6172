"""When a row was last changed: a column that the database keeps, whoever writes."""

from __future__ import annotations

from datetime import UTC, datetime

from django.db import models
from django.db.models.functions import Now

COLUMN = "updated_at"


def changed_at() -> models.DateTimeField[datetime, datetime]:
    """Return the column of a model whose table has the trigger `says_when_it_changed`.

    The trigger sets it by the clock of the database, row by row, so an UPDATE in bulk, COPY and SQL by hand keep it
    too. It never goes back, and a change that changes nothing leaves it.
    """
    return models.DateTimeField(
        db_default=Now(), db_index=True, editable=False, help_text="When it was last changed, as the database saw it."
    )


def forget_when_changed(row: models.Model) -> None:
    """Let a row that was just saved read anew when it was changed, if anybody asks: the database has set it."""
    row.__dict__.pop(COLUMN, None)


def written(at: datetime) -> str:
    """Return an instant as answers write it.

    >>> written(datetime(2026, 11, 30, 14, 0, 0, 250, tzinfo=UTC))
    '2026-11-30T14:00:00.000250Z'
    """
    return at.astimezone(UTC).isoformat().replace("+00:00", "Z")
