"""How the rolls of a crew day are cut, planned over all crews of the day."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.db.models import Q

from jobs.models import CrewDay
from materials.calc.day_cuts import CrewCuts, plan_day
from materials.calc.product import ProductFacts
from materials.calc.pull import Pull
from materials.calc.roll_lengths import RollLength
from materials.calc.rolls import Cut, CutPlan, plan_cuts
from materials.calc.rolls import Remnant as RemnantFacts
from materials.models import Remnant
from materials.queries import free_remnants_on, time_limit, to_be_written
from materials.services.compose import Composed, pieces_of
from materials.services.remnants import reserve_remnants

SECONDS_A_PRODUCT = 2
"""How long a better plan for one product is looked for (our choice: hardly any day takes a tenth of it)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutUp:
    """The pulls of a sheet with their plans, and the remnants that lie there for them, by their codes."""

    pulls: tuple[Pull, ...]
    remnants: Mapping[str, Remnant]


def cut_up(crew_day: CrewDay, composed: Composed) -> CutUp:
    """Plan the rolls of a crew day, and reserve the remnants that it cuts from; others that it had are released.

    Where remnants in the warehouse would serve, they are shared out over all crews whose sheet for the day is still to
    be written, so that the day takes the fewest new rolls; what crews get that wait for their sheets is reserved for
    them too. The remnants of these products are locked meanwhile: no two sheets count on the same one.
    """
    rolled = [(pull, pull.product) for pull in composed.pulls if pull.product and pull.pieces]
    on_hand = _OnHand(crew_day, [composed.product_ids[product.code] for _, product in rolled])
    plans: dict[str, CutPlan] = {}
    to_share = []
    for pull, product in rolled:
        product_id = composed.product_ids[product.code]
        plan = _planned(product, pull.pieces, on_hand.of(crew_day, product_id))
        plans[product.code] = plan
        if plan.rolls_new and on_hand.on_shelf(product_id, min(cut.length_in for cut in pull.pieces)):
            to_share.append((product, product_id))
    if to_share:
        plans |= _shared(crew_day, composed, to_share, on_hand)
    if on_hand.rows:
        used = [on_hand.rows[roll.remnant].pk for plan in plans.values() for roll in plan.rolls if roll.remnant]
        reserve_remnants(crew_day_id=crew_day.pk, remnant_ids=used)
    pulls = [pull.cut_by(plans[pull.product.code]) if pull.product and pull.pieces else pull for pull in composed.pulls]
    return CutUp(pulls=tuple(pulls), remnants=on_hand.rows)


class _OnHand:
    """The remnants of some products that a crew of the day may count on, locked until the transaction ends."""

    def __init__(self, crew_day: CrewDay, product_ids: Collection[int]) -> None:
        concerned = Q(product__in=product_ids) | Q(reserved_for=crew_day)
        locked = Remnant.objects.select_for_update().filter(concerned, fate="").order_by("pk")
        ids = list(locked.values_list("pk", flat=True))
        # Read only once they are locked: what was joined to a row while waiting for it may be out of date.
        found = free_remnants_on(crew_day.on).filter(pk__in=ids) if ids else []
        self.rows = {remnant.code: remnant for remnant in found}

    def of(self, crew_day: CrewDay, product_id: int) -> list[RemnantFacts]:
        """Return what a crew has of a product: reserved for it, or on its truck and reserved for nobody."""
        return self._facts(
            remnant
            for remnant in self.rows.values()
            if remnant.product_id == product_id
            and (
                remnant.reserved_for_id == crew_day.pk
                or (remnant.reserved_for_id is None and remnant.place.crew_id == crew_day.crew_id)
            )
        )

    def on_shelf(self, product_id: int, least_in: Decimal) -> list[RemnantFacts]:
        """Return what lies in a warehouse of a product for anybody, from a length on."""
        return self._facts(
            remnant
            for remnant in self.rows.values()
            if remnant.product_id == product_id
            and remnant.reserved_for_id is None
            and remnant.place.crew_id is None
            and remnant.length_in >= least_in
        )

    def _facts(self, remnants: Iterable[Remnant]) -> list[RemnantFacts]:
        return [RemnantFacts(remnant.length_in, remnant.code) for remnant in remnants]


def _planned(product: ProductFacts, pieces: Sequence[Cut], remnants: Sequence[RemnantFacts]) -> CutPlan:
    return plan_cuts(pieces, remnants=remnants, **_rolls_of(product))


def _rolls_of(product: ProductFacts) -> dict[str, Any]:
    return {
        "roll_lengths": [RollLength(product.package_quantity)],
        "trim_in": product.trim_in,
        "keep_in": product.shortest_remnant_in,
        "is_over": time_limit(SECONDS_A_PRODUCT),
    }


def _shared(
    crew_day: CrewDay, composed: Composed, products: Sequence[tuple[ProductFacts, int]], on_hand: _OnHand
) -> dict[str, CutPlan]:
    """Return the plans of a crew day after sharing out what lies in the warehouse, and reserve what others get."""
    others = {other.pk: other for other in to_be_written(crew_day.on).exclude(pk=crew_day.pk)}
    pieces = pieces_of(list(others))
    pieces[crew_day.pk] = {pull.product.code: pull.pieces for pull in composed.pulls if pull.product}
    plans = {}
    for product, product_id in products:
        crews = [
            CrewCuts(
                crew=str(pk),
                pieces=of_product[product.code],
                remnants=tuple(on_hand.of(others.get(pk, crew_day), product_id)),
            )
            for pk, of_product in pieces.items()
            if of_product.get(product.code)
        ]
        day = plan_day(crews, remnants=on_hand.on_shelf(product_id, Decimal(0)), **_rolls_of(product))
        plans[product.code] = day.plans[str(crew_day.pk)]
        for pk, other in others.items():
            if other.is_asked_for:
                codes = [remnant.code for remnant in day.allotted.get(str(pk), ())]
                Remnant.objects.filter(pk__in=[on_hand.rows[code].pk for code in codes]).update(reserved_for=other)
    return plans
