"""Changing what an opening is."""

from __future__ import annotations

from typing import Any

from django.db import transaction

from jobs.errors import Conflict
from jobs.services import change
from openings.models import InstallRecord, Opening
from openings.services.lock import lock_opening

STAYS_WITH_THE_RECORD = (
    "mark", "ro_width_in", "ro_height_in", "unit_width_in", "unit_height_in", "operation", "detail",
)  # fmt: skip
"""What an install record speaks of: changed later, it would speak of another opening."""


@transaction.atomic
def revise_opening(*, opening_id: int, **values: Any) -> Opening:
    """Change the named columns of an opening.

    Raises:
        NotFound: there is no such opening.
        Conflict: its install was started, and the change would touch what is recorded.
        ValidationError: a value or a constraint is not kept.
    """
    opening = lock_opening(opening_id)
    changed = [name for name in STAYS_WITH_THE_RECORD if name in values and values[name] != getattr(opening, name)]
    if changed and InstallRecord.objects.filter(opening=opening).exists():
        raise Conflict(f"{opening} has an install record; {', '.join(changed)} stays as it is")
    return change(opening, **values)
