"""What follows from how a strip or membrane is held: where it is fastened or stuck, and where it is left loose."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from decimal import Decimal
from typing import NamedTuple, TypeAlias

from jobs.calc.sentence import Sentence
from materials.calc.laying import step_of
from materials.calc.lines import DrawLine
from materials.calc.parts import Part
from materials.calc.product import Attachment, ProductFacts
from materials.calc.served import STRIPS
from materials.calc.supply import SuppliedLine
from openings.calc.facts import DetailFacts
from openings.calc.figures import ceil_ratio
from openings.calc.lay_looks import KEEP_OUT_IN
from openings.calc.step_code import StepCode
from openings.calc.units import US, Units

EDGE_SPACING_IN = Decimal(6)
"""From one staple or cap nail to the next along the edge of a mechanically attached strip (our choice)."""

Figures: TypeAlias = dict[str, str]

STUCK = STRIPS | {Part.PAN_MEMBRANE, Part.HEAD_MEMBRANE}
"""The parts that lie on the wall, stuck or fastened."""


class Held(NamedTuple):
    """How a part is held that is laid in a step, in words."""

    step: StepCode
    part: Part
    said: Sentence


def how_held(lines: Iterable[SuppliedLine], detail: DetailFacts, *, units: Units = US) -> tuple[Held, ...]:
    """Return how each strip and membrane is held, by the product that is chosen for it.

    One whose product does not say how it is held is left out.

    Source:
        Sill strip fastened at its top edge only, nothing in its lower edge nor in the last 9 in at each end: AAMA
        2400-10 cl. 5.7.3.3. At the bottom of a jamb strip: from memory. Rolled: JLC, choosing flexible flashings 3.
    """
    held = {
        Held(step_of(line), line.part, said): None
        for line, product in lines
        if product and line.part in STUCK
        for said in _said(line.part, product, detail, units)
    }
    return tuple(held)


def edge_fasteners(line: DrawLine) -> int:
    """Return how many staples or cap nails hold the strips of a line along the one edge that may be fastened.

    One at each end of what may be fastened, and none farther than the spacing from the next.
    """
    open_in = max(line.each - _left_loose_in(line.part, line.detail), Decimal(0))
    return line.count * (ceil_ratio(open_in, EDGE_SPACING_IN) + 1)


def _left_loose_in(part: Part, detail: DetailFacts) -> Decimal:
    """Return how much of the length of a strip stays loose for a barrier that follows."""
    if detail.barrier_before_window:
        return Decimal(0)
    ends = {Part.SILL_STRIP: 2, Part.JAMB_STRIP: 1}.get(part, 0)
    return ends * KEEP_OUT_IN


def _said(part: Part, product: ProductFacts, detail: DetailFacts, units: Units) -> Iterator[Sentence]:
    figures = {"product": product.name, "spacing": units.say(EDGE_SPACING_IN), "end": units.say(KEEP_OUT_IN)}
    if product.attachment is Attachment.MECHANICAL and part in _FASTENED:
        yield _FASTENED[part](detail, figures)
    if product.attachment is Attachment.SELF_ADHERED:
        if product.needs_primer:
            yield Sentence("{product}: prime the wall first, and lay it once the primer is dry to the touch", **figures)
        yield _STUCK.get(part, _pressed)(detail, figures)


def _sill_fastened(detail: DetailFacts, figures: Figures) -> Sentence:
    if detail.barrier_before_window:
        return Sentence(
            "{product}: fasten it along its top edge only, at the rough opening, at most {spacing} apart, so that the "
            "unit covers every fastener",
            **figures,
        )
    return Sentence(
        "{product}: fasten it along its top edge only, at the rough opening, at most {spacing} apart; nothing in its "
        "lower edge, nor in the last {end} at each end",
        **figures,
    )


def _jambs_fastened(detail: DetailFacts, figures: Figures) -> Sentence:
    if detail.barrier_before_window:
        return Sentence("{product}: fasten each along one edge only, at most {spacing} apart", **figures)
    return Sentence(
        "{product}: fasten each along one edge only, at most {spacing} apart; nothing in the last {end} at the bottom",
        **figures,
    )


def _top_fastened(_detail: DetailFacts, figures: Figures) -> Sentence:
    return Sentence("{product}: fasten it along its top edge only, at most {spacing} apart", **figures)


def _sill_stuck(detail: DetailFacts, figures: Figures) -> Sentence:
    if detail.barrier_before_window:
        return _pressed(detail, figures)
    return Sentence(
        "{product}: leave the release paper on along its lower edge and on the last {end} at each end, where the WRB "
        "goes up behind it; roll the rest down hard",
        **figures,
    )


def _jambs_stuck(detail: DetailFacts, figures: Figures) -> Sentence:
    if detail.barrier_before_window:
        return _pressed(detail, figures)
    return Sentence(
        "{product}: leave the release paper on the last {end} at the bottom of each, where the WRB goes up behind it; "
        "roll the rest down hard",
        **figures,
    )


def _pressed(_detail: DetailFacts, figures: Figures) -> Sentence:
    return Sentence(
        "{product}: peel the release paper as it goes on, and roll it down hard from the middle out", **figures
    )


_FASTENED: dict[Part, Callable[[DetailFacts, Figures], Sentence]] = {
    Part.SILL_STRIP: _sill_fastened,
    Part.JAMB_STRIP: _jambs_fastened,
    Part.HEAD_STRIP: _top_fastened,
    Part.COUNTER_FLASHING_STRIP: _top_fastened,
}
_STUCK: dict[Part, Callable[[DetailFacts, Figures], Sentence]] = {
    Part.SILL_STRIP: _sill_stuck,
    Part.JAMB_STRIP: _jambs_stuck,
}
