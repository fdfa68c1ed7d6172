"""The draws of a crew's day added up by product, packed, and cut from rolls."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal

from materials.calc.lines import DrawLine
from materials.calc.packs import packages_for
from materials.calc.parts import MEASURES, Part
from materials.calc.product import Measure, ProductFacts
from materials.calc.rolls import Cut, CutPlan
from materials.calc.sealant import without_waste
from materials.calc.spare import NO_SPARE, Spare, spare_of, spare_of_rolls
from materials.errors import PieceTooLong
from openings.calc.figures import half_up
from openings.calc.units import US, Units


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """One line of one opening's draw, supplied; `label` names the opening within the day, `lacks` why no product."""

    label: str
    line: DrawLine
    product: ProductFacts | None
    lacks: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pull:
    """One product to load: what is drawn exactly, the spare beside it, the packages for both, and how rolls are cut.

    `product` is None where none serves the part; then `packages` is 0 and the note says why, and `quantity` is 0 too
    where how much it takes cannot be told without one. What comes in lengths has `pieces`, and neither packages nor a
    plan before `cut_by` adds them. `net` is the quantity without what is in it for waste.
    """

    product: ProductFacts | None
    parts: tuple[Part, ...]
    quantity: Decimal
    measure: Measure
    packages: int
    pieces: tuple[Cut, ...] = ()
    plan: CutPlan | None = None
    spare: Spare = NO_SPARE
    net: Decimal | None = None
    note: str = ""

    def cut_by(self, plan: CutPlan) -> Pull:
        """Return the same with its plan, and with the new rolls that it opens and that are spare."""
        planned = replace(self, plan=plan)
        spare = planned.spare_in(US)
        return replace(planned, packages=plan.rolls_new + spare.packages, spare=spare)

    def spare_in(self, units: Units) -> Spare:
        """Return the spare with its reason in other units; of what is cut, none before there is a plan."""
        if self.product is None:
            return NO_SPARE
        if not self.pieces:
            return spare_of(self.product, self.quantity, net=self.net, units=units)
        if self.plan is None:
            return NO_SPARE
        longest_in = max(piece.length_in for piece in self.pieces)
        ends_in = [roll.left_in for roll in self.plan.rolls]
        return spare_of_rolls(self.product, self.quantity, longest_in=longest_in, ends_in=ends_in, units=units)


@dataclass(slots=True)
class _Gathered:
    product: ProductFacts | None
    drawn: list[Drawn] = field(default_factory=list)


def pull_of(drawn: Iterable[Drawn], *, unknown: Mapping[Part, str] | None = None) -> tuple[Pull, ...]:
    """Return what to load for a day: one line a product in the order of first use, those without one last.

    Lengths are cut from rolls or pieces, so their packages come from a cutting plan; volumes and counts are
    rounded up to whole packages once for the day. What rounds to nothing takes no line.

    Args:
        unknown: parts that are needed in a quantity that is not known, with the reason.

    Raises:
        PieceTooLong: a line was not pieced and is longer than a roll; see `supply.supplied`.
    """
    gathered: dict[str, _Gathered] = {}
    for item in drawn:
        key = item.product.code if item.product else f"no product for {item.line.part}"
        gathered.setdefault(key, _Gathered(item.product)).drawn.append(item)
    pulls = [pull for one in gathered.values() if (pull := _pull(one.product, one.drawn)).quantity]
    pulls += [_without_product(part, Decimal(0), why) for part, why in (unknown or {}).items()]
    return tuple(sorted(pulls, key=lambda pull: pull.product is None))


def _pull(product: ProductFacts | None, drawn: Sequence[Drawn]) -> Pull:
    parts = tuple(dict.fromkeys(item.line.part for item in drawn))
    quantity = half_up(sum((item.line.quantity for item in drawn), Decimal(0)))
    measure = MEASURES[parts[0]]
    if product is None:
        lacks = dict.fromkeys(item.lacks for item in drawn if item.lacks)
        return _without_product(parts[0], quantity, "; ".join(lacks) or "no product is chosen for this part")
    if measure is not Measure.LENGTH:
        net = half_up(sum((without_waste(item.line) for item in drawn), Decimal(0)))
        spare = spare_of(product, quantity, net=net)
        packages = packages_for(quantity, product) + spare.packages
        return Pull(
            product=product, parts=parts, quantity=quantity, measure=measure, packages=packages, spare=spare, net=net
        )
    pieces = tuple(_pieces(drawn, product))
    return Pull(product=product, parts=parts, quantity=quantity, measure=measure, packages=0, pieces=pieces)


def _without_product(part: Part, quantity: Decimal, why: str) -> Pull:
    return Pull(product=None, parts=(part,), quantity=quantity, measure=MEASURES[part], packages=0, note=why)


def _pieces(drawn: Sequence[Drawn], product: ProductFacts) -> Iterator[Cut]:
    """Yield the pieces to cut, each to five places: a run may be in thirds."""
    for item in drawn:
        cut = Cut(length_in=half_up(item.line.each), label=f"{item.label} {item.line.part}".strip())
        if cut.length_in > product.package_quantity:
            held = f"a {product.package} of {product.name} has {US.say(product.package_quantity)}"
            raise PieceTooLong(f"{cut.label} needs {US.say(cut.length_in)}, and {held}")
        yield from [cut] * item.line.count
