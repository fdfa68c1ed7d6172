"""What the products that are staged say of the anchors of a detail, as the floor above tells it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from openings.calc.terms import FastenerKind


@dataclass(frozen=True, slots=True, kw_only=True)
class StagedFastener:
    """A fastener that is staged, by what its load depends on.

    Kind, diameter and penetration are there together or not at all; one of them and `allowable_lb` is there always.

    Args:
        name: of the product.
        allowable_lb: what it is rated for; None works it out from its withdrawal.
    """

    name: str
    kind: FastenerKind | None = None
    diameter_in: Decimal | None = None
    penetration_in: Decimal | None = None
    allowable_lb: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StagedStrap:
    """A strap that is staged and what it is rated for."""

    name: str
    allowable_lb: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Staged:
    """What is staged for the anchors of a detail; None where no product is chosen, or it says nothing of loads."""

    flange_fastener: StagedFastener | None = None
    framing_screw: StagedFastener | None = None
    strap: StagedStrap | None = None


NOTHING_STAGED = Staged()
