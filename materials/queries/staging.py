"""Read what the warehouse stages for a day: each crew's truck with its sheet, its cuts and what is short."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import Any, NamedTuple

from django.db.models import Count, OuterRef, Subquery

from jobs.models import CrewDay
from materials.calc.roll_picture import RollPicture, RollPiece, RollRow, roll_pictures
from materials.calc.verdict import verdict
from materials.models import PlannedRoll, Product, PullSheet, PullSheetLine, Remnant
from materials.queries.pull_sheet import (
    crew_days_assigned,
    gone_since,
    sheet_list,
    superseded_on,
    with_rolls,
)
from materials.queries.stock import Shortage, shortages
from openings.models import Assignment


@dataclass(frozen=True, slots=True, kw_only=True)
class StagedLine:
    """A line of a sheet; `short` is how many packages this truck goes without, those loaded before it served first.

    `remnants` are taken along beside the packages.
    """

    line: PullSheetLine
    short: int
    remnants: tuple[Remnant, ...]

    @property
    def bring_back(self) -> int:
        """How many packages are on the truck beyond what is needed."""
        return max((self.line.loaded_packages or 0) - self.line.packages, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class ProductCuts:
    """The rolls of one product on one sheet, each with its pieces, and in words whether fewer would do."""

    product: Product
    verdict: str
    pictures: tuple[RollPicture, ...]


class DetailOfDay(NamedTuple):
    """An installation detail, and how many openings of a crew day are laid by it."""

    id: int
    name: str
    openings_count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Truck:
    """One crew's day: the newest written sheet, and the newest of all where a worker has not written it.

    `gone` are the openings on that sheet that are not assigned to the day any more.
    """

    crew_day: CrewDay
    details: tuple[DetailOfDay, ...]
    sheet: PullSheet | None
    newest: PullSheet | None
    lines: tuple[StagedLine, ...]
    cuts: tuple[ProductCuts, ...]
    superseded: tuple[PullSheet, ...]
    gone: tuple[str, ...]

    @property
    def openings_count(self) -> int:
        """How many openings are assigned to the day."""
        return sum(detail.openings_count for detail in self.details)

    @property
    def unwritten(self) -> PullSheet | None:
        """The sheet that is pending or failed."""
        return self.newest if self.newest and self.newest.state != PullSheet.State.WRITTEN else None

    @property
    def loaded_count(self) -> int:
        """How many lines are loaded in full."""
        return sum(staged.line.is_loaded for staged in self.to_load)

    @property
    def to_load(self) -> list[StagedLine]:
        """The lines of which something is needed, or of which it cannot be told how much."""
        return [staged for staged in self.lines if staged.line.quantity or not staged.line.product]

    @property
    def back_count(self) -> int:
        """How many lines have more on the truck than is needed."""
        return sum(staged.bring_back > 0 for staged in self.lines)


@dataclass(frozen=True, slots=True, kw_only=True)
class Staging:
    """A day's trucks in the order in which they are loaded, and what is short of the products that they want."""

    trucks: tuple[Truck, ...]
    shortages: tuple[Shortage, ...]


def staging_on(on: date) -> Staging:
    """Return the trucks of a day and what is short for any of them. Thirteen queries, whatever they are."""
    short = shortages()
    concerned = tuple(one for one in short if any(share.sheet.crew_day.on == on for share in one.shares))
    return Staging(trucks=tuple(_trucks_on(on, short)), shortages=concerned)


def staging_board(on: date) -> list[dict[str, Any]]:
    """Return the newest sheet of each crew on a day with lines, rolls, cuts, and what its truck goes without.

    Nine queries.
    """
    newest = PullSheet.objects.newest_written().filter(crew_day__on=on)
    found = with_rolls(sheet_list().filter(pk__in=newest.values("pk"))).order_by("crew_day__crew__name")
    short_of = short_by_line(shortages())
    gone = gone_since(on)
    return [
        {
            "sheet": sheet,
            "rolls": list(sheet.rolls.all()),
            "off_reason": sheet.crew_day.off_reason,
            "gone": gone.get(sheet.pk, []),
            "goes_without": [
                {"line": line.pk, "product": line.product, "packages": short_of[line.pk]}
                for line in sheet.lines.all()
                if line.pk in short_of
            ],
        }
        for sheet in found
    ]


def short_by_line(shortages: Iterable[Shortage]) -> dict[int, int]:
    """Return how many packages trucks go without, by the lines of their sheets. No query."""
    return {share.line.pk: share.short for shortage in shortages for share in shortage.shares if share.short}


_ZONE = Subquery(
    PullSheet.openings.through.objects.filter(pullsheet__crew_day=OuterRef("crew_day")).values(
        "opening__job__time_zone"
    )[:1]
)
"""The zone of a job that the sheets of the crew day are for; where the truck is staged."""


def _trucks_on(on: date, short: Iterable[Shortage]) -> list[Truck]:
    """Return the crews that have openings or a sheet on a day, by name. Nine queries, whatever they are."""
    crew_days = crew_days_assigned(since=on).filter(on=on).order_by("crew__name")
    live = Assignment.objects.live().filter(crew_day__on=on).order_by()
    by_detail = live.values_list("crew_day", "opening__detail", "opening__detail__name", Count("pk"))
    of_day: dict[int, list[DetailOfDay]] = {}
    for crew_day, *detail in by_detail.order_by("opening__detail__name", "opening__detail"):
        of_day.setdefault(crew_day, []).append(DetailOfDay(*detail))
    newest_written = PullSheet.objects.newest_written().filter(crew_day__on=on).values("pk")
    written = sheet_list().filter(pk__in=newest_written).annotate(time_zone=_ZONE)
    sheets = {sheet.crew_day_id: sheet for sheet in with_rolls(written)}
    newest = PullSheet.objects.newest().defer("workbook").filter(crew_day__on=on)
    newest_of = {sheet.crew_day_id: sheet for sheet in newest}
    superseded = list(superseded_on(on))
    short_of = short_by_line(short)
    gone = gone_since(on)
    return [
        Truck(
            crew_day=day,
            details=tuple(of_day.get(day.pk, ())),
            sheet=sheets.get(day.pk),
            newest=newest_of.get(day.pk),
            lines=tuple(_lines(sheets[day.pk], short_of)) if day.pk in sheets else (),
            cuts=tuple(_product_cuts(sheets[day.pk])) if day.pk in sheets else (),
            superseded=tuple(sheet for sheet in superseded if sheet.crew_day_id == day.pk),
            gone=tuple(gone.get(sheets[day.pk].pk, ())) if day.pk in sheets else (),
        )
        for day in crew_days
    ]


def _lines(sheet: PullSheet, short_of: dict[int, int]) -> Iterator[StagedLine]:
    remnants = [roll.remnant for roll in sheet.rolls.all() if roll.remnant]
    for line in sheet.lines.all():
        of_product = tuple(remnant for remnant in remnants if remnant.product_id == line.product_id)
        yield StagedLine(line=line, short=short_of.get(line.pk, 0), remnants=of_product)


def _product_cuts(sheet: PullSheet) -> Iterator[ProductCuts]:
    """Yield the rolls of a sheet, which come in order of product and number, to scale."""
    at_least = {line.product_id: line.rolls_lower_bound for line in sheet.lines.all()}
    planned = sheet.rolls.all()
    jobs = {cut.opening.job_id for roll in planned for cut in roll.cuts.all()}
    for product, of_product in groupby(planned, key=lambda roll: roll.product):
        rows = list(of_product)
        old = sum(roll.remnant is not None for roll in rows)
        rolls = [_roll(roll, product, number=roll.number - old, with_job=len(jobs) > 1) for roll in rows]
        yield ProductCuts(
            product=product,
            verdict=_verdict(rolls, product, at_least.get(product.pk)),
            pictures=roll_pictures(rolls, trim_in=product.trim_in),
        )


def _verdict(rolls: Sequence[RollRow], product: Product, at_least: int | None) -> str:
    """Return nothing for a sheet that was written before plans had a bound."""
    if at_least is None:
        return ""
    rolls_new = sum(not roll.remnant and not roll.is_spare for roll in rolls)
    return verdict(rolls_new, at_least, product.package, is_anything_cut=True)


def _roll(roll: PlannedRoll, product: Product, *, number: int, with_job: bool) -> RollRow:
    return RollRow(
        package=product.package,
        number=number,
        length_in=roll.length_in,
        pieces=tuple(
            RollPiece(
                mark=cut.opening.mark,
                part=cut.part,
                length_in=cut.length_in,
                job=cut.opening.job.code if with_job else "",
            )
            for cut in roll.cuts.all()
        ),
        left_in=roll.left_in,
        is_kept=roll.left_in >= product.shortest_remnant_in,
        remnant=roll.remnant.code if roll.remnant else "",
        place=roll.remnant.place.name if roll.remnant else "",
    )
