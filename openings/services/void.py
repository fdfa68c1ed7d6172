"""Taking an opening out of the work without deleting it, and taking that back."""

from __future__ import annotations

from django.utils import timezone

from jobs import transaction
from jobs.about import about
from jobs.errors import Conflict
from jobs.models import Person
from jobs.services import change
from openings.calc.binding import Verb
from openings.models import Opening
from openings.queries.binding import require_free
from openings.services.follow import follow_rules
from openings.services.leak import require_shedding
from openings.services.lock import lock_detail, lock_opening


@transaction.atomic
def voiding(*, opening_id: int) -> Opening:
    """Return the opening that `void_opening` would make void, or raise what it would raise."""
    opening = lock_opening(opening_id)
    require_free(opening, Verb.VOID, kept="stays in the job")
    return opening


@transaction.atomic
def void_opening(*, opening_id: int, by: Person | None = None, why: str = "") -> Opening:
    """Mark an opening void. Safe to repeat. No later schedule restores what a person made void.

    Args:
        by: who does it; None where nobody does, and then there is no reason either.

    Raises:
        NotFound: there is no such opening.
        OpeningBound: it is assigned, its material is on a truck, or its install was started.
        ValidationError: the reason is too long.
    """
    opening = voiding(opening_id=opening_id)
    if opening.is_void:
        return opening
    said = {"voided_by": by, "voided_at": timezone.now(), "void_why": why.strip()} if by else {}
    return change(opening, is_void=True, is_finished=True, **said)


@transaction.atomic
def restore_opening(*, opening_id: int) -> Opening:
    """Take back that an opening is void; holds that it had are open as before.

    Raises:
        NotFound: there is no such opening.
        Conflict: it is not void.
        DetailLeaks: its detail lets water in meanwhile, and nobody has accepted that.
        ValidationError: its detail does not fit it any more.
    """
    opening = lock_opening(opening_id)
    if not opening.is_void:
        raise Conflict(f"{opening} is not void", about=[about(opening)])
    require_free(opening, Verb.RESTORE, kept="stays void")
    opening.detail = lock_detail(opening.detail_id)
    require_shedding(opening.detail)
    change(opening, is_void=False, is_finished=False, voided_by=None, voided_at=None, void_why="")
    follow_rules([opening.pk])
    return opening
