"""Choosing products for parts, and changing what has been chosen for: a product serves its part, or it is refused."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from copy import copy
from typing import NamedTuple, Unpack

from jobs import transaction
from jobs.about import about
from jobs.errors import Fault, NotFound
from jobs.services import add, change
from materials.calc.parts import Part
from materials.calc.served import STRIPS
from materials.calc.serves import OF_THE_DETAIL, drawn_by, why_unfit_for
from materials.calc.staged import ANCHORS
from materials.errors import DoesNotServe, NoLongerServes
from materials.models import DetailProduct, Product
from materials.models.values import ChoiceValues
from materials.queries import Choices, fitness
from materials.services.tell import tell_fasteners
from openings import services as openings
from openings.calc.facts import DetailFacts
from openings.models import InstallationDetail
from openings.models.values import DetailValues

SEVERAL_STANDARDS = STRIPS | {Part.PAN_MEMBRANE, Part.HEAD_MEMBRANE}
"""The parts of which the standard goes by the width that a detail asks for, so that a shop keeps several."""

MOST_NAMED = 5
"""How many of what a refused change would leave without a product are named; the rest are counted (our choice)."""


class Loss(NamedTuple):
    """A part of a detail that its product would serve no more, and why."""

    detail: InstallationDetail
    part: Part
    why: str


@transaction.atomic
def choose_product(*, part: str, product: Product, detail: InstallationDetail | None = None) -> DetailProduct:
    """Choose the product that serves a part: of one detail, or as a standard of the shop.

    Raises:
        DoesNotServe: it can serve no opening with the detail, or no detail of the shop.
        ValidationError: it is packed in another measure, or the part has one already.
        OpeningBound, Conflict: anchors are counted by it, and an opening that it reaches is bound or has no room.
    """
    is_anchor = part in ANCHORS
    reached = _lock_reached([detail]) if is_anchor else []
    detail, product = _lock_both(detail, product)
    choice = add(DetailProduct(detail=detail, part=part, product=product))
    _require_serves(choice)
    if is_anchor:
        tell_fasteners(reached)
    return choice


@transaction.atomic
def change_choice(*, choice_id: int, **values: Unpack[ChoiceValues]) -> DetailProduct:
    """Change what was chosen.

    Raises:
        NotFound: there is no such choice.
        DoesNotServe, ValidationError: as `choose_product`.
    """
    choice = DetailProduct.objects.select_for_update(of=("self",)).filter(pk=choice_id).first()
    if choice is None:
        raise NotFound(f"there is no choice {choice_id}")
    is_anchor = not ANCHORS.isdisjoint({choice.part, values.get("part", choice.part)})
    reached = _lock_reached([choice.detail, values.get("detail", choice.detail)]) if is_anchor else []
    detail, product = _lock_both(values.get("detail", choice.detail), values.get("product", choice.product))
    changed = change(choice, **{**values, "detail": detail, "product": product})
    _require_serves(changed)
    if is_anchor:
        tell_fasteners(reached)
    return changed


@transaction.atomic
def set_choice(*, part: str, product: Product, detail: InstallationDetail | None = None) -> DetailProduct:
    """Choose the product of a part in place of the one that it had; a standard that goes by width joins the others.

    Raises:
        DoesNotServe, ValidationError, OpeningBound, Conflict: as `choose_product`.
    """
    others = DetailProduct.objects.filter(detail=detail, part=part).order_by("pk")
    before = None if detail is None and part in SEVERAL_STANDARDS else others.first()
    if before is None:
        return choose_product(part=part, product=product, detail=detail)
    return change_choice(choice_id=before.pk, product=product)


@transaction.atomic
def drop_choice(*, choice_id: int) -> DetailProduct:
    """Choose a product for a part no more: a detail then takes the standard, and the shop has one standard less.

    Raises:
        NotFound: there is no such choice.
        NoLongerServes: a detail would be left without a product for the part.
        OpeningBound, Conflict: anchors are counted by it, as in `choose_product`.
    """
    choice = DetailProduct.objects.select_for_update(of=("self",)).filter(pk=choice_id).first()
    if choice is None:
        raise NotFound(f"there is no choice {choice_id}")
    is_anchor = choice.part in ANCHORS
    reached = _lock_reached([choice.detail]) if is_anchor else []
    _lock_both(choice.detail, choice.product)
    details = InstallationDetail.objects.select_related("job").order_by("job__code", "name")
    touched = list(details.filter(pk=choice.detail.pk) if choice.detail else details)
    before = Choices([detail.pk for detail in touched])
    dropped = copy(choice)
    choice.delete()
    after = Choices([detail.pk for detail in touched])
    lost: list[Loss] = []
    for detail in touched:
        facts = detail.as_facts()
        lost += _losses(detail, before=(facts, before), after=(facts, after), parts=[Part(choice.part)])
    _refuse(lost, fields=("product",))
    if is_anchor:
        tell_fasteners(reached)
    return dropped


@transaction.atomic
def revise_detail(*, detail_id: int, **values: Unpack[DetailValues]) -> InstallationDetail:
    """Change the named columns of a detail, as `openings.services.revise_detail`.

    Raises:
        NotFound, ValidationError, Conflict: as there.
        NoLongerServes: a product that serves a part of it now would serve it no more.
    """
    before = openings.lock_detail_of_openings(detail_id).as_facts()
    detail = openings.revise_detail(detail_id=detail_id, **values)
    list(Product.objects.select_for_update(no_key=True).filter(pk__in=Choices([detail_id]).ids.values()).order_by("pk"))
    choices = Choices([detail_id])
    _refuse(_losses(detail, before=(before, choices), after=(detail.as_facts(), choices)))
    return detail


def require_still_serves(before: Choices, after: Choices) -> None:
    """Return if every detail whose parts have a product by `before` has one by `after` too.

    Raises:
        NoLongerServes: one has not; the first few are named.
    """
    lost: list[Loss] = []
    for detail in InstallationDetail.objects.select_related("job").order_by("job__code", "name"):
        facts = detail.as_facts()
        lost += _losses(detail, before=(facts, before), after=(facts, after))
    _refuse(lost, fields=("width_in", "serves_from_in", "serves_up_to_in"))


def _losses(
    detail: InstallationDetail,
    *,
    before: tuple[DetailFacts, Choices],
    after: tuple[DetailFacts, Choices],
    parts: Iterable[Part] = tuple(OF_THE_DETAIL),
) -> Iterator[Loss]:
    drawn = {line.part for line in drawn_by(after[0])}
    for part in parts:
        if part in drawn and not _why_unserved(detail, part, *before) and (why := _why_unserved(detail, part, *after)):
            yield Loss(detail, part, why)


def _why_unserved(detail: InstallationDetail, part: Part, facts: DetailFacts, choices: Choices) -> str:
    product = choices.find(part, detail_id=detail.pk, detail=facts)
    if product is None:
        return choices.why_none(part, detail=facts) or f"no product is chosen for {part}"
    return why_unfit_for(facts, part, product)


def _refuse(losses: Iterable[Loss], *, fields: Iterable[str] = ()) -> None:
    lost = list(losses)
    if not lost:
        return
    named = [f"{loss.part} of detail {loss.detail} of {loss.detail.job.code}: {loss.why}" for loss in lost[:MOST_NAMED]]
    more = f"; and {len(lost) - MOST_NAMED} more" if len(lost) > MOST_NAMED else ""
    sentence = f"products would no longer serve: {'; '.join(named)}{more}. Choose other products first"
    of = list(fields) or sorted({OF_THE_DETAIL[loss.part] for loss in lost})
    details = {loss.detail.pk: loss.detail for loss in lost}.values()
    faults = [Fault(field=field, detail=sentence) for field in of]
    raise NoLongerServes(sentence, faults=faults, about=[about(detail) for detail in details])


def _require_serves(choice: DetailProduct) -> None:
    part, product = Part(choice.part), choice.product
    whose = f"detail {choice.detail}" if choice.detail else "any detail"
    why = fitness(choice.detail).why_unfit(part, product)
    if why:
        faults = [Fault(field="product", value=product.code, detail=why)]
        raise DoesNotServe(f"{product.name} cannot serve {part} of {whose}: {why}", faults=faults)


def _lock_reached(details: Collection[InstallationDetail | None]) -> list[int] | None:
    """Return whose anchors choices for these details may change, None for all details; held with their openings."""
    ids = None if None in details else [detail.pk for detail in details if detail]
    openings.lock_details(ids)
    return ids


def _lock_both(detail: InstallationDetail | None, product: Product) -> tuple[InstallationDetail | None, Product]:
    """Return a detail and then a product as they are, held so that neither is changed until the choice stands."""
    held = openings.lock_detail(detail.pk) if detail else None
    return held, Product.objects.select_for_update(no_key=True).get(pk=product.pk)
