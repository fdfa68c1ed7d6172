"""What the crew takes in hand at each step of a field card, and with which rod it seals inside."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from typing import NamedTuple

from jobs.calc.sentence import Sentence
from materials.calc.joint import joint_depth_in, rod_diameter_in, sealed_joints
from materials.calc.laying import step_of
from materials.calc.lines import DrawLine
from materials.calc.parts import Part
from materials.calc.product import Measure
from materials.calc.supply import SuppliedLine
from materials.errors import GapTooWide
from openings.calc.card import Seal
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import TWO_PLACES, half_up, plain
from openings.calc.step_code import StepCode
from openings.calc.units import US, Units

PARTS: dict[Part, Sentence] = {
    Part.SILL_STRIP: Sentence("sill strip"),
    Part.JAMB_STRIP: Sentence("jamb strips"),
    Part.HEAD_STRIP: Sentence("head strip"),
    Part.COUNTER_FLASHING_STRIP: Sentence("strip over the drip cap"),
    Part.PAN_MEMBRANE: Sentence("pan membrane"),
    Part.HEAD_MEMBRANE: Sentence("head membrane"),
    Part.CORNER_PIECE: Sentence("corner pieces"),
    Part.DRIP_CAP: Sentence("drip cap"),
    Part.CASING_JOINT_BEAD: Sentence("sealant for the joint of casing and jamb"),
    Part.SETTING_BEAD: Sentence("sealant for the bead of the unit"),
    Part.FLANGE_BEAD: Sentence("sealant for the bead of the flange"),
    Part.AIR_SEAL_BEAD: Sentence("sealant for the air seal"),
    Part.BACKER_ROD: Sentence("backer rod"),
    Part.STRAP: Sentence("straps"),
    Part.JAMB_SCREW: Sentence("screws into the jambs of the unit"),
    Part.FRAMING_SCREW: Sentence("screws into the framing"),
    Part.FLANGE_FASTENER: Sentence("fasteners of the flange"),
    Part.SHIM: Sentence("shims"),
    Part.PRIMER: Sentence("primer"),
}
"""What each part is called on a card, where a crew reads it."""


class Take(NamedTuple):
    """One thing to take in hand: how much of it, and the product; no product where none is chosen."""

    part: Sentence
    amount: str
    product: str


class Takes(NamedTuple):
    """What is taken by step, and what goes under all of it (primer)."""

    by_step: Mapping[StepCode, tuple[Take, ...]]
    under_all: tuple[Take, ...]


def takes_of(lines: Sequence[DrawLine], supplied: Sequence[SuppliedLine], *, units: Units = US) -> Takes:
    """Return what is taken in hand at each step.

    Args:
        lines: the draw of one opening.
        supplied: the same lines with their products in the same order, then the primer.
    """
    by_step: dict[StepCode, list[SuppliedLine]] = {}
    for line, with_product in zip(lines, supplied, strict=False):
        by_step.setdefault(step_of(line), []).append(with_product)
    return Takes(
        {code: tuple(_together(taken, units)) for code, taken in by_step.items()},
        tuple(_together(supplied[len(lines) :], units)),
    )


def _together(taken: Iterable[SuppliedLine], units: Units) -> Iterator[Take]:
    """Yield what is taken part by part: counts and beads of several lines added up, lengths beside each other."""
    by_part: dict[Part, list[SuppliedLine]] = {}
    for one in taken:
        by_part.setdefault(one.line.part, []).append(one)
    for part, lines in by_part.items():
        product = next((one.product.name for one in lines if one.product), "")
        yield Take(PARTS[part], _amount([one.line for one in lines], units), product)


def _amount(lines: Sequence[DrawLine], units: Units) -> str:
    quantity = sum((line.quantity for line in lines), Decimal(0))
    match lines[0].unit:
        case Measure.LENGTH:
            return ", ".join(_pieces(line, units) for line in lines)
        case Measure.COUNT:
            return plain(quantity)
    return units.say(half_up(quantity, to=TWO_PLACES), "cuin")


def _pieces(line: DrawLine, units: Units) -> str:
    each = units.say(line.each)
    return each if line.count == 1 else f"{line.count} × {each}"


def seals_of(opening: OpeningFacts, detail: DetailFacts) -> tuple[Seal, ...]:
    """Return the joints that are sealed inside, each with the rod for its gap; none where no rod is that thick."""
    return tuple(_seals(opening, detail))


def _seals(opening: OpeningFacts, detail: DetailFacts) -> Iterator[Seal]:
    for joint in sealed_joints(opening, detail):
        try:
            rod_in = rod_diameter_in(joint.gap_in)
        except GapTooWide:
            rod_in = None
        yield Seal(joint.at, joint.gap_in, joint_depth_in(joint.gap_in), rod_in)
