"""Adding an opening by hand, and changing what one is."""

from __future__ import annotations

from typing import Any

from django.db import transaction

from jobs.errors import Conflict
from jobs.services import add, change
from openings.models import InstallationDetail, InstallRecord, Opening
from openings.services.lock import lock_detail, lock_opening

STAYS_WITH_THE_RECORD = (
    "mark", "ro_width_in", "ro_height_in", "unit_width_in", "unit_height_in", "operation", "detail",
)  # fmt: skip
"""What an install record speaks of: changed later, it would speak of another opening."""


@transaction.atomic
def add_opening(*, detail: InstallationDetail, **values: Any) -> Opening:
    """Add one opening, with a detail that it can take.

    Raises:
        ValidationError: a value or a constraint is not kept, or the detail does not fit the opening.
    """
    return add(Opening, detail=lock_detail(detail.pk), **values)


@transaction.atomic
def revise_opening(*, opening_id: int, **values: Any) -> Opening:
    """Change the named columns of an opening.

    Raises:
        NotFound: there is no such opening.
        Conflict: its install was started, and the change would touch what is recorded.
        ValidationError: a value or a constraint is not kept, or the detail does not fit the opening.
    """
    opening = lock_opening(opening_id)
    changed = [name for name in STAYS_WITH_THE_RECORD if name in values and values[name] != getattr(opening, name)]
    if changed and InstallRecord.objects.filter(opening=opening).exists():
        raise Conflict(f"{opening} has an install record; {', '.join(changed)} stays as it is")
    detail = lock_detail(values.get("detail", opening.detail).pk)
    return change(opening, **values | {"detail": detail})
