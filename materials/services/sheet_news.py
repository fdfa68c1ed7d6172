"""Telling what the office, the warehouse and the crews must know of sheets and of what lies open to the weather."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Final

from jobs import transaction
from jobs.about import about
from jobs.calc.calendar import earliest_today, local_date
from jobs.calc.notice import EventKind
from jobs.calc.say import counted
from jobs.calc.say import day as say_day
from jobs.models import Job
from jobs.services import tell_event
from materials.calc.laying import LAID_IN
from materials.calc.parts import Part
from materials.calc.product import ProductFacts
from materials.models import DetailProduct, PullSheet
from materials.queries import Choices, crew_days_assigned, issued_for
from materials.services.request import due_days
from openings.models import Opening, StepRecord

GRACE: Final = timedelta(minutes=10)
"""So long after the cut-off a sheet may still be written (our choice: several times what all of a morning take)."""

COVER_SOON: Final = timedelta(days=5)
"""So long before something must be covered it is told (our choice: time to call the siding crew)."""

OUTSIDE: Final = (
    Part.SILL_STRIP,
    Part.JAMB_STRIP,
    Part.HEAD_STRIP,
    Part.COUNTER_FLASHING_STRIP,
    Part.HEAD_MEMBRANE,
)
"""What the sun reaches until the wall is clad; a pan lies under its unit."""

MOST_CHANGES: Final = 6


def tell_revised(sheet: PullSheet, changes: Sequence[str]) -> None:
    """Tell that a sheet was revised though its truck is loaded, and what changed. One query where its day is joined."""
    more = len(changes) - MOST_CHANGES
    what = "; ".join([*changes[:MOST_CHANGES], *([counted(more, "more change")] if more > 0 else [])])
    day = sheet.crew_day
    tell_event(
        kind=EventKind.SHEET_REVISED,
        said=f"{sheet} of {day.crew} for {say_day(day.on)} was written after loading{f': {what}' if what else ''}.",
        crew=day.crew,
        on=day.on,
        about=[about(sheet), about(day)],
    )


@transaction.atomic
def tell_missing_sheets(*, now: datetime) -> int:
    """Tell of each crew day whose cut-off is past and that has no pull sheet, once; return how many are told.

    Safe to repeat.
    """
    crew_days = {day.pk: day for day in crew_days_assigned(since=earliest_today(now))}
    issued = {sheet.crew_day_id for sheet in issued_for(crew_days)}
    told = 0
    for day in due_days([day for day in crew_days.values() if day.pk not in issued], now - GRACE):
        event = tell_event(
            kind=EventKind.NO_SHEET,
            said=f"{day.crew} has no pull sheet for {say_day(day.on)}, and the cut-off is past. Update it on Staging.",
            crew=day.crew,
            on=day.on,
            about=[about(day)],
            once=[f"no sheet {day.pk}"],
        )
        told += event is not None
    return told


@dataclass(frozen=True, slots=True)
class _Open:
    """What was laid and must be covered: of one job, one product, by one day."""

    job: Job
    product: ProductFacts
    laid_on: date
    cover_by: date


@transaction.atomic
def tell_cover_by(*, now: datetime) -> int:
    """Tell what must soon be covered: strips and membranes laid outside whose product may lie open for so many days.

    Told once for each job, product and day. When the wall is clad is kept nowhere, so it is told to whoever can look.
    Five queries at most. Safe to repeat.
    """
    limits = DetailProduct.objects.filter(part__in=OUTSIDE, product__exposure_limit_days__isnull=False)
    listed = limits.order_by().values_list("product__exposure_limit_days", flat=True).distinct()
    days = [limit for limit in listed if limit is not None]
    if not days:
        return 0
    laid = StepRecord.objects.filter(
        step__in={LAID_IN[part] for part in OUTSIDE},
        recorded_at__gte=now - timedelta(days=max(days) + 1),
        recorded_at__lte=now - timedelta(days=min(days)) + COVER_SOON + timedelta(days=1),
    )
    found: dict[_Open, dict[int, Opening]] = defaultdict(dict)
    for open_one, opening in _open(laid.select_related("record__opening__job", "record__opening__detail")):
        today = local_date(now, time_zone=open_one.job.time_zone)
        if today <= open_one.cover_by <= today + COVER_SOON:
            found[open_one][opening.pk] = opening
    return sum(_tell_open(open_one, list(openings.values())) for open_one, openings in found.items())


def _open(laid: Iterable[StepRecord]) -> Iterator[tuple[_Open, Opening]]:
    """Yield what was laid of products that may not lie open for ever, with its opening. One query."""
    steps = list(laid)
    choices = Choices({step.record.opening.detail_id for step in steps})
    for step in steps:
        opening = step.record.opening
        detail = opening.detail.as_facts()
        laid_on = local_date(step.recorded_at, time_zone=opening.job.time_zone)
        for part in (part for part in OUTSIDE if LAID_IN[part] == step.step):
            product = choices.find(part, detail_id=opening.detail_id, detail=detail)
            if product and product.exposure_limit_days is not None:
                cover_by = laid_on + timedelta(days=product.exposure_limit_days)
                yield _Open(opening.job, product, laid_on, cover_by), opening


def _tell_open(one: _Open, openings: Collection[Opening]) -> bool:
    marks = ", ".join(sorted({opening.mark for opening in openings}))
    days = counted(one.product.exposure_limit_days or 0, "day")
    event = tell_event(
        kind=EventKind.COVER_BY_NEAR,
        said=f"{one.job}: {one.product.name}, laid {say_day(one.laid_on)} at {counted(len(openings), 'opening')} "
        f"({marks}), must be covered by {say_day(one.cover_by)}: its maker lets it lie open for {days}. What has been "
        "open for longer is replaced or covered as the maker’s instructions say.",
        job=one.job,
        on=one.cover_by,
        about=[about(one.job), *map(about, openings)],
        once=[f"cover {one.job.pk} {one.product.code} {one.cover_by}"],
    )
    return event is not None
