"""How far the install of an opening is, step by step."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.errors import Conflict
from openings.calc.lay_order import Step, first_missing, steps_for
from openings.calc.units import US, Units
from openings.models import InstallRecord, Opening, StepRecord


@dataclass(frozen=True, slots=True, kw_only=True)
class LayLine:
    """One step of the lay order: recorded, or next, or waiting for the step of another number."""

    number: int
    step: Step
    recorded: StepRecord | None
    waits_for_number: int | None

    @property
    def is_next(self) -> bool:
        return self.recorded is None and self.waits_for_number is None


@dataclass(frozen=True, slots=True, kw_only=True)
class Install:
    """The lay order of an opening and what is recorded of it; `record` is None before the start."""

    record: InstallRecord | None
    lines: tuple[LayLine, ...]

    @property
    def recorded_count(self) -> int:
        return sum(line.recorded is not None for line in self.lines)

    @property
    def next_line(self) -> LayLine | None:
        """The first step that may be done now."""
        return next((line for line in self.lines if line.is_next), None)

    @property
    def is_laid(self) -> bool:
        """Whether every step is recorded."""
        return self.recorded_count == len(self.lines)

    @property
    def recorded_person_h(self) -> Decimal:
        return sum((hours.person_h for hours in self.record.hours.all()), Decimal(0)) if self.record else Decimal(0)


def install_of(opening: Opening, *, units: Units = US) -> Install:
    """Return the install of an opening whose detail is joined. Four queries at most."""
    records = InstallRecord.objects.select_related("crew", "started_by", "done_by")
    record = records.prefetch_related("steps__recorded_by", "hours").filter(opening=opening).first()
    recorded = {step.step: step for step in record.steps.all()} if record else {}
    lines = _lay_lines(steps_for(opening.detail.as_facts(), units=units), recorded)
    return Install(record=record, lines=tuple(lines))


def _lay_lines(steps: Sequence[Step], recorded: Mapping[str, StepRecord]) -> Iterator[LayLine]:
    numbers = {step.code: number for number, step in enumerate(steps, start=1)}
    for step in steps:
        missing = first_missing(step.code, done=recorded.keys(), steps=steps)
        yield LayLine(
            number=numbers[step.code],
            step=step,
            recorded=recorded.get(step.code),
            waits_for_number=numbers[missing.code] if missing else None,
        )


def record_id_of(opening_id: int) -> int:
    """Return the id of the install record of an opening. One query.

    Raises:
        Conflict: its install is not started.
    """
    record = InstallRecord.objects.filter(opening=opening_id).only("pk").first()
    if record is None:
        raise Conflict("the install of this opening has not been started; start it first")
    return record.pk
