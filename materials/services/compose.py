"""A crew day put together as a pull sheet; read only, so that it can be compared before it is written."""

from __future__ import annotations

import hashlib
import logging
from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from typing import NamedTuple

from jobs.models import CrewDay
from materials.calc.caution import Caution
from materials.calc.furnish import Furnished
from materials.calc.parts import Part
from materials.calc.pull import Drawn, Pull, pull_of
from materials.calc.rolls import Cut
from materials.errors import PieceTooLong
from materials.models import PullSheet
from materials.queries import Choices, DayOfWork, cautions_of, ready_for
from materials.workbook import JobStop, OpeningRow, PullSheetBook
from openings.calc.figures import half_up
from openings.calc.unit_lift import lift_of_unit
from openings.models import Assignment, Opening
from openings.queries import Computable, computable

TENTH = Decimal("0.1")
log = logging.getLogger(__name__)

UNWRITTEN = datetime.min  # noqa: DTZ901 (a cell holds local time without a zone)


class CutFor(NamedTuple):
    """What a piece is for."""

    opening_id: int
    job: str
    mark: str
    part: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Composed:
    """What a pull sheet of a crew day says at this moment, before its rolls are planned and it has a revision.

    `basis` tells two of them apart by what the day needs and warns of; how the rolls are cut and which remnants lie
    there is not in it, nor is what moves on by itself in a caution, such as the miles an hour of a forecast.

    Args:
        unfit_parts: those for which the products do not do in some opening, as a caution says.
    """

    book: PullSheetBook
    pulls: tuple[Pull, ...]
    product_ids: dict[str, int]
    openings: tuple[Opening, ...]
    cut_for: dict[str, CutFor]
    unfit_parts: frozenset[str]
    basis: str


def compose(crew_day: CrewDay) -> Composed:
    """Return the sheet of a crew day. Ten queries at most, however many openings."""
    ready, held = ready_for([crew_day.pk])
    items = list(computable(assignment.opening for assignment in ready))
    choices = Choices({item.opening.detail_id for item in items})
    furnished = [choices.furnish(item) for item in items]
    drawn, cut_for, untold = _draw(items, furnished)
    pulls = pull_of(drawn, untold=untold)
    day = DayOfWork(crew_day=crew_day, items=tuple(items), held=tuple(held), drawn=tuple(furnished))
    cautions = cautions_of([day], choices)[crew_day.pk]
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
        staging=(),
        cuts=(),
        openings=_rows(items, ready),
        cautions=tuple(caution.text for caution in cautions),
    )
    return Composed(
        book=book,
        pulls=pulls,
        product_ids=choices.ids,
        openings=tuple(item.opening for item in items),
        cut_for=cut_for,
        unfit_parts=frozenset(fall.part for of_item in furnished for fall in of_item.faults),
        basis=_basis(book, pulls, cautions),
    )


def _basis(book: PullSheetBook, pulls: Sequence[Pull], cautions: Sequence[Caution]) -> str:
    """Return what two sheets of a crew day are told apart by. A caution counts by its key, not by its words."""
    compared = replace(book, cautions=tuple(caution.key for caution in cautions if caution.key))
    return hashlib.sha256(repr((compared, pulls)).encode()).hexdigest()


def pieces_of(crew_days: Collection[int]) -> dict[int, dict[str, tuple[Cut, ...]]]:
    """Return by crew day what is to be cut from each product, by its code. Two queries, however many crew days.

    One that cannot be put together is logged and left out: it must not keep other crews waiting.
    """
    ready, _ = ready_for(crew_days)
    items = list(computable(assignment.opening for assignment in ready))
    choices = Choices({item.opening.detail_id for item in items})
    by_day: dict[int, list[Computable]] = {}
    for assignment, item in zip(ready, items, strict=True):
        by_day.setdefault(assignment.crew_day_id, []).append(item)
    found = {}
    for crew_day, of_day in by_day.items():
        try:
            pulls = pull_of(_draw(of_day, [choices.furnish(item) for item in of_day])[0])
        except PieceTooLong as error:
            log.warning("No roll cuts for crew day %s: %s", crew_day, error)
        else:
            found[crew_day] = {pull.product.code: pull.pieces for pull in pulls if pull.product}
    return found


def _draw(
    items: Sequence[Computable], furnished: Sequence[Furnished]
) -> tuple[list[Drawn], dict[str, CutFor], dict[Part, str]]:
    """Return what the openings draw, what each piece is for, and the parts of which it cannot be told how much."""
    drawn, cut_for, untold = [], {}, {}
    for item, of_item in zip(items, furnished, strict=True):
        job, mark = item.opening.job.code, item.opening.mark
        lacks = of_item.lacks()
        for line, product in of_item.lines:
            why = "" if product else lacks.pop(line.part, "")
            drawn.append(Drawn(label=f"{job} {mark}", line=line, product=product, lacks=why))
            cut_for[f"{job} {mark} {line.part}"] = CutFor(item.opening.pk, job, mark, line.part)
        untold |= lacks
    return drawn, cut_for, untold


def _stops(items: Sequence[Computable]) -> tuple[JobStop, ...]:
    counts = Counter(item.opening.job for item in items)
    return tuple(
        JobStop(code=job.code, name=job.name, address=job.address, openings_count=count)
        for job, count in counts.items()
    )


def _rows(items: Sequence[Computable], ready: Sequence[Assignment]) -> tuple[OpeningRow, ...]:
    rows = []
    for sequence, (item, assignment) in enumerate(zip(items, ready, strict=True), start=1):
        opening = item.opening
        lift = lift_of_unit(item.facts, mounting=item.detail.mounting)
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
                weight_lb=half_up(lift.weight.lb, to=TENTH),
                weight_is_estimate=lift.weight.is_estimate,
                people=lift.people,
                needs_aid=lift.needs_aid,
                needs_decision=lift.needs_decision,
                person_h=assignment.person_h,
                remarks=opening.remarks,
            )
        )
    return tuple(rows)
