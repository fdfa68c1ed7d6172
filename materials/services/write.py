"""Writing a pull sheet."""

from __future__ import annotations

from dataclasses import replace
from zoneinfo import ZoneInfo

from django.db import transaction
from django.utils import timezone

from materials.models import PullSheet, PullSheetLine, RollCut
from materials.services.changes import changes_between
from materials.services.compose import Composed, compose
from materials.workbook import write_workbook


@transaction.atomic
def write_pull_sheet(*, sheet_id: int) -> None:
    """Write a pending sheet: lines, roll cuts and workbook together. Safe to repeat: a written one is left alone."""
    # load
    sheet = (
        PullSheet.objects.select_for_update(of=("self", "crew_day"))
        .select_related("crew_day__crew")
        .filter(pk=sheet_id, state=PullSheet.State.PENDING)
        .first()
    )
    if sheet is None:
        return
    before = (
        PullSheet.objects.filter(crew_day=sheet.crew_day, state=PullSheet.State.WRITTEN).order_by("-revision").first()
    )

    # compute
    composed = compose(sheet.crew_day)
    if not composed.openings and before is None:
        _fail(sheet, "nothing is assigned to this day any more")
        return
    changes = changes_between(before, composed) if before else ()
    now = timezone.now()
    book = replace(
        composed.book,
        revision=sheet.revision,
        written_at=now.astimezone(_zone(composed)).replace(tzinfo=None),
        changes=changes,
    )

    # save
    _save_lines(sheet, composed, before)
    sheet.openings.set(composed.openings)
    sheet.workbook = write_workbook(book)
    sheet.state, sheet.written_at, sheet.basis, sheet.changes = (
        PullSheet.State.WRITTEN,
        now,
        composed.basis,
        list(changes),
    )
    sheet.save(update_fields=["workbook", "state", "written_at", "basis", "changes"])


def _fail(sheet: PullSheet, why: str) -> None:
    sheet.state, sheet.failure = PullSheet.State.FAILED, why
    sheet.save(update_fields=["state", "failure"])


def _zone(composed: Composed) -> ZoneInfo:
    zones = [opening.job.time_zone for opening in composed.openings]
    return ZoneInfo(zones[0] if zones else "UTC")


def _save_lines(sheet: PullSheet, composed: Composed, before: PullSheet | None) -> None:
    """Save lines and cuts. What the revision before has loaded stays loaded."""
    loaded = dict(before.lines.values_list("product_id", "loaded_packages")) if before else {}
    lines, cuts = [], []
    for pull in composed.pulls:
        product_id = composed.product_ids[pull.product.code] if pull.product else None
        lines.append(
            PullSheetLine(
                sheet=sheet,
                product_id=product_id,
                parts=", ".join(pull.parts),
                quantity=pull.quantity,
                measure=pull.measure,
                packages=pull.packages,
                loaded_packages=loaded.get(product_id) if product_id else None,
            )
        )
        for number, roll in enumerate(pull.plan.rolls if pull.plan else (), start=1):
            for place, cut in enumerate(roll.cuts, start=1):
                opening_id, part = composed.cut_for[cut.label]
                cuts.append(
                    RollCut(
                        sheet=sheet,
                        product_id=product_id,
                        roll=number,
                        place_in_roll=place,
                        opening_id=opening_id,
                        part=part,
                        length_in=cut.length_in,
                    )
                )
    PullSheetLine.objects.bulk_create(lines)
    RollCut.objects.bulk_create(cuts)
