"""Placing and releasing holds."""

from __future__ import annotations

from collections.abc import Mapping
from zoneinfo import ZoneInfo

from django.utils import timezone

from jobs import transaction
from jobs.about import about
from jobs.calc import say
from jobs.errors import Conflict, NotFound
from jobs.models import Person
from jobs.services import add, change
from openings.models import Hold
from openings.services.lock import lock_opening


@transaction.atomic
def place_hold(*, opening_id: int, kind: str, reason: str, by: Person | None) -> Hold:
    """Place a hold. `by` is None where a computation found the opening not ready.

    Raises:
        NotFound: there is no such opening.
        Conflict: the opening is complete.
        ValidationError: no reason, or an open hold of this kind stands already.
    """
    opening = lock_opening(opening_id)
    record = getattr(opening, "install_record", None)
    if record and record.done_at:
        sentence = f"{opening} is complete; report what is wrong with it as a callback"
        raise Conflict(sentence, about=[about(opening), about(record)])
    return add(Hold(opening=opening, kind=kind, reason=reason, placed_by=by))


def hold_all(reasons: Mapping[int, str]) -> None:
    """Place a hold on every opening of `reasons`, which their caller has locked, because the schedule changed.

    One that has such a hold keeps it: somebody has to look all the same. One query.
    """
    holds = [
        Hold(opening_id=opening_id, kind=Hold.Kind.SCHEDULE_CHANGED, reason=reason)
        for opening_id, reason in reasons.items()
    ]
    Hold.objects.bulk_create(holds, ignore_conflicts=True)


@transaction.atomic
def release_hold(*, hold_id: int, by: Person, note: str = "") -> Hold:
    """Release a hold and keep who did it.

    Raises:
        NotFound: there is no such hold.
        Conflict: it is released already.
    """
    hold = Hold.objects.select_for_update(of=("self",)).select_related("opening__job").filter(pk=hold_id).first()
    if hold is None:
        raise NotFound(f"there is no hold {hold_id}")
    if hold.released_at:
        at = hold.released_at.astimezone(ZoneInfo(hold.opening.job.time_zone))
        raise Conflict(f"this hold was already released {say.moment(at)}", about=[about(hold)])
    return change(hold, released_by=by, released_at=timezone.now(), release_note=note)
