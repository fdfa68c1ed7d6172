"""Which products can serve a part, and why the others cannot."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from materials.calc.draw import draw_of
from materials.calc.lines import DrawLine
from materials.calc.parts import MEASURES, Part
from materials.calc.served import why_not_sealed
from materials.calc.serves import why_unfit, why_unfit_as_standard, why_unfit_for
from materials.models import Product
from openings.calc.facts import DetailFacts
from openings.models import InstallationDetail, Opening
from openings.queries import alike, computable


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidates:
    """The products that could be chosen for a part, and those that measure as it does and cannot, with the reason."""

    fit: tuple[Product, ...]
    unfit: tuple[tuple[Product, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitness:
    """What products are held against: a detail with its openings, or all details of the shop.

    Args:
        detail: None for the standard of the shop.
        details: all of the shop, where it is for the standard.
        lines: the draws of the openings that have the detail, not pieced; one of those alike.
    """

    detail: DetailFacts | None
    details: Sequence[DetailFacts] = ()
    lines: Sequence[DrawLine] = ()

    def why_unfit(self, part: Part, product: Product) -> str:
        """Return why a product cannot be chosen for a part, or nothing where it can."""
        if product.retired_at:
            return f"{product.name} is retired; take it back into service first"
        facts = product.as_facts()
        if self.detail is None:
            return why_unfit_as_standard(part, facts, self.details)
        return why_unfit_for(self.detail, part, facts) or why_unfit(part, facts, self.lines)

    def candidates(self, part: Part, products: Collection[Product]) -> Candidates:
        """Return which of the products can be chosen for a part; what measures otherwise is not spoken of."""
        fit, unfit = [], []
        for product in products:
            if product.measure == MEASURES[part] and not product.retired_at:
                sealed = why_not_sealed(part, product.name, product.as_facts().attachment)
                if why := sealed or self.why_unfit(part, product):
                    unfit.append((product, why))
                else:
                    fit.append(product)
        return Candidates(fit=tuple(fit), unfit=tuple(unfit))


def fitness(detail: InstallationDetail | None) -> Fitness:
    """Return what products of a detail, or standards where it is None, are held against. One query."""
    if detail is None:
        return Fitness(detail=None, details=[one.as_facts() for one in InstallationDetail.objects.all()])
    kinds = alike(computable(Opening.objects.not_void().filter(detail=detail).select_related("detail")))
    lines = [line for item, _ in kinds for line in draw_of(item.facts, item.detail)]
    return Fitness(detail=detail.as_facts(), lines=lines)
