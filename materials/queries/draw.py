"""Draws with the products chosen for them."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Set
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from typing import Any

from django.db.models import Q

from jobs.errors import NotFound
from materials.calc.advice import draw_advice
from materials.calc.anchors import CAUTION
from materials.calc.attachment import Held, how_held
from materials.calc.compatibility import Judged, judged
from materials.calc.draw import draw_of
from materials.calc.laying import left_to_draw
from materials.calc.load_list import LoadItem, load_list
from materials.calc.packs import share_of_package
from materials.calc.parts import MEASURES, Part
from materials.calc.product import ProductFacts
from materials.calc.served import STRIPS, width_to_be_in
from materials.calc.staged import staged_of, with_staged
from materials.calc.supply import Find, Shortfall, Supplied, SuppliedLine, require_supplied, supplied
from materials.calc.touching import touching
from materials.models import DetailProduct, Product
from materials.queries.compatibility import evidence_on, known_pairs
from openings.calc.advice import Advice
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.staged import Staged
from openings.calc.units import US, Units
from openings.models import Opening
from openings.queries import NOTHING_LAID, Computable, alike, computable


class Choices:
    """Which product serves a part of a detail: the detail's own choice, else the shop's standard."""

    def __init__(self, details: Iterable[int]) -> None:
        """Load the choices. One query."""
        rows = DetailProduct.objects.filter(Q(detail__in=list(details)) | Q(detail=None))
        self._own: dict[tuple[int, str], ProductFacts] = {}
        self._standard: dict[str, list[ProductFacts]] = {}
        self.ids: dict[str, int] = {}
        for row in rows.select_related("product").order_by("product__code"):
            facts = row.product.as_facts()
            self.ids[facts.code] = row.product_id
            if row.detail_id:
                self._own[row.detail_id, row.part] = facts
            else:
                self._standard.setdefault(row.part, []).append(facts)

    def find(self, part: Part, *, detail_id: int, detail: DetailFacts) -> ProductFacts | None:
        """Return the product, or None.

        A standard strip must have the width that the detail asks for; of standard membranes the first that is wide
        enough serves, or the first where none is.
        """
        own = self._own.get((detail_id, part))
        if own:
            return own
        standards = self._standard.get(part, ())
        if part in STRIPS:
            return next((p for p in standards if p.width_in == detail.strip_width_in), None)
        least_in = width_to_be_in(part, detail)
        wide = (p for p in standards if p.width_in is None or p.width_in >= least_in)
        return next(wide, next(iter(standards), None))

    def staged(self, detail_id: int | None) -> Staged:
        """Return what is staged for the anchors of a detail; for None, of one without a choice of its own."""

        def find(part: Part) -> ProductFacts | None:
            own = self._own.get((detail_id, part)) if detail_id else None
            return own or next(iter(self._standard.get(part, ())), None)

        return staged_of(find)

    def finder(self, item: Computable) -> Find:
        """Return what finds the product for a part of one opening."""
        return partial(self.find, detail_id=item.opening.detail_id, detail=item.detail)

    def supply(self, item: Computable, *, laid: Set[str] = NOTHING_LAID, units: Units = US) -> Supplied:
        """Return the draw of one opening with its products, and what these do not do.

        Args:
            laid: codes of the steps whose parts are drawn no more.
        """
        why_none = partial(self.why_none, detail=item.detail, units=units)
        lines = left_to_draw(draw_of(item.facts, item.detail), laid=laid)
        return supplied(lines, self.finder(item), units=units, why_none=why_none)

    def why_none(self, part: Part, *, detail: DetailFacts, units: Units = US) -> str:
        """Return why no standard serves a part, in words: those there are have another width."""
        standards = [
            f"{product.name} is {units.say(product.width_in)} wide"
            if product.width_in
            else f"{product.name} has no width"
            for product in self._standard.get(part, ())
        ]
        if not standards or part not in STRIPS:
            return ""
        return f"it is to be {units.say(detail.strip_width_in)} wide, and of the standards {', '.join(standards)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningDraw:
    """What one opening takes, what its products do not do, what touches, and what is worth a look.

    `lacks` says by part why no product is there; of `unknown` among them, how much it takes cannot be told either.
    """

    opening: int | None
    lines: tuple[SuppliedLine, ...]
    faults: tuple[Shortfall, ...]
    lacks: Mapping[Part, str]
    unknown: Mapping[Part, str]
    judged: tuple[Judged, ...]
    advice: tuple[Advice, ...]
    held: tuple[Held, ...]
    load_list: tuple[LoadItem, ...]
    caution: str = CAUTION

    @property
    def missing(self) -> list[dict[str, str]]:
        """The parts without a product, with the reason."""
        return [{"part": part, "reason": why} for part, why in self.lacks.items()]


def opening_draw(opening: Opening, *, units: Units = US) -> OpeningDraw:
    """Return the draw of one opening with its products. Three queries where detail and job are joined."""
    (item,) = computable([opening])
    choices = Choices([opening.detail_id])
    drawn = choices.supply(item, units=units)
    return _looked_at(drawn, item.facts, item.detail, choices.finder(item), opening_id=opening.pk, units=units)


def draw_asked(
    *,
    opening: OpeningFacts,
    detail: DetailFacts,
    products: Mapping[Part, ProductFacts | str] | None = None,
    units: Units = US,
) -> OpeningDraw:
    """Return the draw of an opening that is not stored. Three queries at most.

    Args:
        products: by the part that they serve, a product of the shelf by its code; None draws without products.

    Raises:
        NotFound: the shelf has no product of one of the codes.
        NotFurnished: the products do not do for all of it; `faults` name each part.
    """
    chosen = _from_shelf(products or {})
    detail = with_staged(detail, chosen.get)
    lines = draw_of(opening, detail)
    made = (
        tuple(SuppliedLine(line, None) for line in lines)
        if products is None
        else require_supplied(lines, chosen.get, units=units)
    )
    return _looked_at(Supplied(made, ()), opening, detail, chosen.get, opening_id=None, units=units)


def _looked_at(
    drawn: Supplied, opening: OpeningFacts, detail: DetailFacts, find: Find, *, opening_id: int | None, units: Units
) -> OpeningDraw:
    """Return a draw with what touches in it and what is worth a look. Two queries."""
    products = {line.product.code: line.product for line in drawn.lines if line.product}
    return OpeningDraw(
        opening=opening_id,
        lines=drawn.lines,
        faults=drawn.faults,
        lacks=drawn.lacks(),
        unknown=drawn.unknown(),
        judged=judged(touching(detail), find, known=known_pairs(), evidence=evidence_on(set(products))),
        advice=draw_advice(opening, detail, find, products=products.values(), units=units),
        held=how_held(drawn.lines, detail, units=units),
        load_list=load_list(drawn.lines, detail, units=units),
    )


def _from_shelf(products: Mapping[Part, ProductFacts | str]) -> dict[Part, ProductFacts]:
    shelf = products_by_code({code for code in products.values() if isinstance(code, str)})
    return {part: shelf[product] if isinstance(product, str) else product for part, product in products.items()}


def products_by_code(codes: Collection[str]) -> dict[str, ProductFacts]:
    """Return products of the shelf by their codes. One query.

    Raises:
        NotFound: the shelf has no product of one of the codes.
    """
    found = {product.code: product.as_facts() for product in Product.objects.filter(code__in=codes)}
    if missing := sorted(set(codes) - set(found)):
        raise NotFound(f"there is no product {', '.join(missing)}")
    return found


def job_draw(job_id: int) -> dict[str, Any]:
    """Return what the openings of a job draw by product and part, void ones left out.

    Three queries, however many openings: those alike are computed once.
    """
    openings = Opening.objects.not_void().filter(job=job_id).prefetch_related("detail")
    kinds = alike(computable(openings))
    choices = Choices({item.opening.detail_id for item, _ in kinds})
    totals: dict[tuple[Part, ProductFacts | None], Decimal] = {}
    spares: dict[tuple[Part, ProductFacts | None], Decimal] = {}
    missing: dict[Part, dict[str, None]] = {}
    for item, count in kinds:
        drawn = choices.supply(item)
        for part, why in drawn.lacks().items():
            missing.setdefault(part, {})[why] = None
        for supplied_line in drawn.lines:
            line, product = supplied_line
            key = line.part, product
            totals[key] = totals.get(key, Decimal(0)) + line.quantity * count
            spares[key] = spares.get(key, Decimal(0)) + (supplied_line.spare or 0) * count
    return {
        "job": job_id,
        "openings_count": sum(count for _, count in kinds),
        "lines": [
            {
                "part": part,
                "product": product,
                "quantity": quantity,
                "spare": spares[part, product] if product else None,
                "unit": MEASURES[part],
                "packages": share_of_package(quantity, product) if product else None,
            }
            for (part, product), quantity in totals.items()
        ],
        "missing": [{"part": part, "reason": "; ".join(whys)} for part, whys in missing.items()],
    }
