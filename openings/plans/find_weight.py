"""Which weights of a schedule cannot be those of their units, and which of these somebody confirmed."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.errors import Fault
from openings.calc.facts import OpeningFacts
from openings.calc.figures import plain
from openings.calc.units import US
from openings.calc.weight_doubt import Doubt, doubt_of
from openings.errors import BadSchedule
from openings.plans.find_detail import labelled
from openings.schedules import Meaning, ScheduleRead, ScheduleRow

MOST_DOUBTS = 500
"""So many weights are asked about one by one; where more are wrong, the column is, not the weights (our choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeightDoubt:
    """A weight that somebody must mend or confirm.

    Args:
        said: weight, mark, size and glass in words; the answer that confirms just this.
        reason: why it cannot be.
    """

    row: int
    sheet: str
    mark: str
    said: str
    reason: str


class Weights:
    """Holds the weight of each row against its glass; what a person confirmed passes."""

    def __init__(self, read: ScheduleRead, *, confirmed: frozenset[str]) -> None:
        column = read.columns.get(Meaning.WEIGHT)
        self._heading = column.heading if column else Meaning.WEIGHT.value
        self._confirmed = confirmed
        self._doubts: dict[OpeningFacts, Doubt | None] = {}
        self._told: set[tuple[str, int]] = set()
        self.doubts: list[WeightDoubt] = []
        self.marks: list[str] = []

    def require(self, row: ScheduleRow, facts: OpeningFacts) -> None:
        """Refuse a row whose weight is in doubt and not confirmed.

        Raises:
            BadSchedule: one fault names the row, once.
        """
        doubt = self._doubt(facts)
        if doubt is None or (said := said_of(row, facts)) in self._confirmed:
            return
        if (row.sheet, row.row) in self._told:
            raise BadSchedule(doubt.detail)
        self._told.add((row.sheet, row.row))
        if len(self.doubts) < MOST_DOUBTS:
            self.doubts.append(WeightDoubt(row=row.row, sheet=row.sheet, mark=row.mark, said=said, reason=doubt.reason))
        kilograms = ". If the column is in kilograms, say so of the column" if doubt.may_be_kilograms else ""
        detail = f"{doubt.detail}, as “{said}”{kilograms}"
        raise BadSchedule(
            detail,
            faults=[
                Fault(field=labelled(self._heading, row), row=row.row, value=plain(doubt.weight_lb), detail=detail)
            ],
        )

    def note(self, mark: str, row: ScheduleRow, facts: OpeningFacts) -> None:
        """Keep that an opening of that mark has a weight that somebody confirmed, if it has."""
        if self._doubt(facts) is not None and said_of(row, facts) in self._confirmed:
            self.marks.append(mark)

    def _doubt(self, facts: OpeningFacts) -> Doubt | None:
        if facts.weight_lb is None:
            return None
        if facts not in self._doubts:
            self._doubts[facts] = doubt_of(facts)
        return self._doubts[facts]


def said_of(row: ScheduleRow, facts: OpeningFacts) -> str:
    """Return the weight of a row with all that it rests on, so that it is confirmed of nothing else."""
    glass = f"{' + '.join(map(US.say, facts.lites_in))} glass" if facts.lites_in else "glass not given"
    frame = f"{facts.frame_material} frame" if facts.frame_material else "frame not given"
    size = f"{US.say(facts.unit_width_in)} × {US.say(facts.unit_height_in)}"
    return f"{row.mark}: {plain(facts.weight_lb or 0)} lb, {size}, {glass}, {frame}"
