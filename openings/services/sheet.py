"""What the floor above tells of pull sheets: which openings they list, and that their material is on a truck."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime

from django.db.models import F
from django.db.models.functions import Greatest

from jobs import transaction
from openings.models import OnSheet


@transaction.atomic
def tell_sheet(
    *,
    crew_day_id: int,
    sheet: str,
    opening_ids: Collection[int],
    is_on_truck: bool,
    is_to_bring_back: bool,
    at: datetime,
) -> None:
    """Keep which openings the issued sheet of a crew day lists, and whether something of it is on the truck.

    The caller has locked the crew day. Told twice, the same is kept as told once, with the moments of the first time.
    Five queries, with the savepoint.

    Args:
        sheet: its number.
        opening_ids: all that the newest revision lists.
        is_to_bring_back: more is on the truck than the sheet needs. Openings that it lists no longer stay bound
            meanwhile, if something was loaded for them.
        at: since when, where it was not so before.
    """
    rows = OnSheet.objects.filter(crew_day=crew_day_id)
    gone = rows.exclude(opening__in=opening_ids)
    (gone.filter(on_truck_since__isnull=True) if is_on_truck and is_to_bring_back else gone).delete()
    listed = [
        OnSheet(opening_id=opening_id, crew_day_id=crew_day_id, sheet=sheet, issued_at=at)
        for opening_id in sorted(opening_ids)
    ]
    OnSheet.objects.bulk_create(listed, ignore_conflicts=True)
    if is_on_truck:
        rows.filter(on_truck_since__isnull=True).update(on_truck_since=Greatest(F("issued_at"), at))
    else:
        rows.filter(on_truck_since__isnull=False).update(on_truck_since=None)
