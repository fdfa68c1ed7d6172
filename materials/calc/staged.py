"""What the products chosen for a detail say of its anchors."""

from __future__ import annotations

from dataclasses import replace

from materials.calc.parts import Part
from materials.calc.product import ProductFacts
from materials.calc.supply import Find
from openings.calc.facts import DetailFacts
from openings.calc.staged import Staged, StagedFastener, StagedStrap

ANCHORS = frozenset({Part.FLANGE_FASTENER, Part.FRAMING_SCREW, Part.STRAP})
"""The parts by whose products anchors are counted."""

LOAD = frozenset({"name", "fastener_kind", "fastener_diameter_in", "fastener_penetration_in", "allowable_lb"})
"""What is told of a product that serves one of them."""


def staged_of(find: Find) -> Staged:
    """Return what the products that `find` gives say of the anchors; one that says nothing of loads is left out.

    >>> staged_of(lambda part: None)
    Staged(flange_fastener=None, framing_screw=None, strap=None)
    """
    strap = find(Part.STRAP)
    return Staged(
        flange_fastener=_fastener(find(Part.FLANGE_FASTENER)),
        framing_screw=_fastener(find(Part.FRAMING_SCREW)),
        strap=StagedStrap(name=strap.name, allowable_lb=strap.allowable_lb) if strap and strap.allowable_lb else None,
    )


def with_staged(detail: DetailFacts, find: Find) -> DetailFacts:
    """Return a detail whose anchors are counted by the products that `find` gives."""
    return replace(detail, staged=staged_of(find))


def _fastener(product: ProductFacts | None) -> StagedFastener | None:
    if product is None or (product.allowable_lb is None and product.fastener_diameter_in is None):
        return None
    return StagedFastener(
        name=product.name,
        kind=product.fastener_kind,
        diameter_in=product.fastener_diameter_in,
        penetration_in=product.fastener_penetration_in,
        allowable_lb=product.allowable_lb,
    )
