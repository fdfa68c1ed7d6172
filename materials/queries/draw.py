"""Draws with the products chosen for them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.db.models import Q

from materials.calc.draw import draw_of
from materials.calc.lines import DrawLine
from materials.calc.packs import share_of_package
from materials.calc.parts import MEASURES, Part
from materials.calc.product import ProductFacts
from materials.models import DetailProduct
from openings.calc.facts import DetailFacts
from openings.models import Opening
from openings.queries import computable

STRIPS = {Part.SILL_STRIP, Part.JAMB_STRIP, Part.HEAD_STRIP, Part.COUNTER_FLASHING_STRIP}


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
        """Return the product, or None. A standard strip must have the width that the detail asks for."""
        own = self._own.get((detail_id, part))
        if own:
            return own
        width_in = detail.strip_width_in if part in STRIPS else None
        fitting = (p for p in self._standard.get(part, ()) if width_in is None or p.width_in == width_in)
        return next(fitting, None)


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnLine:
    """A line of a draw as it is shown: `packages` is the part of a package that one opening takes."""

    line: DrawLine
    product: ProductFacts | None

    @property
    def packages(self) -> Decimal | None:
        return share_of_package(self.line.quantity, self.product) if self.product else None


def draw_lines(opening: Opening) -> list[DrawnLine]:
    """Return the draw of one opening with its products. One query where the detail is joined."""
    choices = Choices([opening.detail_id])
    detail = opening.detail.as_facts()
    return [
        DrawnLine(line=line, product=choices.find(line.part, detail_id=opening.detail_id, detail=detail))
        for line in draw_of(opening.as_facts(), detail)
    ]


def job_draw(job_id: int) -> dict[str, Any]:
    """Return what the openings of a job draw by product and part, void ones left out.

    Three queries, however many openings: those alike are computed once.
    """
    openings = Opening.objects.filter(job=job_id, is_void=False).prefetch_related("detail")
    alike = Counter((item.facts, item.opening.detail_id, item.detail) for item in computable(openings))
    choices = Choices({detail_id for _, detail_id, _ in alike})
    totals: dict[tuple[Part, ProductFacts | None], Decimal] = {}
    for (facts, detail_id, detail), count in alike.items():
        for line in draw_of(facts, detail):
            key = line.part, choices.find(line.part, detail_id=detail_id, detail=detail)
            totals[key] = totals.get(key, Decimal(0)) + line.quantity * count
    return {
        "job": job_id,
        "openings_count": alike.total(),
        "lines": [
            {
                "part": part,
                "product": product,
                "quantity": quantity,
                "unit": MEASURES[part],
                "packages": share_of_package(quantity, product) if product else None,
            }
            for (part, product), quantity in totals.items()
        ],
    }
