"""Writing a pull sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass, field, replace
from datetime import datetime
from decimal import Decimal
from typing import NamedTuple
from zoneinfo import ZoneInfo

from django.db.models import Q
from django.utils import timezone

from jobs import transaction
from jobs.calc.say import counted
from jobs.errors import NotNow
from materials.calc.product import Measure
from materials.calc.pull import Pull
from materials.models import PlannedRoll, Product, PullSheet, PullSheetLine, RollCut
from materials.plans.changes import changes_between, reasons_to_revise
from materials.plans.compose import Composed, compose
from materials.plans.cut_up import CutUp
from materials.plans.day_cards import day_cards
from materials.plans.lay_out import cut_rows, roll_groups, staging_rows
from materials.queries import is_settled, rests_on
from materials.services.cut import cut_up, reserve_for
from materials.services.sheet_news import tell_revised
from materials.services.tell import tell_openings
from materials.workbook import PullSheetBook, StagingRow, write_workbook

SEARCHES_AHEAD = 3
"""So often the cuts are searched with nothing locked (our choice); if things moved each time, once under the lock."""


def write_pull_sheet(*, sheet_id: int) -> None:
    """Write a pending sheet: lines, roll cuts and workbook together. Safe to repeat: a written one is left alone.

    It is worked out while nothing is locked, so that others can write theirs meanwhile, and saved in one transaction if
    what it was worked out from still is so. A revision that would change nothing any more, since what it was asked for
    was taken back, is dropped.
    """
    for _ in range(SEARCHES_AHEAD):
        sheet = PullSheet.objects.select_related("crew_day__crew").filter(_PENDING, pk=sheet_id).first()
        if sheet is None or _save_if_still_so(_draft(sheet)):
            return
    _write_under_lock(sheet_id)


_PENDING = Q(state=PullSheet.State.PENDING)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Draft:
    """What a sheet is going to say.

    Args:
        rests_on: of the rows that it was worked out from.
        cut: how the rolls are cut; None where nothing is and what is reserved stays so.
        failure: why there is no sheet, in words; empty where there is one.
        book: None where there is no sheet, or no reason for a new revision.
        surplus: what of the revision before is on the truck and needed no more.
        loaded: packages on the truck by product.
    """

    sheet: PullSheet
    rests_on: str
    composed: Composed | None = None
    cut: CutUp | None = None
    failure: str = ""
    book: PullSheetBook | None = None
    workbook: bytes = b""
    written_at: datetime
    surplus: tuple[_Surplus, ...] = ()
    loaded: Mapping[int, int | None] = field(default_factory=dict)


@transaction.atomic
def _save_if_still_so(draft: _Draft) -> bool:
    """Save a draft unless what it was worked out from has changed; return whether there is nothing left to do."""
    sheet = _locked(draft.sheet.pk)
    if sheet is None:
        return True
    if rests_on([sheet.crew_day_id])[sheet.crew_day_id] != draft.rests_on:
        return False
    if draft.cut and not reserve_for(sheet.crew_day, draft.cut):
        return False
    _save(sheet, draft)
    return True


@transaction.atomic
def _write_under_lock(sheet_id: int) -> None:
    sheet = _locked(sheet_id)
    if sheet is None:
        return
    draft = _draft(sheet, is_locked=True)
    if draft.cut and not reserve_for(sheet.crew_day, draft.cut):
        raise NotNow(f"the remnants for {sheet} are being reserved for others; it is written later")
    _save(sheet, draft)


def _locked(sheet_id: int) -> PullSheet | None:
    """Return a sheet if it is still to be written, with its crew day, both as they stay until the transaction ends."""
    sheets = PullSheet.objects.select_for_update(of=("self", "crew_day"), no_key=True)
    return sheets.select_related("crew_day__crew").filter(_PENDING, pk=sheet_id).first()


def _draft(sheet: PullSheet, *, is_locked: bool = False) -> _Draft:
    """Return what a sheet is going to say. Nothing is written."""
    now = timezone.now()
    draft = _Draft(sheet=sheet, rests_on=rests_on([sheet.crew_day_id])[sheet.crew_day_id], written_at=now)
    before = _before(sheet)
    if before and is_settled(before):
        return replace(draft, failure=f"the truck is back: rolls of {before} are settled")
    composed = compose(sheet.crew_day)
    if before and not reasons_to_revise(before, composed.basis):
        return draft
    cut = cut_up(sheet.crew_day, composed, is_locked=is_locked)
    draft = replace(draft, composed=composed, cut=cut)
    if not composed.openings and before is None:
        is_off = sheet.crew_day.is_off
        why = composed.book.nothing_to_set if is_off else "nothing is assigned to this day any more"
        return replace(draft, failure=why)
    changes = changes_between(before, composed, cut.pulls) if before else ()
    surplus = _surplus(before, composed) if before else []
    loaded = dict(before.lines.values_list("product", "loaded_packages")) if before else {}
    book = replace(
        composed.book,
        cuts=cut_rows(cut.pulls, composed.cut_for),
        rolls=roll_groups(cut, composed.cut_for),
        revision=sheet.revision,
        written_at=now.astimezone(_zone(composed, before)).replace(tzinfo=None),
        changes=changes,
        cards=day_cards(composed.openings, tools=composed.tools_by_detail),
        bring_back=(*_too_many(cut.pulls, composed.product_ids, loaded), *map(_back, surplus)),
        staging=(*staging_rows(cut.pulls, unfit_parts=composed.unfit_parts), *map(_to_bring_back, surplus)),
    )
    return replace(draft, book=book, workbook=write_workbook(book), surplus=tuple(surplus), loaded=loaded)


def _save(sheet: PullSheet, draft: _Draft) -> None:
    """Save what a draft says; without a book it says that there is none, or that the revision before stands."""
    if draft.failure:
        sheet.state, sheet.failure = PullSheet.State.FAILED, draft.failure
        sheet.save(update_fields=["state", "failure"])
        return
    composed, cut, book = draft.composed, draft.cut, draft.book
    if composed is None or cut is None or book is None:
        sheet.delete()
        return
    PullSheetLine.objects.bulk_create(
        [
            *_lines(sheet, cut.pulls, composed.product_ids, draft.loaded),
            *(_kept(surplus.line, sheet) for surplus in draft.surplus),
        ]
    )
    _save_rolls(sheet, composed, cut)
    listed = sheet.openings.through
    listed.objects.bulk_create(listed(pullsheet=sheet, opening=opening) for opening in composed.openings)
    sheet.workbook, sheet.state, sheet.written_at = draft.workbook, PullSheet.State.WRITTEN, draft.written_at
    sheet.basis, sheet.changes, sheet.cautions = composed.basis.as_json(), list(book.changes), list(book.cautions)
    sheet.load_list, sheet.held = [asdict(row) for row in book.tools], [asdict(row) for row in book.held]
    sheet.save(update_fields=["workbook", "state", "written_at", "basis", "changes", "cautions", "load_list", "held"])
    tell_openings(sheet.crew_day_id)
    if any(draft.loaded.values()):
        tell_revised(sheet, book.changes)


def _before(sheet: PullSheet) -> PullSheet | None:
    written = PullSheet.objects.written().filter(crew_day=sheet.crew_day_id)
    return written.defer("workbook").order_by("-revision").first() if sheet.revision > 1 else None


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


class _Surplus(NamedTuple):
    """A line of the revision before that is on the truck and needed no more."""

    line: PullSheetLine
    product: Product
    packages: int


def _back(surplus: _Surplus) -> str:
    return f"{counted(surplus.packages, surplus.product.package)} of {surplus.product.name}: needed no more"


def _surplus(before: PullSheet, composed: Composed) -> list[_Surplus]:
    """Return the lines of the revision before that are on the truck and needed no more. One query."""
    needed = [composed.product_ids[pull.product.code] for pull in composed.pulls if pull.product]
    loaded = before.lines.filter(loaded_packages__gt=0).exclude(product__in=needed)
    return [
        _Surplus(line, line.product, line.loaded_packages)
        for line in loaded.select_related("product")
        if line.product and line.loaded_packages
    ]


def _to_bring_back(surplus: _Surplus) -> StagingRow:
    return StagingRow(
        product_code=surplus.product.code,
        product=surplus.product.name,
        parts=surplus.line.parts,
        packages=0,
        package=surplus.product.package,
        quantity=Decimal(0),
        measure=Measure(surplus.line.measure),
        note=f"needed no more: {surplus.packages} loaded, to be brought back",
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
            spare=pull.spare.quantity,
            spare_reason=pull.spare.reason,
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
    PlannedRoll.objects.bulk_create([*(roll for roll, _ in planned), *_spare_rolls(sheet, composed, cut)])
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


def _spare_rolls(sheet: PullSheet, composed: Composed, cut: CutUp) -> Iterator[PlannedRoll]:
    """Yield the rolls that are taken whole, numbered after those that are cut."""
    for pull in cut.pulls:
        if pull.product is None or pull.plan is None:
            continue
        for number in range(1, pull.spare.packages + 1):
            yield PlannedRoll(
                sheet=sheet,
                product_id=composed.product_ids[pull.product.code],
                number=len(pull.plan.rolls) + number,
                length_in=pull.product.package_quantity,
                left_in=pull.product.package_quantity,
            )
