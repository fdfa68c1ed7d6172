"""Taking a revised window schedule: what is on a truck stays, and issued pull sheets follow."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from jobs import transaction
from materials.models import PullSheet
from materials.queries import drawn_from_stock
from materials.services.request import request_revision
from openings import services as openings
from openings.models import Assignment


def preview_schedule(**what: Any) -> openings.SchedulePlan:
    """Return what `take_schedule` would do, as `openings.services.preview_schedule`."""
    return openings.preview_schedule(**what, drawn=drawn_from_stock)


@transaction.atomic
def take_schedule(**what: Any) -> tuple[openings.Taken, list[int]]:
    """Take a schedule as `openings.services.take_schedule`, and ask for a new revision of each pull sheet it touches.

    Returns:
        What was taken, and the ids of the sheets that a worker should write now.
    """
    taken = openings.take_schedule(**what, drawn=drawn_from_stock)
    return taken, _revise_sheets(taken.touched)


def _revise_sheets(opening_ids: Collection[int]) -> list[int]:
    if not opening_ids:
        return []
    live = Assignment.objects.filter(opening__in=opening_ids, withdrawn_at__isnull=True)
    issued = PullSheet.objects.filter(state=PullSheet.State.WRITTEN, crew_day__in=live.values("crew_day"))
    pending = []
    for crew_day_id in sorted(set(issued.order_by().values_list("crew_day", flat=True))):
        sheet = request_revision(crew_day_id)
        if sheet.state == PullSheet.State.PENDING:
            pending.append(sheet.pk)
    return pending
