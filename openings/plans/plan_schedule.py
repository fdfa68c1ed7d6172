"""What taking a window schedule would do: read, matched with what stands in the job, nothing written."""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from django.db.models import QuerySet

from jobs.errors import Fault
from jobs.models import Job
from openings.calc.as_built import say_size
from openings.calc.binding import Answer, Decision, Verb, rescheduling, say_columns
from openings.calc.facts import OpeningFacts
from openings.calc.fingerprint import fingerprint_of
from openings.errors import BadSchedule
from openings.models import InstallationDetail, SenderLayout
from openings.models.opening import WEIGHED_BY
from openings.plans.find_detail import Details, labelled
from openings.plans.find_weight import WeightDoubt, Weights
from openings.plans.row_facts import SIDES, facts_of_row, facts_of_values, require_parts_of_row
from openings.queries.existing import ExistingOpening, existing_of
from openings.schedules import (
    MAX_MARK_LETTERS,
    Budget,
    Change,
    DifferenceLine,
    Matched,
    Pair,
    ScheduleRead,
    ScheduleRow,
    first_faults,
    layout_of,
    matched,
    read_apart,
)

MOST_OPENINGS = 200_000
"""How many openings one file may make (our choice: no building has more windows)."""

Say = Callable[[str, int], None]
"""What is being done, and how many percent are done."""


def say_nothing(_doing: str, _done_pct: int) -> None:
    """Leave progress unsaid."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedOpening:
    """One opening that a schedule row makes; the detail by name, sizes in inches."""

    mark: str
    row: ScheduleRow
    facts: OpeningFacts
    detail: str


@dataclass(frozen=True, kw_only=True)
class SchedulePlan:
    """What taking the file would do: nothing but this is done when it is taken.

    Args:
        openings: those it adds, in the order of the file.
        leaking: those of the faults that are details which let water in.
        doubts: given weights that the units cannot have and that nobody confirmed; each is a fault too.
        confirmed: marks of the openings it adds or changes whose weight somebody confirmed with the file.
        lines: everything else that it changes, what cannot be done included.
        unchanged: marks of the openings that stand as the file has them.
        by_hand: marks of the openings that somebody added and the file does not have; they stay.
        order: ids of the openings that stay, None for added ones, in the order of the job.
        has_openings: whether the job had openings of an earlier file.
    """

    sha256: str
    read: ScheduleRead
    openings: tuple[PlannedOpening, ...] = ()
    lines: tuple[DifferenceLine, ...] = ()
    unchanged: tuple[str, ...] = ()
    by_hand: tuple[str, ...] = ()
    new_details: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()
    leaking: tuple[Fault, ...] = ()
    has_openings: bool = False
    doubts: tuple[WeightDoubt, ...] = ()
    confirmed: frozenset[str] = frozenset()
    existing: Mapping[int, ExistingOpening]
    matched: Matched

    @property
    def columns(self) -> dict[str, str]:
        """What was read and from which heading."""
        read = self.read.columns
        return {meaning: f"{column.heading} (column {column.letter})" for meaning, column in read.items()}

    @property
    def notes(self) -> tuple[str, ...]:
        return self.read.notes

    @cached_property
    def fingerprint(self) -> str:
        """The same as long as the file would do the same to the job."""
        return fingerprint_of(self.openings, self.lines)

    @property
    def changes_nothing(self) -> bool:
        return not self.openings and not self.lines


def read_for_job(job_id: int, *, filename: str, content: bytes, mapping: Any, budget: Budget) -> ScheduleRead:
    """Return what a file says, read apart as it was settled for it or for earlier files of the job. One query.

    Raises:
        BadSchedule: the file as a whole or the mapping cannot be taken, or reading it takes more than the budget.
        ReadersBusy: too many files are being read.
    """
    kept = SenderLayout.objects.filter(job=job_id).values_list("fingerprint", "layout")
    remembered = {fingerprint: layout_of(layout) for fingerprint, layout in kept}
    return read_apart(
        filename=filename, content=content, settled=layout_of(mapping), remembered=remembered, budget=budget
    )


def plan_schedule(
    job: Job,
    own_details: QuerySet[InstallationDetail],
    read: ScheduleRead,
    *,
    sha256: str,
    detail: str,
    confirmed: Collection[str] = (),
    say: Say = say_nothing,
) -> SchedulePlan:
    """Return what taking the file that was read would do. A wrong row is a fault of the plan, not raised.

    Args:
        confirmed: the weights that somebody confirmed, as `Layout.weights`.

    Raises:
        BadSchedule: it makes more openings than any building has.
    """
    count = sum(row.quantity for row in read.rows)
    if count > MOST_OPENINGS:
        raise BadSchedule(f"the file makes {count:,} openings; at most {MOST_OPENINGS:,} fit in one file")
    say(f"comparing {count:,} openings with the job", 50)
    existing = existing_of(job.pk)
    pairs = matched(read.rows, [one.existing for one in existing.values()])
    details = Details(job, own_details.filter(job=job), default=detail)
    lines = _Lines(read, details, existing, Weights(read, confirmed=frozenset(confirmed)))
    lines.go_through(pairs)
    say("finding what is wrong", 90)
    faults = [*read.faults, *lines.faults, *_marks_taken(job, pairs.pairs, existing.values())]
    return SchedulePlan(
        sha256=sha256,
        read=read,
        openings=tuple(lines.added),
        lines=tuple(lines.changed),
        unchanged=tuple(lines.unchanged),
        by_hand=tuple(one.mark for one in pairs.by_hand),
        new_details=tuple(details.taken),
        leaking=tuple(details.leaking),
        faults=first_faults(sorted(faults, key=lambda fault: (fault.row is None, fault.row or 0, fault.field))),
        has_openings=any(not one.existing.is_by_hand for one in existing.values()),
        doubts=tuple(lines.weights.doubts),
        confirmed=frozenset(lines.weights.marks),
        existing=existing,
        matched=pairs,
    )


class _Lines:
    """What each row does, gone through in the order of the file."""

    def __init__(
        self, read: ScheduleRead, details: Details, existing: Mapping[int, ExistingOpening], weights: Weights
    ) -> None:
        self.weights = weights
        self._read = read
        self._details = details
        self._existing = existing
        self._facts: dict[Hashable, tuple[str, OpeningFacts]] = {}
        self._texts = [name for name in ("operation", "floor", "remarks") if name in read.columns]
        self.added: list[PlannedOpening] = []
        self.changed: list[DifferenceLine] = []
        self.unchanged: list[str] = []
        self.faults: list[Fault] = []

    def go_through(self, found: Matched) -> None:
        row, planned = None, None
        for pair in found.pairs:
            if pair.existing is not None:
                self._compare(pair, self._existing[pair.existing.opening_id])
                continue
            if pair.row is not row:
                row, planned = pair.row, self._planned(pair.row)
            if planned is not None:
                name, facts = planned
                self.weights.note(pair.mark, pair.row, facts)
                self.added.append(PlannedOpening(mark=pair.mark, row=pair.row, facts=facts, detail=name))
        for missing in found.missing:
            one = self._existing[missing.opening_id]
            self.changed.append(
                DifferenceLine(
                    change=Change.REMOVED,
                    mark=missing.mark,
                    schedule_mark=missing.schedule_mark,
                    opening_id=missing.opening_id,
                    hindrance=one.decide(Verb.REMOVE).why_refused,
                )
            )

    def _planned(self, row: ScheduleRow) -> tuple[str, OpeningFacts] | None:
        """Return the detail and the facts of a row that makes new openings, or None where it is wrong."""
        alike = (row.detail, *(getattr(row, side) for side in SIDES), row.operation, row.weight_lb, *row.facts.items())
        try:
            if alike not in self._facts:
                name, detail = self._details.find(row, self._read)
                self._details.require_shedding(name, row, self._read)
                sides = {side: getattr(row, side) for side in SIDES}
                facts = facts_of_row(row, sides, detail, name)
                require_parts_of_row(row, {**row.facts, **{side: getattr(facts, side) for side in SIDES}})
                self._facts[alike] = name, facts
            self.weights.require(row, self._facts[alike][1])
            return self._facts[alike]
        except BadSchedule as error:
            self.faults.extend(error.faults)
            return None

    def _compare(self, pair: Pair, one: ExistingOpening) -> None:
        try:
            new = self._new_values(pair.row, one)
        except BadSchedule as error:
            self.faults.extend(error.faults)
            return
        differing = [name for name, value in new.items() if value != one.values[name]]
        if not differing and not one.existing.is_void:
            self.unchanged.append(pair.mark)
            return
        decision = one.decide(rescheduling(differing))
        restored = one.decide(Verb.RESTORE).why_refused if one.existing.is_void else ""
        hindrance = restored or _voided_by_hand(one) or decision.why_refused or _does_not_go_in(one, new)
        if not hindrance and not set(WEIGHED_BY).isdisjoint(differing):
            facts = facts_of_values(new)
            try:
                self.weights.require(pair.row, facts)
            except BadSchedule as error:
                self.faults.extend(error.faults)
                return
            self.weights.note(pair.mark, pair.row, facts)
        self.changed.append(
            DifferenceLine(
                change=Change.RESTORED if one.existing.is_void else Change.CHANGED,
                mark=pair.mark,
                schedule_mark=one.existing.schedule_mark,
                row=pair.row.row,
                sheet=pair.row.sheet,
                opening_id=one.existing.opening_id,
                old={name: one.values[name] for name in differing},
                new={name: new[name] for name in differing},
                hindrance=hindrance,
                follows="" if hindrance else "; ".join(_follows(one, decision, differing)),
            )
        )

    def _new_values(self, row: ScheduleRow, one: ExistingOpening) -> dict[str, Any]:
        """Return the values that an opening has by the row; what the file does not speak of stays."""
        values = dict(one.values)
        said = {name: getattr(row, name) for name in self._texts}
        if row.floor:
            said["floor"] = row.floor
        if row.weight_lb is not None:
            said["weight_lb"] = row.weight_lb
        said |= row.facts
        name = self._details.find(row, self._read)[0] if row.detail else values["detail"]
        if name != values["detail"]:
            self._details.require_shedding(name, row, self._read)
        sides = {side: given for side in SIDES if (given := getattr(row, side)) is not None}
        if name != values["detail"] or any(values[side] != given for side, given in sides.items()):
            facts = facts_of_row(row, dict.fromkeys(SIDES) | sides, self._details.facts_of(name), name)
            said |= {side: getattr(facts, side) for side in SIDES}
        require_parts_of_row(row, values | said)
        return values | said | {"detail": name}


def _voided_by_hand(one: ExistingOpening) -> str:
    """Return why a void opening stays void though the file has it: somebody made it void; nothing where nobody did."""
    return f"{one.voided_by_hand}; restore it on its page if it is to be set" if one.voided_by_hand else ""


def _does_not_go_in(one: ExistingOpening, new: Mapping[str, Any]) -> str:
    """Return why the unit that a row gives does not go into the opening as built; nothing where it does."""
    unit_in = (new["unit_width_in"], new["unit_height_in"])
    if one.built_in is None or (unit_in[0] <= one.built_in[0] and unit_in[1] <= one.built_in[1]):
        return ""
    return (
        f"its rough opening is {say_size(one.built_in)} as built, and a unit of {say_size(unit_in)} does not go in; "
        "correct the row, or open the framing up and measure again"
    )


def _follows(one: ExistingOpening, decision: Decision, differing: Collection[str]) -> Iterator[str]:
    """Yield what comes of a change beside the change itself, and what of it goes over what somebody entered."""
    if one.existing.is_by_hand:
        yield "it was added by hand; from now on it belongs to the schedule"
    elif by_hand := [name for name in differing if name in one.changed_by_hand]:
        yield f"changed by hand before: {say_columns(by_hand)}; what the file says replaces that"
    if one.built_in and not {"ro_width_in", "ro_height_in"}.isdisjoint(differing):
        yield f"its rough opening stays {say_size(one.built_in)} as built; the drawn size alone changes"
    if decision.by and decision.answer is Answer.HOLD:
        yield f"{decision.by.said}: it goes on hold, and an issued pull sheet is updated within a minute"


def _marks_taken(job: Job, pairs: Sequence[Pair], existing: Collection[ExistingOpening]) -> Iterator[Fault]:
    """Yield a fault for each row with a mark that another opening of the job or of the file has."""
    seen = {one.existing.mark: f"is already in {job.code}" for one in existing}
    told = set()
    for pair in pairs:
        row, problem = pair.row, ""
        if pair.existing is None and pair.mark in seen:
            problem = f"mark {pair.mark} {seen[pair.mark]}; every opening needs a mark of its own"
        elif len(pair.mark) > MAX_MARK_LETTERS:
            problem = f"mark {pair.mark} has {len(pair.mark)} letters; at most {MAX_MARK_LETTERS} are kept"
        if problem and (row.sheet, row.row) not in told:
            told.add((row.sheet, row.row))
            yield Fault(field=labelled("mark", row), row=row.row, value=row.mark, detail=problem)
        seen[pair.mark] = f"is already used by row {row.row}"
