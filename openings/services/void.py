"""Taking an opening out of the work without deleting it."""

from __future__ import annotations

from jobs import transaction
from jobs.services import change
from openings.calc.binding import Verb
from openings.models import Opening
from openings.queries.binding import require_free
from openings.services.lock import lock_opening


@transaction.atomic
def void_opening(*, opening_id: int) -> Opening:
    """Mark an opening void.

    Raises:
        NotFound: there is no such opening.
        OpeningBound: it is assigned, its material is on a truck, or its install was started.
    """
    opening = lock_opening(opening_id)
    require_free(opening, Verb.VOID, kept="stays in the job")
    return change(opening, is_void=True, is_finished=True)
