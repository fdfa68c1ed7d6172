"""One line of a draw, and the rule behind it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from typing import NamedTuple

from materials.calc.parts import MEASURES, Part
from materials.calc.product import Measure
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.units import US, Units

ONE = Decimal(1)


@dataclass(frozen=True, slots=True)
class Rule:
    """Why an opening takes so much of a part: in words and numbers, and where that comes from."""

    part: Part
    because: Callable[[OpeningFacts, DetailFacts, Units], str]
    source: str


class DrawLine(NamedTuple):
    """How much of one part one opening takes: `count` pieces of `each`, together `quantity`, unrounded.

    A tuple, since whole jobs make tens of thousands of them; the sentence is formed only when it is asked for.
    """

    rule: Rule
    count: int  # type: ignore[assignment]  # a line has no use for tuple.count
    each: Decimal
    quantity: Decimal
    opening: OpeningFacts
    detail: DetailFacts

    @property
    def part(self) -> Part:
        """The part, by its name in the trade."""
        return self.rule.part

    @property
    def unit(self) -> Measure:
        """What `each` and `quantity` are measured in."""
        return MEASURES[self.rule.part]

    @property
    def reason(self) -> str:
        """The reason in the trade's own measures."""
        return self.reason_in(US)

    def reason_in(self, units: Units) -> str:
        """Return part, quantity and how it came about, in words and numbers."""
        return f"{self.part}, {self._amount(units)}: {self.rule.because(self.opening, self.detail, units)}"

    @property
    def source(self) -> str:
        """Where the rule comes from."""
        return self.rule.source

    def _amount(self, units: Units) -> str:
        if self.unit is Measure.COUNT:
            return str(self.count)
        each = units.say(self.each, "cuin" if self.unit is Measure.VOLUME else "in")
        return each if self.count == 1 else f"{self.count} × {each}"


new_line: Callable[[tuple[Rule, int, Decimal, Decimal, OpeningFacts, DetailFacts]], DrawLine]
new_line = partial(tuple.__new__, DrawLine)
"""Makes a line from its fields in one tuple: half the time of `DrawLine(…)`, which counts for whole jobs."""


def counted(rule: Rule, count: int, opening: OpeningFacts, detail: DetailFacts) -> DrawLine:
    """Return a line of things that are counted."""
    return new_line((rule, count, ONE, Decimal(count), opening, detail))
