"""What a job still takes, product by product, in whole packages, held against what is there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal
from typing import NamedTuple

from jobs.calc.say import counted
from materials.calc.bulk_cuts import plan_many
from materials.calc.parts import Part
from materials.calc.product import Measure, ProductFacts
from materials.calc.pull import Pull
from materials.calc.roll_lengths import RollLength
from materials.calc.roll_picture import RollPicture, RollPiece, RollRow, roll_pictures
from materials.calc.rolls import Cut, CutPlan, Remnant, plan_cuts
from openings.calc.units import US, Units

MOST_SEARCHED = 400
"""So many cuts of a product are planned by a search; beyond, rolls are filled one by one (our choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OnHand:
    """Where packages of one product are.

    Args:
        warehouses: packages there; what is left of an opened one is no package.
        for_others: what pull sheets of other jobs still want of these.
        on_trucks: loaded for this job.
    """

    warehouses: Decimal = Decimal(0)
    for_others: int = 0
    on_trucks: int = 0

    @property
    def for_job(self) -> int:
        """The whole packages that this job can have: what others do not want, and what is on its trucks."""
        whole = int(self.warehouses.to_integral_value(ROUND_FLOOR))
        return max(whole - self.for_others, 0) + self.on_trucks


class AlikeCuts(NamedTuple):
    """So many cuts of one length for one part."""

    count: int  # type: ignore[assignment]  # nobody counts in it by tuple.count
    length_in: Decimal
    part: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AlikeRolls:
    """So many rolls that are cut alike, and what is left of each; `remnants` are their codes, none of new rolls."""

    count: int
    length_in: Decimal
    cuts: tuple[AlikeCuts, ...]
    left_in: Decimal
    is_kept: bool
    remnants: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeoffLine:
    """One product of a job.

    Args:
        whole_quantity: what the whole job takes exactly, laid or not.
        left: what is still to do, with its spare, packages and cuts; None where all of it is laid.
    """

    product: ProductFacts
    parts: tuple[Part, ...]
    whole_quantity: Decimal
    left: Pull | None
    on_hand: OnHand

    @property
    def measure(self) -> Measure:
        return self.product.measure

    @property
    def quantity(self) -> Decimal:
        """What is still to do takes exactly so much."""
        return self.left.quantity if self.left else Decimal(0)

    @property
    def spare(self) -> Decimal:
        return self.left.spare.quantity if self.left else Decimal(0)

    @property
    def packages(self) -> int:
        """The whole packages that hold what is still to do and the spare."""
        return self.left.packages if self.left else 0

    @property
    def to_order(self) -> int:
        """The packages that are neither in a warehouse for this job nor on its trucks."""
        return max(self.packages - self.on_hand.for_job, 0)

    @property
    def rolls(self) -> tuple[AlikeRolls, ...]:
        return alike_rolls(self.left.plan) if self.left and self.left.plan else ()

    @property
    def pictures(self) -> list[tuple[AlikeRolls, RollPicture]]:
        """The rolls, each kind with its picture."""
        rows = [
            RollRow(
                package=self.product.package,
                number=number,
                length_in=rolls.length_in,
                pieces=tuple(
                    RollPiece(mark=cut.part, part="", length_in=cut.length_in)
                    for cut in rolls.cuts
                    for _ in range(cut.count)
                ),
                left_in=rolls.left_in,
                is_kept=rolls.is_kept,
            )
            for number, rolls in enumerate(self.rolls, start=1)
        ]
        return list(zip(self.rolls, roll_pictures(rows, trim_in=self.product.trim_in), strict=True))

    @property
    def reason(self) -> str:
        """How the packages came about, in the trade's own measures."""
        return self.reason_in(US)

    def reason_in(self, units: Units) -> str:
        """Return how the packages came about, in words and numbers."""
        if self.left is None:
            return "all of it is laid"
        said = self._plan_said(self.left) if self.left.plan else self._packed_said(self.left, units)
        spare = self.left.spare_in(units).reason
        return f"{said}; spare: {spare}" if spare else said

    def _plan_said(self, left: Pull) -> str:
        cuts = len(left.pieces)
        how = (
            "best plan found"
            if cuts <= MOST_SEARCHED
            else "too many to search, so each roll is filled longest cut first"
        )
        verdict = left.plan.verdict(self.product.package) if left.plan else ""
        return f"{counted(cuts, 'cut')}, {how}: {verdict}"

    def _packed_said(self, left: Pull, units: Units) -> str:
        def say(quantity: Decimal) -> str:
            return f"{quantity:,.0f}" if self.measure is Measure.COUNT else units.say(quantity, "cuin")

        need = say(left.quantity + left.spare.quantity)
        holds = f"a {self.product.package} holds {say(self.product.package_quantity)}"
        return f"{need}{' with the spare' if left.spare.quantity else ''}; {holds}"


def plan_for(pull: Pull, remnants: Sequence[Remnant], *, is_over: Callable[[], bool]) -> Pull:
    """Return what is still to do of a product cut from its rolls, where it is cut.

    Up to `MOST_SEARCHED` cuts the plan is searched, until time is over; beyond, rolls are filled one by one. Either
    way the plan knows below how many new rolls no plan goes.

    Raises:
        PieceTooLong: a piece is longer than a new roll.
    """
    product = pull.product
    if product is None or not pull.pieces:
        return pull
    roll_in, trim_in, keep_in = product.package_quantity, product.trim_in, product.shortest_remnant_in
    if len(pull.pieces) > MOST_SEARCHED:
        plan = plan_many(pull.pieces, roll_in=roll_in, remnants=remnants, trim_in=trim_in, keep_in=keep_in)
    else:
        lengths = [RollLength(roll_in)]
        plan = plan_cuts(
            pull.pieces, roll_lengths=lengths, remnants=remnants, trim_in=trim_in, keep_in=keep_in, is_over=is_over
        )
    return pull.cut_by(plan)


def alike_rolls(plan: CutPlan) -> tuple[AlikeRolls, ...]:
    """Return the rolls of a plan, those that are cut alike together, remnants first and the fullest before others."""
    found: dict[tuple[bool, Decimal, tuple[AlikeCuts, ...]], list[int]] = {}
    for place, roll in enumerate(plan.rolls):
        found.setdefault((roll.remnant is None, roll.length_in, _alike_cuts(roll.cuts)), []).append(place)
    rolls = [
        AlikeRolls(
            count=len(places),
            length_in=length_in,
            cuts=cuts,
            left_in=plan.rolls[places[0]].left_in,
            is_kept=plan.rolls[places[0]].is_kept,
            remnants=tuple(code for place in places if (code := plan.rolls[place].remnant)),
        )
        for (_, length_in, cuts), places in found.items()
    ]
    return tuple(sorted(rolls, key=lambda one: (not one.remnants, one.left_in, -one.count)))


def _alike_cuts(cuts: Iterable[Cut]) -> tuple[AlikeCuts, ...]:
    counts = Counter((cut.length_in, cut.label) for cut in cuts)
    order = sorted(counts.items(), key=lambda one: (-one[0][0], one[0][1]))
    return tuple(AlikeCuts(count=count, length_in=length_in, part=part) for (length_in, part), count in order)
