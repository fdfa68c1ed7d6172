"""Exact quantities packed into what the shelf holds."""

from __future__ import annotations

from decimal import Decimal

from materials.calc.product import ProductFacts
from openings.calc.figures import ceil_ratio

CUIN_PER_GAL = Decimal(231)
CUIN_PER_FL_OZ = CUIN_PER_GAL / 128
"""231 cu in in a US gallon of 128 fl oz (NIST Handbook 44, appendix C)."""

CUIN_PER_ML = 1 / (Decimal("2.54") ** 3)
"""The inch is 2.54 cm (NIST Handbook 44, appendix C)."""


def packages_for(quantity: Decimal, product: ProductFacts) -> int:
    """Return the whole packages that hold the quantity, rounded up; 0 for none.

    Lengths that are cut from rolls pack worse than this sum: for them `rolls.plan_cuts` counts the rolls.

    Args:
        quantity: in the measure of the product, >= 0.
    """
    return ceil_ratio(quantity, product.package_quantity)


def share_of_package(quantity: Decimal, product: ProductFacts) -> Decimal:
    """Return the quantity in packages and parts of one, unrounded: what a single opening takes."""
    return quantity / product.package_quantity


def cuin_of_fl_oz(fl_oz: Decimal) -> Decimal:
    """Return a volume in cubic inches. Labels round: "10.1 oz" is often 300 ml, "20 oz" 600 ml."""
    return fl_oz * CUIN_PER_FL_OZ


def cuin_of_ml(milliliters: Decimal) -> Decimal:
    """Return a volume in cubic inches."""
    return milliliters * CUIN_PER_ML


def cuin_to_cover(area_sqft: Decimal, *, sqft_per_gal: Decimal) -> Decimal:
    """Return how much of a liquid covers the area, without waste.

    Args:
        sqft_per_gal: coverage by the maker's sheet, > 0; 200 to 350 is usual for primers (from memory).
    """
    return area_sqft * CUIN_PER_GAL / sqft_per_gal
