"""Telling the floor below which openings an issued sheet lists, and that their material is on a truck."""

from __future__ import annotations

from django.utils import timezone

from materials.models import PullSheet
from materials.queries import issued_on
from openings import services as openings


def tell_openings(crew_day_id: int) -> None:
    """Tell what the newest written sheet of a locked crew day binds, as it is now. Seven queries.

    Whoever writes a sheet, loads from it or settles its rolls says so at the end; told twice, it is as told once.
    """
    issued = issued_on(crew_day_id)
    if issued:
        openings.tell_sheet(
            crew_day_id=crew_day_id,
            sheet=issued.number,
            opening_ids=issued.opening_ids,
            is_on_truck=issued.is_on_truck,
            is_to_bring_back=issued.is_to_bring_back,
            at=timezone.now(),
        )


def lock_listed(sheet_id: int) -> None:
    """Hold the openings that a sheet lists before its crew day: nobody changes one while its material is loaded."""
    listed = PullSheet.openings.through.objects.filter(pullsheet=sheet_id)
    openings.lock_openings(set(listed.values_list("opening", flat=True)))
