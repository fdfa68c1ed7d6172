"""Writing a pull sheet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from decimal import Decimal
from zoneinfo import ZoneInfo

from django.db import transaction
from django.utils import timezone

from materials.calc.product import Measure
from materials.models import PullSheet, PullSheetLine, RollCut
from materials.services.changes import changes_between
from materials.services.compose import Composed, compose
from materials.workbook import StagingRow, write_workbook


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
    before = _before(sheet)

    # compute
    composed = compose(sheet.crew_day)
    if not composed.openings and before is None:
        _fail(sheet, "nothing is assigned to this day any more")
        return
    changes = changes_between(before, composed) if before else ()
    surplus = _surplus(before, composed) if before else []
    now = timezone.now()
    book = replace(
        composed.book,
        revision=sheet.revision,
        written_at=now.astimezone(_zone(composed)).replace(tzinfo=None),
        changes=changes,
        staging=(*composed.book.staging, *map(_to_bring_back, surplus)),
    )

    # save
    loaded = dict(before.lines.values_list("product", "loaded_packages")) if before else {}
    PullSheetLine.objects.bulk_create([*_lines(sheet, composed, loaded), *(_kept(line, sheet) for line in surplus)])
    RollCut.objects.bulk_create(_cuts(sheet, composed))
    listed = sheet.openings.through
    listed.objects.bulk_create(listed(pullsheet=sheet, opening=opening) for opening in composed.openings)
    sheet.workbook = write_workbook(book)
    sheet.state, sheet.written_at, sheet.basis, sheet.changes = (
        PullSheet.State.WRITTEN,
        now,
        composed.basis,
        list(changes),
    )
    sheet.save(update_fields=["workbook", "state", "written_at", "basis", "changes"])


def _before(sheet: PullSheet) -> PullSheet | None:
    written = PullSheet.objects.filter(crew_day=sheet.crew_day_id, state=PullSheet.State.WRITTEN)
    return written.defer("workbook").order_by("-revision").first() if sheet.revision > 1 else None


def _fail(sheet: PullSheet, why: str) -> None:
    sheet.state, sheet.failure = PullSheet.State.FAILED, why
    sheet.save(update_fields=["state", "failure"])


def _zone(composed: Composed) -> ZoneInfo:
    zones = [opening.job.time_zone for opening in composed.openings]
    return ZoneInfo(zones[0] if zones else "UTC")


def _surplus(before: PullSheet, composed: Composed) -> list[PullSheetLine]:
    """Return the lines of the revision before that are on the truck and needed no more. One query."""
    needed = [composed.product_ids[pull.product.code] for pull in composed.pulls if pull.product]
    loaded = before.lines.filter(loaded_packages__gt=0).exclude(product__in=needed)
    return list(loaded.select_related("product"))


def _to_bring_back(line: PullSheetLine) -> StagingRow:
    return StagingRow(
        product_code=line.product.code,
        product=line.product.name,
        parts=line.parts,
        packages=0,
        package=line.product.package,
        quantity=Decimal(0),
        measure=Measure(line.measure),
        note=f"needed no more: {line.loaded_packages} loaded, to be brought back",
    )


def _kept(line: PullSheetLine, sheet: PullSheet) -> PullSheetLine:
    """Return a line that keeps what is on the truck in sight until it is brought back."""
    return PullSheetLine(
        sheet=sheet,
        product=line.product,
        parts=line.parts,
        quantity=0,
        measure=line.measure,
        packages=0,
        loaded_packages=line.loaded_packages,
    )


def _lines(sheet: PullSheet, composed: Composed, loaded: Mapping[int, int | None]) -> Iterator[PullSheetLine]:
    """Yield the lines. What the revision before has loaded stays loaded."""
    for pull in composed.pulls:
        product_id = composed.product_ids[pull.product.code] if pull.product else None
        yield PullSheetLine(
            sheet=sheet,
            product_id=product_id,
            parts=", ".join(pull.parts),
            quantity=pull.quantity,
            measure=pull.measure,
            packages=pull.packages,
            loaded_packages=loaded.get(product_id) if product_id else None,
        )


def _cuts(sheet: PullSheet, composed: Composed) -> Iterator[RollCut]:
    for pull in composed.pulls:
        for number, roll in enumerate(pull.plan.rolls if pull.plan else (), start=1):
            for place, cut in enumerate(roll.cuts, start=1):
                opening_id, part = composed.cut_for[cut.label]
                yield RollCut(
                    sheet=sheet,
                    product_id=composed.product_ids[pull.product.code],
                    roll=number,
                    place_in_roll=place,
                    opening_id=opening_id,
                    part=part,
                    length_in=cut.length_in,
                )
