"""A crew day put together as a pull sheet; read only, so that it can be compared before it is written."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from itertools import chain

from jobs.models import CrewDay
from materials.calc.product import Measure
from materials.calc.pull import Drawn, Pull, pull_of
from materials.models import PullSheet
from materials.queries import Choices, ready_for
from materials.services.cautions import cautions_for
from materials.workbook import CutRow, JobStop, OpeningRow, PullSheetBook, StagingRow
from openings.calc.figures import TWO_PLACES, half_up
from openings.calc.lift import lift_of
from openings.calc.weight import weight_of
from openings.models import Assignment, Opening
from openings.queries import Computable, computable

TENTH = Decimal("0.1")
UNWRITTEN = datetime.min  # noqa: DTZ901 (a cell holds local time without a zone)


@dataclass(frozen=True, slots=True, kw_only=True)
class Composed:
    """What a pull sheet of a crew day says at this moment, before it has a revision."""

    book: PullSheetBook
    pulls: tuple[Pull, ...]
    product_ids: dict[str, int]
    openings: tuple[Opening, ...]
    cut_for: dict[str, tuple[int, str]]
    basis: str


def compose(crew_day: CrewDay) -> Composed:
    """Return the sheet of a crew day. Five queries, however many openings."""
    ready, held = ready_for([crew_day.pk])
    items = list(computable(assignment.opening for assignment in ready))
    choices = Choices({item.opening.detail_id for item in items})
    drawn, cut_for = _draw(items, choices)
    pulls = pull_of(drawn)
    book = PullSheetBook(
        number=PullSheet(crew_day=crew_day).number,
        revision=1,
        crew=crew_day.crew.name,
        truck=crew_day.crew.truck,
        on=crew_day.on,
        people_count=crew_day.crew.people_count,
        capacity_person_h=crew_day.capacity_person_h,
        assigned_person_h=sum((a.person_h for a in ready), Decimal(0)),
        written_at=UNWRITTEN,
        jobs=_stops(items),
        staging=tuple(_staging(pull) for pull in pulls),
        cuts=_cuts(pulls, cut_for),
        openings=_rows(items, ready),
        cautions=cautions_for(
            items,
            held,
            on=crew_day.on,
            choices=choices,
            products=(pull.product for pull in pulls if pull.product),
        ),
    )
    return Composed(
        book=book,
        pulls=pulls,
        product_ids=choices.ids,
        openings=tuple(item.opening for item in items),
        cut_for=cut_for,
        basis=_digest(book),
    )


def _draw(items: Sequence[Computable], choices: Choices) -> tuple[list[Drawn], dict[str, tuple[int, str]]]:
    drawn, cut_for = [], {}
    for item in items:
        label = f"{item.opening.job.code} {item.opening.mark}"
        for line, product in choices.furnish(item).lines:
            drawn.append(Drawn(label=label, line=line, product=product))
            cut_for[f"{label} {line.part}"] = item.opening.pk, line.part
    return drawn, cut_for


def _stops(items: Sequence[Computable]) -> tuple[JobStop, ...]:
    counts = Counter(item.opening.job for item in items)
    return tuple(
        JobStop(code=job.code, name=job.name, address=job.address, openings_count=count)
        for job, count in counts.items()
    )


def _staging(pull: Pull) -> StagingRow:
    product = pull.product
    return StagingRow(
        product_code=product.code if product else "",
        product=product.name if product else "",
        parts=", ".join(pull.parts),
        packages=pull.packages,
        package=product.package if product else "",
        quantity=half_up(pull.quantity, to=TWO_PLACES) if pull.measure is Measure.VOLUME else pull.quantity,
        measure=pull.measure,
        note=pull.note,
    )


def _cuts(pulls: Sequence[Pull], cut_for: dict[str, tuple[int, str]]) -> tuple[CutRow, ...]:
    """Return the cuts by opening, in the order of the day and of the draw, which `cut_for` keeps."""
    rows: dict[str, list[CutRow]] = {label: [] for label in cut_for}
    for pull in pulls:
        if pull.product is None or pull.plan is None:
            continue
        for number, roll in enumerate(pull.plan.rolls, start=1):
            counts = Counter((cut.label, cut.length_in) for cut in roll.cuts)
            for (label, length_in), count in counts.items():
                part = cut_for[label][1]
                rows[label].append(
                    CutRow(
                        mark=label.removesuffix(f" {part}"),
                        part=part,
                        count=count,
                        length_in=length_in,
                        width_in=pull.product.width_in,
                        roll=f"{pull.product.code} {pull.product.package} {number}",
                    )
                )
    return tuple(chain.from_iterable(rows.values()))


def _rows(items: Sequence[Computable], ready: Sequence[Assignment]) -> tuple[OpeningRow, ...]:
    rows = []
    for sequence, (item, assignment) in enumerate(zip(items, ready, strict=True), start=1):
        opening = item.opening
        weight = weight_of(item.facts, mounting=item.detail.mounting)
        lift = lift_of(weight.lb)
        rows.append(
            OpeningRow(
                sequence=sequence,
                job=opening.job.code,
                mark=opening.mark,
                floor=opening.floor,
                ro_width_in=opening.ro_width_in,
                ro_height_in=opening.ro_height_in,
                unit_width_in=opening.unit_width_in,
                unit_height_in=opening.unit_height_in,
                detail=opening.detail.name,
                method=item.detail.method,
                weight_lb=half_up(weight.lb, to=TENTH),
                weight_is_estimate=weight.is_estimate,
                people=lift.people,
                needs_aid=lift.needs_aid,
                person_h=assignment.person_h,
                remarks=opening.remarks,
            )
        )
    return tuple(rows)


def _digest(book: PullSheetBook) -> str:
    return hashlib.sha256(repr(book).encode()).hexdigest()
