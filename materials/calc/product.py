"""A product as the computations see it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum


class Measure(StrEnum):
    """What a product is drawn in."""

    LENGTH = "in"
    VOLUME = "cu in"
    COUNT = "each"


@dataclass(frozen=True, slots=True, kw_only=True)
class ProductFacts:
    """One product of the shelf.

    `package_quantity` says what one package holds, in `measure`: inches of a roll, cubic inches of a
    cartridge, pieces of a box. `width_in` is None where width means nothing. `trim_in` is lost at each cut.
    """

    code: str
    name: str
    measure: Measure
    package: str
    package_quantity: Decimal
    width_in: Decimal | None = None
    trim_in: Decimal = Decimal(0)
