"""The columns that verbs take by name, so that a name or a value that no column has is seen before anything runs."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import TypedDict

from jobs.models import Crew
from materials.models.product import Product
from openings.models import InstallationDetail, Opening


class PlaceValues(TypedDict, total=False):
    """Columns of a place."""

    kind: str
    name: str
    crew: Crew | None
    opening: Opening | None


class LotValues(TypedDict, total=False):
    """Columns of a lot."""

    product: Product
    code: str
    received_on: date
    expires_on: date | None


class ProductValues(TypedDict, total=False):
    """Columns of a product."""

    code: str
    name: str
    measure: str
    package: str
    package_quantity: Decimal
    width_in: Decimal | None
    trim_in: Decimal
    shortest_remnant_in: Decimal
    chemistry: str
    min_application_temp_f: Decimal | None
    max_application_temp_f: Decimal | None
    needs_primer: bool
    primer_sqft_per_gal: Decimal | None
    exposure_limit_days: int | None
    shelf_life_days: int | None
    movement_class_pct: Decimal | None
    serves_from_in: Decimal | None
    serves_up_to_in: Decimal | None
    spare_pct: Decimal
    spare_pieces: int
    attachment: str
    fastener_kind: str
    fastener_diameter_in: Decimal | None
    fastener_penetration_in: Decimal | None
    allowable_lb: Decimal | None


class ChoiceValues(TypedDict, total=False):
    """Columns of what serves a part."""

    detail: InstallationDetail | None
    part: str
    product: Product


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """The packages of a product that were counted at a place.

    Args:
        lot_code: empty for packages without a lot number; a code that is not known becomes a lot.
        expires_on: of that lot, where it is printed on the package.
    """

    product: Product
    packages: Decimal
    lot_code: str = ""
    expires_on: date | None = None
