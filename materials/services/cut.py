"""How the rolls of a crew day are cut, planned over all crews of the day."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from decimal import Decimal
from typing import TypedDict

from django.db.models import Q

from jobs.errors import Conflict
from jobs.models import CrewDay
from materials.calc.day_cuts import CrewCuts, plan_day
from materials.calc.product import ProductFacts
from materials.calc.roll_lengths import RollLength
from materials.calc.rolls import Cut, CutPlan, plan_cuts
from materials.calc.rolls import Remnant as RemnantFacts
from materials.models import PullSheet, Remnant
from materials.plans.compose import Composed, pieces_of
from materials.plans.cut_up import CutUp
from materials.queries import free_remnants_on, time_limit, to_be_written
from materials.services.remnants import reserve_remnants

SECONDS_A_PRODUCT = 2
"""How long a better plan for one product is looked for (our choice: hardly any day takes a tenth of it)."""


def cut_up(crew_day: CrewDay, composed: Composed, *, is_locked: bool = False) -> CutUp:
    """Return how the rolls of a crew day are cut. Nothing is written.

    Where remnants in the warehouse would serve, they are shared out over all crews whose sheet for the day is still to
    be written, so that the day takes the fewest new rolls.

    Args:
        is_locked: whether the remnants of these products stay as they are until the transaction ends.
    """
    rolled = [(pull, pull.product) for pull in composed.pulls if pull.product and pull.pieces]
    product_ids = [composed.product_ids[product.code] for _, product in rolled]
    on_hand = _OnHand(crew_day, product_ids, is_locked=is_locked)
    plans: dict[str, CutPlan] = {}
    to_share = []
    for pull, product in rolled:
        product_id = composed.product_ids[product.code]
        plan = _planned(product, pull.pieces, on_hand.of(crew_day, product_id))
        plans[product.code] = plan
        if plan.rolls_new and on_hand.on_shelf(product_id, min(cut.length_in for cut in pull.pieces)):
            to_share.append((product, product_id))
    for_others: dict[int, tuple[Remnant, ...]] = {}
    if to_share:
        shared, for_others = _shared(crew_day, composed, to_share, on_hand)
        plans |= shared
    pulls = [pull.cut_by(plans[pull.product.code]) if pull.product and pull.pieces else pull for pull in composed.pulls]
    return CutUp(
        pulls=tuple(pulls),
        remnants=on_hand.rows,
        reserved=on_hand.reserved,
        used=tuple(on_hand.rows[roll.remnant] for plan in plans.values() for roll in plan.rolls if roll.remnant),
        for_others=for_others,
    )


def reserve_for(crew_day: CrewDay, cut: CutUp) -> bool:
    """Reserve what the plans cut from and release the rest; return False, and do neither, where that is not to be had.

    It is not where a remnant that the sheet is cut from is gone, lies elsewhere, has another length or is reserved for
    another crew day since, or where another sheet has reserved one for this crew day that its plan does not know. What
    turned up since is no reason. A crew whose sheet is being saved at this moment looks after itself: nothing is
    reserved for it, so that no two wait for each other.
    """
    waiting = PullSheet.objects.filter(crew_day__in=cut.for_others, state=PullSheet.State.PENDING).order_by("pk")
    asked_for = waiting.select_for_update(of=("self",), no_key=True, skip_locked=True).values_list(
        "crew_day", flat=True
    )
    shared = {remnant.pk: day for day in asked_for for remnant in cut.for_others[day]}
    counted_on = {remnant.pk: remnant for remnant in cut.used}
    which = Q(pk__in=[*counted_on, *shared]) | Q(reserved_for=crew_day)
    locked = Remnant.objects.select_for_update().filter(which, fate="").order_by("pk")
    lying = {remnant.pk: remnant for remnant in locked}
    own = {pk for pk, remnant in lying.items() if remnant.reserved_for_id == crew_day.pk}
    if own - cut.reserved - counted_on.keys():
        return False
    if not all(pk in lying and _lies_as(planned, lying[pk]) for pk, planned in counted_on.items()):
        return False
    if own or counted_on:
        try:
            reserve_remnants(crew_day_id=crew_day.pk, remnant_ids=counted_on)
        except Conflict:
            return False
    for day in set(shared.values()):
        its_own = Remnant.objects.filter(pk__in=[pk for pk, of in shared.items() if of == day])
        its_own.filter(fate="", reserved_for=None).update(reserved_for=day)
    return True


def _lies_as(planned: Remnant, lying: Remnant) -> bool:
    return (planned.length_in, planned.place_id) == (lying.length_in, lying.place_id)


class _OnHand:
    """The remnants of some products that a crew of the day may count on; locked, until the transaction ends."""

    def __init__(self, crew_day: CrewDay, product_ids: Collection[int], *, is_locked: bool) -> None:
        concerned = Remnant.objects.filter(Q(product__in=product_ids) | Q(reserved_for=crew_day), fate="").order_by(
            "pk"
        )
        found = dict((concerned.select_for_update() if is_locked else concerned).values_list("pk", "reserved_for"))
        self.reserved = frozenset(pk for pk, day in found.items() if day == crew_day.pk)
        # Read only once they are locked: what was joined to a row while waiting for it may be out of date.
        within_reach = free_remnants_on(crew_day.on).filter(pk__in=found) if found else []
        self.rows = {remnant.code: remnant for remnant in within_reach}

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


class _Rolls(TypedDict):
    roll_lengths: Sequence[RollLength]
    trim_in: Decimal
    keep_in: Decimal
    is_over: Callable[[], bool]


def _rolls_of(product: ProductFacts) -> _Rolls:
    return {
        "roll_lengths": [RollLength(product.package_quantity)],
        "trim_in": product.trim_in,
        "keep_in": product.shortest_remnant_in,
        "is_over": time_limit(SECONDS_A_PRODUCT),
    }


def _shared(
    crew_day: CrewDay, composed: Composed, products: Sequence[tuple[ProductFacts, int]], on_hand: _OnHand
) -> tuple[dict[str, CutPlan], dict[int, tuple[Remnant, ...]]]:
    """Return the plans of a crew day after sharing out what lies in the warehouse, and what others get that wait."""
    others = {other.pk: other for other in to_be_written(crew_day.on).exclude(pk=crew_day.pk)}
    pieces = pieces_of(list(others))
    pieces[crew_day.pk] = {pull.product.code: pull.pieces for pull in composed.pulls if pull.product}
    plans = {}
    for_others: dict[int, tuple[Remnant, ...]] = {}
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
        for pk in (pk for pk, other in others.items() if other.is_asked_for):
            allotted = tuple(on_hand.rows[remnant.code] for remnant in day.allotted.get(str(pk), ()))
            for_others[pk] = for_others.get(pk, ()) + allotted
    return plans, {pk: remnants for pk, remnants in for_others.items() if remnants}
