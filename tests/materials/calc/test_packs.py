from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.calc.packs import cuin_to_cover, packages_for, share_of_package
from materials.calc.product import Measure, ProductFacts

CARTRIDGE = ProductFacts(
    code="sealant-300",
    name="sealant, 300 ml",
    measure=Measure.VOLUME,
    package="cartridge",
    package_quantity=Decimal("18.30712"),
)


# Whole packages hold the quantity: arithmetic; 300 ml = 18.31 cu in, NIST Handbook 44, appendix C.
@pytest.mark.parametrize(
    ("quantity", "packages"),
    [("0", 0), ("0.00001", 1), ("18.30712", 1), ("18.30713", 2), ("100", 6)],
    ids=["none", "a trace", "exactly one", "a hair more", "six"],
)
def test_packages_are_rounded_up(quantity, packages):
    assert packages_for(Decimal(quantity), CARTRIDGE) == packages


def test_a_single_opening_takes_part_of_a_package():
    assert share_of_package(Decimal("9.15356"), CARTRIDGE) == Decimal("0.5")


@given(quantity=st.decimals(0, 100_000, places=5))
def test_packages_hold_the_quantity_and_one_less_would_not(quantity):
    packages = packages_for(quantity, CARTRIDGE)
    assert packages * CARTRIDGE.package_quantity >= quantity
    assert packages == 0 or (packages - 1) * CARTRIDGE.package_quantity < quantity


# A gallon is 231 cu in (NIST Handbook 44, appendix C); 200 to 350 sq ft of it is usual (from memory).
@pytest.mark.parametrize(
    ("area", "coverage", "volume"),
    [(250, 250, "231"), (25, 250, "23.1"), (0, 200, "0"), ("15.625", 200, "18.046875")],
    ids=["a gallon", "a tenth", "none", "strips of a 3046, 9 in wide"],
)
def test_a_gallon_covers_what_its_maker_says(area, coverage, volume):
    assert cuin_to_cover(Decimal(area), sqft_per_gal=Decimal(coverage)) == Decimal(volume)
