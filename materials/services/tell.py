"""Telling the floor below what it stores of ours: what issued sheets bind, and what is staged for anchors."""

from __future__ import annotations

from collections.abc import Collection

from django.utils import timezone

from materials.models import PullSheet
from materials.queries import Choices, issued_on
from openings import services as openings
from openings.models import InstallationDetail


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


def tell_fasteners(detail_ids: Collection[int] | None = None) -> None:
    """Tell what is staged for the anchors of locked details, of all of them for None, and of the shop's standards.

    Whoever changes a choice or a product for an anchor says so at the end; told twice, it is as told once. Nine
    queries; up to seven more where loads change, and one for each kind of what is told.

    Raises:
        OpeningBound, Conflict: as `openings.services.tell_fasteners`.
    """
    if detail_ids is None:
        detail_ids = list(InstallationDetail.objects.values_list("pk", flat=True))
    choices = Choices(detail_ids)
    openings.tell_fasteners(
        standard=choices.staged(None), by_detail={detail_id: choices.staged(detail_id) for detail_id in detail_ids}
    )


def lock_listed(sheet_id: int) -> None:
    """Hold the openings that a sheet lists before its crew day: nobody changes one while its material is loaded."""
    listed = PullSheet.openings.through.objects.filter(pullsheet=sheet_id)
    openings.lock_openings(set(listed.values_list("opening", flat=True)))
