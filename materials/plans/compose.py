"""A crew day put together as a pull sheet; read only, so that it can be compared before it is written."""

from __future__ import annotations

import logging
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple

from jobs.models import CrewDay
from materials.calc.attachment import how_held
from materials.calc.basis import (
    CARRIED_ON,
    CAUTION,
    DAY,
    JOB,
    LACKING,
    OPENING,
    PRODUCT,
    VERSION,
    WAITS,
    Basis,
    Figures,
    Topic,
    figures,
)
from materials.calc.caution import Caution
from materials.calc.load_list import add_up, load_list
from materials.calc.parts import Part
from materials.calc.product import Measure
from materials.calc.pull import Drawn, Pull, pull_of
from materials.calc.rolls import Cut
from materials.calc.supply import Supplied
from materials.errors import PieceTooLong
from materials.models import PullSheet
from materials.queries import Choices, DayOfWork, cautions_of, is_stopped, ready_for
from materials.queries.short_crew import ShortCrew, short_crews
from materials.workbook import HeldRow, JobStop, OpeningRow, PullSheetBook, ToolRow
from openings.calc.figures import half_up, plain
from openings.calc.lay_order import steps_for
from openings.calc.step_code import StepCode
from openings.calc.unit_lift import lift_of_unit
from openings.models import Opening
from openings.queries import Computable, Laid, computable, laid_by

if TYPE_CHECKING:
    from materials.queries.pull_sheet import ListedAssignment

TENTH = Decimal("0.1")
ALL_STEPS = frozenset(StepCode)
NOT_CUT = frozenset({"trim_in", "shortest_remnant_in", "attachment"})
"""What matters of a product only where it is cut from rolls."""

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
        product_ids: by the code of the product.
        untested: the cautions that are no reason for a revision.
        unfit_parts: those for which the products do not do in some opening, as a caution says.
        tools_by_detail: what the openings of a detail take along, by the id of the detail.
    """

    book: PullSheetBook
    pulls: tuple[Pull, ...]
    product_ids: dict[str, int]
    openings: tuple[Opening, ...]
    cut_for: dict[str, CutFor]
    untested: tuple[str, ...]
    unfit_parts: frozenset[str]
    basis: Basis
    tools_by_detail: dict[int, tuple[ToolRow, ...]]


def compose(crew_day: CrewDay) -> Composed:
    """Return the sheet of a crew day. Eleven queries at most, however many openings."""
    ready, held = ready_for([crew_day.pk])
    stops = list(_stops_of(ready))
    choices = Choices({stop.item.opening.detail_id for stop in stops})
    supplied = [choices.supply(stop.item, laid=stop.not_drawn) for stop in stops]
    to_set = [(stop, drawn) for stop, drawn in zip(stops, supplied, strict=True) if not stop.is_stopped]
    items = [stop.item for stop, _ in to_set]
    drawn, cut_for, unknown = _draw(stops, supplied)
    pulls = pull_of(drawn, unknown=unknown)
    day = DayOfWork(
        crew_day=crew_day, items=tuple(items), held=tuple(held), drawn=tuple(of_item for _, of_item in to_set)
    )
    cautions = cautions_of([day], choices)[crew_day.pk]
    short = short_crews((stop.assignment for stop, _ in to_set if not stop.is_fastened), crew_day.crew)
    warned: tuple[Caution | ShortCrew, ...] = (*cautions, *short)
    book = PullSheetBook(
        number=PullSheet(crew_day=crew_day).number,
        revision=1,
        crew=crew_day.crew.name,
        truck=crew_day.crew.truck,
        on=crew_day.on,
        people_count=crew_day.crew.people_count,
        capacity_person_h=crew_day.capacity_person_h,
        assigned_person_h=sum((stop.assignment.person_h for stop, _ in to_set), Decimal(0)),
        written_at=UNWRITTEN,
        jobs=_stops(items),
        staging=(),
        cuts=(),
        openings=_rows(stops),
        cautions=tuple(caution.text for caution in warned),
        nothing_to_set=_nothing_to_set(crew_day, items),
        tools=_tools(to_set),
        held=_held(to_set),
    )
    return Composed(
        book=book,
        pulls=pulls,
        product_ids=choices.ids,
        openings=tuple(stop.item.opening for stop in stops),
        cut_for=cut_for,
        untested=tuple(caution.text for caution in cautions if not caution.key),
        unfit_parts=frozenset(fall.part for of_item in supplied for fall in of_item.faults),
        basis=_basis(book, stops, pulls, choices.ids, cut_for, warned),
        tools_by_detail=_tools_by_detail(to_set),
    )


def _basis(
    book: PullSheetBook,
    stops: Sequence[_Stop],
    pulls: Sequence[Pull],
    product_ids: Mapping[str, int],
    cut_for: Mapping[str, CutFor],
    cautions: Iterable[Caution | ShortCrew],
) -> Basis:
    """Return what the sheet is compared by: the figures that `materials.calc.basis` lists, and no other."""
    supplied = [(str(product_ids[pull.product.code]), pull) for pull in pulls if pull.product]
    return Basis(
        version=VERSION,
        topics={
            Topic.OPENINGS: {
                str(stop.item.opening.pk): figures(
                    row,
                    OPENING,
                    remarks=stop.item.opening.remarks,
                    steps_done=len(stop.laid.here if stop.is_stopped else stop.laid.before),
                    stopped=stop.stopped,
                )
                for stop, row in zip(stops, book.openings, strict=True)
            },
            Topic.JOBS: {str(stop.item.opening.job_id): figures(stop.item.opening.job, JOB) for stop in stops},
            Topic.DAY: {Topic.DAY: figures(book, DAY)},
            Topic.PRODUCTS: {key: _product_figures(pull) for key, pull in supplied},
            Topic.CUTS: {key: _cut_figures(pull.pieces, cut_for) for key, pull in supplied if pull.pieces},
            Topic.LACKING: {", ".join(pull.parts): figures(pull, LACKING) for pull in pulls if not pull.product},
            Topic.CAUTIONS: {one.key: figures(one, CAUTION) for one in cautions if one.key},
        },
    )


def _product_figures(pull: Pull) -> Figures:
    is_cut = pull.measure is Measure.LENGTH
    names = [name for name in PRODUCT if is_cut or name not in NOT_CUT]
    return figures(pull.product, names, parts=", ".join(pull.parts), quantity=pull.quantity, measure=pull.measure)


def _cut_figures(pieces: Iterable[Cut], cut_for: Mapping[str, CutFor]) -> Figures:
    """Return by opening how long the pieces are that are cut for it, the longest first."""
    lengths: dict[str, list[Decimal]] = {}
    for piece in pieces:
        lengths.setdefault(str(cut_for[piece.label].opening_id), []).append(piece.length_in)
    return {opening: ", ".join(map(plain, sorted(of_it, reverse=True))) for opening, of_it in lengths.items()}


def pieces_of(crew_days: Collection[int]) -> dict[int, dict[str, tuple[Cut, ...]]]:
    """Return by crew day what is to be cut from each product, by its code. Three queries at most.

    One that cannot be put together is logged and left out: it must not keep other crews waiting.
    """
    ready, _ = ready_for(crew_days)
    stops = list(_stops_of(ready))
    choices = Choices({stop.item.opening.detail_id for stop in stops})
    by_day: dict[int, list[_Stop]] = {}
    for stop in stops:
        by_day.setdefault(stop.assignment.crew_day_id, []).append(stop)
    found = {}
    for crew_day, of_day in by_day.items():
        try:
            supplied = [choices.supply(stop.item, laid=stop.not_drawn) for stop in of_day]
            pulls = pull_of(_draw(of_day, supplied)[0])
        except PieceTooLong as error:
            log.warning("No roll cuts for crew day %s: %s", crew_day, error)
        else:
            found[crew_day] = {pull.product.code: pull.pieces for pull in pulls if pull.product}
    return found


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stop:
    """One opening of a sheet, and what was laid of it before the day and on it."""

    assignment: ListedAssignment
    item: Computable
    laid: Laid

    @property
    def not_drawn(self) -> Set[str]:
        """The steps for which the day's truck brings nothing: laid before, or not here and not to be set any more."""
        return ALL_STEPS - self.laid.here if self.is_stopped else self.laid.before

    @property
    def is_stopped(self) -> bool:
        """Whether the day sets nothing more of it."""
        return is_stopped(self.assignment)

    @property
    def stopped(self) -> str:
        """How the day stopped setting it; nothing where it did not."""
        return "" if not self.is_stopped else CARRIED_ON if self.assignment.withdrawn_at else WAITS

    @property
    def is_fastened(self) -> bool:
        """Whether the unit is lifted no more."""
        return StepCode.FASTEN in self.laid.before

    @property
    def said(self) -> str:
        """Where the crew goes on in an opening that was begun before, or stopped; nothing for any other."""
        steps = steps_for(self.item.detail)
        if self.is_stopped:
            here = sum(step.code in self.laid.here for step in steps)
            now = "it is carried on elsewhere" if self.assignment.withdrawn_at else "the rest waits to be carried on"
            return f"{here} of {len(steps)} steps were laid; {now}"
        if not self.laid.before:
            return ""
        left = [step for step in steps if step.code not in self.laid.before]
        go_on = f"go on with: {left[0].title}" if left else "every step is recorded"
        return f"begun before, {len(steps) - len(left)} of {len(steps)} steps are laid; {go_on}"


def _stops_of(ready: Sequence[ListedAssignment]) -> Iterator[_Stop]:
    """Yield what a sheet lists; what is carried on elsewhere only where some of it was laid on the day.

    One query where an opening was begun.
    """
    begun = [assignment for assignment in ready if assignment.begun]
    laid = laid_by(begun) if begun else {}
    items = computable(assignment.opening for assignment in ready)
    for assignment, item in zip(ready, items, strict=True):
        stop = _Stop(assignment=assignment, item=item, laid=laid.get(assignment.pk, Laid()))
        if stop.laid.here or not stop.is_stopped:
            yield stop


def _tools(to_set: Sequence[tuple[_Stop, Supplied]]) -> tuple[ToolRow, ...]:
    """Return the tools and small supplies that the day takes: amounts added, one of each tool."""
    lists = (load_list(drawn.lines, stop.item.detail, laid=stop.laid.before) for stop, drawn in to_set)
    return tuple(ToolRow(name=item.name, amount=item.amount, why=item.why) for item in add_up(lists))


def _tools_by_detail(to_set: Sequence[tuple[_Stop, Supplied]]) -> dict[int, tuple[ToolRow, ...]]:
    by_detail: dict[int, list[tuple[_Stop, Supplied]]] = {}
    for stop, drawn in to_set:
        by_detail.setdefault(stop.item.opening.detail_id, []).append((stop, drawn))
    return {detail_id: _tools(of_detail) for detail_id, of_detail in by_detail.items()}


def _held(to_set: Sequence[tuple[_Stop, Supplied]]) -> tuple[HeldRow, ...]:
    """Return how each part is held that the day lays; where details differ in it, by detail."""
    said: dict[Part, dict[str, dict[str, None]]] = {}
    for stop, drawn in to_set:
        for one in how_held(drawn.lines, stop.item.detail):
            said.setdefault(one.part, {}).setdefault(one.said, {})[stop.item.opening.detail.name] = None
    return tuple(
        HeldRow(part=str(part) if _is_one_way(ways) else f"{part}, {', '.join(details)}", said=text)
        for part, ways in said.items()
        for text, details in ways.items()
    )


def _is_one_way(ways: Mapping[str, Mapping[str, None]]) -> bool:
    """Return whether all details hold a part alike."""
    return len({tuple(details) for details in ways.values()}) <= 1


def _nothing_to_set(crew_day: CrewDay, items: Sequence[Computable]) -> str:
    if crew_day.is_off:
        reason = crew_day.off_reason.rstrip(".")
        return f"{crew_day.crew} is off this day: {reason}. Nothing {'more ' if items else ''}is set."
    return "" if items else "No opening that can be set is assigned to this day. Nothing is set."


def _draw(
    stops: Sequence[_Stop], supplied: Sequence[Supplied]
) -> tuple[list[Drawn], dict[str, CutFor], dict[Part, str]]:
    """Return what the openings draw, what each piece is for, and the parts of which it cannot be told how much."""
    drawn: list[Drawn] = []
    cut_for: dict[str, CutFor] = {}
    unknown: dict[Part, str] = {}
    for stop, of_item in zip(stops, supplied, strict=True):
        opening = stop.item.opening
        job, mark = opening.job.code, opening.mark
        lacks = of_item.lacks()
        for line, product in of_item.lines:
            why = "" if product else lacks.pop(line.part, "")
            drawn.append(Drawn(label=f"{job} {mark}", line=line, product=product, lacks=why))
            cut_for[f"{job} {mark} {line.part}"] = CutFor(opening.pk, job, mark, line.part)
        unknown |= lacks
    return drawn, cut_for, unknown


def _stops(items: Sequence[Computable]) -> tuple[JobStop, ...]:
    counts = Counter(item.opening.job for item in items)
    return tuple(
        JobStop(code=job.code, name=job.name, address=job.address, openings_count=count)
        for job, count in counts.items()
    )


def _rows(stops: Sequence[_Stop]) -> tuple[OpeningRow, ...]:
    rows = []
    for sequence, stop in enumerate(stops, start=1):
        item, assignment, opening = stop.item, stop.assignment, stop.item.opening
        lift = lift_of_unit(item.facts, mounting=item.detail.mounting)
        rows.append(
            OpeningRow(
                sequence=sequence,
                job=opening.job.code,
                mark=opening.mark,
                floor=opening.floor,
                ro_width_in=opening.ro_width_in,
                ro_height_in=opening.ro_height_in,
                built_ro_width_in=opening.built_ro_width_in,
                built_ro_height_in=opening.built_ro_height_in,
                unit_width_in=opening.unit_width_in,
                unit_height_in=opening.unit_height_in,
                detail=opening.detail.name,
                method=item.detail.method,
                weight_lb=half_up(lift.weight.lb, to=TENTH),
                weight_is_estimate=lift.weight.is_estimate,
                people=lift.people,
                needs_aid=lift.needs_aid,
                needs_decision=lift.needs_decision,
                person_h=Decimal(0) if stop.is_stopped else assignment.person_h,
                remarks="; ".join(filter(None, (stop.said, opening.remarks))),
            )
        )
    return tuple(rows)
