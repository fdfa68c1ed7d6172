"""What an opening uses up, added up."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from materials.calc.anchors import anchor_lines
from materials.calc.flashing import flashing_lines
from materials.calc.lines import DrawLine
from materials.calc.pan import pan_lines
from materials.calc.parts import Part
from materials.calc.sealant import sealant_lines
from materials.calc.shims import shim_lines
from openings.calc.facts import DetailFacts, OpeningFacts, require_fit


def draw_of(opening: OpeningFacts, detail: DetailFacts) -> tuple[DrawLine, ...]:
    """Return what one opening uses up, each line with its reason; every quantity is above 0 and unrounded.

    A part may stand on more than one line (shims at sill and jambs, two setting beads); `add_up` joins them.

    Raises:
        BadDetail: the opening cannot take the detail.
    """
    require_fit(opening, detail)
    return (
        *flashing_lines(opening, detail),
        *pan_lines(opening, detail),
        *sealant_lines(opening, detail),
        *anchor_lines(opening, detail),
        *shim_lines(opening, detail),
    )


def add_up(draws: Iterable[Iterable[DrawLine]]) -> dict[Part, Decimal]:
    """Return the total of each part over many openings, in the order of `Part`, unrounded."""
    totals: dict[Part, Decimal] = {}
    for lines in draws:
        for line in lines:
            part = line.rule.part
            totals[part] = totals.get(part, Decimal(0)) + line.quantity
    return {part: totals[part] for part in Part if part in totals}
