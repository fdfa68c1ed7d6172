"""Writing a pull sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from decimal import Decimal
from zoneinfo import ZoneInfo

from django.utils import timezone

from jobs import transaction
from materials.calc.product import Measure
from materials.calc.pull import Pull
from materials.calc.verdict import counted
from materials.models import PlannedRoll, PullSheet, PullSheetLine, RollCut
from materials.queries import is_settled
from materials.services.changes import changes_between
from materials.services.compose import Composed, compose
from materials.services.cut import CutUp, cut_up
from materials.services.lay_out import cut_rows, roll_groups, staging_rows
from materials.services.remnants import reserve_remnants
from materials.services.tell import tell_openings
from materials.workbook import StagingRow, write_workbook


@transaction.atomic
def write_pull_sheet(*, sheet_id: int) -> None:
    """Write a pending sheet: lines, roll cuts and workbook together. Safe to repeat: a written one is left alone.

    A revision that would change nothing any more, since what it was asked for was taken back, is dropped.
    """
    # load
    sheet = (
        PullSheet.objects.select_for_update(of=("self", "crew_day"), no_key=True)
        .select_related("crew_day__crew")
        .filter(pk=sheet_id, state=PullSheet.State.PENDING)
        .first()
    )
    if sheet is None:
        return
    before = _before(sheet)
    if before and is_settled(before):
        _fail(sheet, f"the truck is back: rolls of {before} are settled")
        return

    # compute
    composed = compose(sheet.crew_day)
    if not composed.openings and before is None:
        reserve_remnants(crew_day_id=sheet.crew_day_id, remnant_ids=[])
        is_off = sheet.crew_day.is_off
        _fail(sheet, composed.book.nothing_to_set if is_off else "nothing is assigned to this day any more")
        return
    if not composed.openings:
        reserve_remnants(crew_day_id=sheet.crew_day_id, remnant_ids=[])
    cut = cut_up(sheet.crew_day, composed)
    changes = changes_between(before, composed, cut.pulls) if before else ()
    if before and not changes:
        sheet.delete()
        return
    surplus = _surplus(before, composed) if before else []
    loaded = dict(before.lines.values_list("product", "loaded_packages")) if before else {}
    now = timezone.now()
    book = replace(
        composed.book,
        cuts=cut_rows(cut.pulls, composed.cut_for),
        rolls=roll_groups(cut, composed.cut_for),
        revision=sheet.revision,
        written_at=now.astimezone(_zone(composed, before)).replace(tzinfo=None),
        changes=changes,
        bring_back=(*_too_many(cut.pulls, composed.product_ids, loaded), *map(_back, surplus)),
        staging=(*staging_rows(cut.pulls, unfit_parts=composed.unfit_parts), *map(_to_bring_back, surplus)),
    )

    # save
    PullSheetLine.objects.bulk_create(
        [*_lines(sheet, cut.pulls, composed.product_ids, loaded), *(_kept(line, sheet) for line in surplus)]
    )
    _save_rolls(sheet, composed, cut)
    listed = sheet.openings.through
    listed.objects.bulk_create(listed(pullsheet=sheet, opening=opening) for opening in composed.openings)
    sheet.workbook = write_workbook(book)
    sheet.state, sheet.written_at, sheet.basis, sheet.changes = (
        PullSheet.State.WRITTEN,
        now,
        composed.basis.as_json(),
        list(changes),
    )
    sheet.cautions = list(composed.book.cautions)
    sheet.save(update_fields=["workbook", "state", "written_at", "basis", "changes", "cautions"])
    tell_openings(sheet.crew_day_id)


def _before(sheet: PullSheet) -> PullSheet | None:
    written = PullSheet.objects.filter(crew_day=sheet.crew_day_id, state=PullSheet.State.WRITTEN)
    return written.defer("workbook").order_by("-revision").first() if sheet.revision > 1 else None


def _fail(sheet: PullSheet, why: str) -> None:
    sheet.state, sheet.failure = PullSheet.State.FAILED, why
    sheet.save(update_fields=["state", "failure"])


def _zone(composed: Composed, before: PullSheet | None) -> ZoneInfo:
    """Return the zone of the day's first job; that of the revision before where nothing is to be set any more."""
    zones = [opening.job.time_zone for opening in composed.openings]
    if not zones and before:
        zones = list(
            before.openings.order_by("job__code", "position", "pk").values_list("job__time_zone", flat=True)[:1]
        )
    return ZoneInfo(zones[0] if zones else "UTC")


def _too_many(pulls: Iterable[Pull], product_ids: Mapping[str, int], loaded: Mapping[int, int | None]) -> Iterator[str]:
    """Yield of what more is on the truck than is needed."""
    for pull in pulls:
        if pull.product is None:
            continue
        more = (loaded.get(product_ids[pull.product.code]) or 0) - pull.packages
        if more > 0:
            yield (
                f"{counted(more, pull.product.package)} of {pull.product.name}: {more + pull.packages} loaded, "
                f"{pull.packages} needed"
            )


def _back(line: PullSheetLine) -> str:
    return f"{counted(line.loaded_packages, line.product.package)} of {line.product.name}: needed no more"


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


def _lines(
    sheet: PullSheet, pulls: Iterable[Pull], product_ids: Mapping[str, int], loaded: Mapping[int, int | None]
) -> Iterator[PullSheetLine]:
    """Yield the lines. What the revision before has loaded stays loaded."""
    for pull in pulls:
        product_id = product_ids[pull.product.code] if pull.product else None
        yield PullSheetLine(
            sheet=sheet,
            product_id=product_id,
            parts=", ".join(pull.parts),
            lacks="" if pull.product else pull.note,
            quantity=pull.quantity,
            measure=pull.measure,
            packages=pull.packages,
            rolls_lower_bound=pull.plan.rolls_lower_bound if pull.plan else None,
            loaded_packages=loaded.get(product_id) if product_id else None,
        )


def _save_rolls(sheet: PullSheet, composed: Composed, cut: CutUp) -> None:
    """Save the rolls of the sheet with their cuts. Two queries."""
    planned = [
        (
            PlannedRoll(
                sheet=sheet,
                product_id=composed.product_ids[pull.product.code],
                number=number,
                remnant=cut.remnants[roll.remnant] if roll.remnant else None,
                length_in=roll.length_in,
                left_in=roll.left_in,
            ),
            roll.cuts,
        )
        for pull in cut.pulls
        if pull.product and pull.plan
        for number, roll in enumerate(pull.plan.rolls, start=1)
    ]
    PlannedRoll.objects.bulk_create(roll for roll, _ in planned)
    RollCut.objects.bulk_create(
        RollCut(
            roll=roll,
            place_in_roll=place,
            opening_id=composed.cut_for[piece.label].opening_id,
            part=composed.cut_for[piece.label].part,
            length_in=piece.length_in,
        )
        for roll, pieces in planned
        for place, piece in enumerate(pieces, start=1)
    )
