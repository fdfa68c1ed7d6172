"""Taking an opening out of the work without deleting it."""

from __future__ import annotations

from jobs import transaction
from jobs.errors import Conflict
from jobs.services import change
from openings.models import InstallRecord, Opening
from openings.services.lock import lock_opening


@transaction.atomic
def void_opening(*, opening_id: int) -> Opening:
    """Mark an opening void.

    Raises:
        NotFound: there is no such opening.
        Conflict: it is assigned or its install was started.
    """
    opening = lock_opening(opening_id)
    if InstallRecord.objects.filter(opening=opening).exists():
        raise Conflict(f"{opening} has an install record; it stays")
    if opening.assignments.filter(withdrawn_at__isnull=True).exists():
        raise Conflict(f"{opening} is assigned; withdraw it from its crew day first")
    return change(opening, is_void=True)
