"""What the warehouse stages for a day: each crew's truck with its sheet, its cuts and what is short."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import groupby

from django.db.models import Count, Exists, OuterRef, Prefetch

from jobs.models import CrewDay
from materials.calc.roll_picture import RollPicture, roll_picture
from materials.calc.rolls import Cut
from materials.models import Product, PullSheet, PullSheetLine, RollCut
from materials.queries.pull_sheet import crew_days_assigned, latest_written, sheet_list
from materials.queries.stock import shortages
from openings.models import Assignment


@dataclass(frozen=True, slots=True, kw_only=True)
class StagedLine:
    """A line of a sheet; `short` is how many packages the warehouses lack for all sheets together."""

    line: PullSheetLine
    short: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class ProductCuts:
    """The rolls of one product on one sheet, each with its pieces."""

    product: Product
    rolls: tuple[RollPicture, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Truck:
    """One crew's day: the newest written sheet, and the newest of all where a worker has not written it."""

    crew_day: CrewDay
    openings_count: int
    sheet: PullSheet | None
    newest: PullSheet | None
    lines: tuple[StagedLine, ...]
    cuts: tuple[ProductCuts, ...]

    @property
    def unwritten(self) -> PullSheet | None:
        """The sheet that is pending or failed."""
        return self.newest if self.newest and self.newest.state != PullSheet.State.WRITTEN else None

    @property
    def loaded_count(self) -> int:
        """How many lines are loaded in full."""
        return sum((staged.line.loaded_packages or 0) >= staged.line.packages for staged in self.lines)

    @property
    def is_loaded(self) -> bool:
        return bool(self.lines) and self.loaded_count == len(self.lines)


def trucks_on(on: date) -> list[Truck]:
    """Return the crews that have openings or a sheet on a day, by name. Ten queries, however many crews and lines."""
    crew_days = crew_days_assigned(since=on).filter(on=on).order_by("crew__name")
    live = Assignment.objects.filter(crew_day__on=on, withdrawn_at__isnull=True).order_by()
    counts = dict(live.values_list("crew_day").annotate(n=Count("pk")))
    cuts = RollCut.objects.select_related("opening__job", "product")
    written = sheet_list().filter(pk__in=latest_written().filter(crew_day__on=on).values("pk"))
    sheets = {sheet.crew_day_id: sheet for sheet in written.prefetch_related(Prefetch("cuts", cuts))}
    newer = PullSheet.objects.filter(crew_day=OuterRef("crew_day"), revision__gt=OuterRef("revision"))
    newest = PullSheet.objects.defer("workbook").filter(~Exists(newer), crew_day__on=on)
    newest_of = {sheet.crew_day_id: sheet for sheet in newest}
    short = {entry["product"].pk: entry["short"] for entry in shortages()}
    return [
        Truck(
            crew_day=day,
            openings_count=counts.get(day.pk, 0),
            sheet=sheets.get(day.pk),
            newest=newest_of.get(day.pk),
            lines=tuple(_lines(sheets[day.pk], short)) if day.pk in sheets else (),
            cuts=tuple(_product_cuts(sheets[day.pk])) if day.pk in sheets else (),
        )
        for day in crew_days
    ]


def _lines(sheet: PullSheet, short: dict[int, Decimal]) -> Iterator[StagedLine]:
    for line in sheet.lines.all():
        yield StagedLine(line=line, short=short.get(line.product_id, Decimal(0)))


def _product_cuts(sheet: PullSheet) -> Iterator[ProductCuts]:
    """Yield the cuts of a sheet, which come in order of product, roll and place, as rolls to scale."""
    for product, of_product in groupby(sheet.cuts.all(), key=lambda cut: cut.product):
        rolls = [_roll(product, number, of_roll) for number, of_roll in groupby(of_product, key=lambda cut: cut.roll)]
        yield ProductCuts(product=product, rolls=tuple(rolls))


def _roll(product: Product, number: int, cuts: Iterable[RollCut]) -> RollPicture:
    return roll_picture(
        [Cut(cut.length_in, f"{cut.opening.mark} {cut.part}, {cut.opening.job.code}") for cut in cuts],
        number=number,
        roll_length_in=product.package_quantity,
        trim_in=product.trim_in,
    )
