from __future__ import annotations

import math
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.calc.packs import cuin_of_fl_oz, cuin_of_ml
from materials.calc.sealant import (
    PI,
    fillet_area_sqin,
    joint_depth_in,
    rectangle_area_sqin,
    round_area_sqin,
    yield_ft,
)

PACKAGES = [cuin_of_fl_oz(Decimal(ounces)) for ounces in ("10.1", "20", "28", "29", "128")]


def inches(text: str) -> Decimal:
    fraction = Fraction(text)
    return Decimal(fraction.numerator) / fraction.denominator


def assert_about(found: Decimal, printed: str) -> None:
    assert abs(found - Decimal(printed)) <= Decimal("0.0501"), (found, printed)


# feet = volume / (12 × area): Midwest Sealant Supply. The gallon column also stands on polyurethane data
# sheets (from memory). Columns: 10.1, 20, 28, 29 fl oz, US gallon.
@pytest.mark.parametrize(
    ("width", "depth", "feet"),
    [
        ("1/8", "1/8", ("97.2", "192.5", "269.5", "279.1", "1232.0")),
        ("3/16", "3/16", ("43.2", "85.6", "119.8", "124.1", "547.6")),
        ("1/4", "1/8", ("48.6", "96.2", "134.8", "139.6", "616.0")),
        ("1/4", "1/4", ("24.3", "48.1", "67.4", "69.8", "308.0")),
        ("3/8", "1/8", ("32.4", "64.2", "89.8", "93.0", "410.7")),
        ("3/8", "3/16", ("21.6", "42.8", "59.9", "62.0", "273.8")),
        ("3/8", "1/4", ("16.2", "32.1", "44.9", "46.5", "205.3")),
        ("3/8", "3/8", ("10.8", "21.4", "29.9", "31.0", "136.9")),
        ("1/2", "1/4", ("12.2", "24.1", "33.7", "34.9", "154.0")),
        ("1/2", "3/8", ("8.1", "16.0", "22.5", "23.3", "102.7")),
        ("1/2", "1/2", ("6.1", "12.0", "16.8", "17.4", "77.0")),
        ("5/8", "5/16", ("7.8", "15.4", "21.6", "22.3", "98.6")),
        ("3/4", "3/8", ("5.4", "10.7", "15.0", "15.5", "68.4")),
        ("3/4", "1/2", ("4.1", "8.0", "11.2", "11.6", "51.3")),
        ("1", "1/2", ("3.0", "6.0", "8.4", "8.7", "38.5")),
    ],
)
def test_yield_of_a_rectangular_joint(width, depth, feet):
    area = rectangle_area_sqin(inches(width), inches(depth))
    for package, printed in zip(PACKAGES, feet, strict=True):
        assert_about(yield_ft(package, area_sqin=area), printed)


# Same formula with a round bead, 10.1, 20 and 29 fl oz. Cartridge labels of 55 to 56 ft of 3/16 and 31 ft of
# 1/4 bead agree (from memory).
@pytest.mark.parametrize(
    ("diameter", "feet"),
    [
        ("1/8", ("123.8", "245.1", "355.4")),
        ("3/16", ("55.0", "108.9", "158.0")),
        ("1/4", ("30.9", "61.3", "88.8")),
        ("5/16", ("19.8", "39.2", "56.9")),
        ("3/8", ("13.8", "27.2", "39.5")),
        ("1/2", ("7.7", "15.3", "22.2")),
    ],
)
def test_yield_of_a_round_bead(diameter, feet):
    area = round_area_sqin(inches(diameter))
    for package, printed in zip((PACKAGES[0], PACKAGES[1], PACKAGES[3]), feet, strict=True):
        assert_about(yield_ft(package, area_sqin=area), printed)


# Same formula with an equal-leg fillet, 10.1 fl oz.
@pytest.mark.parametrize(
    ("leg", "feet"),
    [("1/8", "194.4"), ("3/16", "86.4"), ("1/4", "48.6"), ("3/8", "21.6"), ("1/2", "12.2")],
)
def test_yield_of_a_fillet(leg, feet):
    assert_about(yield_ft(PACKAGES[0], area_sqin=fillet_area_sqin(inches(leg))), feet)


# Half the width, at least 1/4 and at most 1/2 in: northernarchitecture.us; 1/4, 3/4 and 1-1/4 are its examples.
@pytest.mark.parametrize(
    ("width", "depth"),
    [
        ("1/4", "1/4"),
        ("3/8", "1/4"),
        ("1/2", "1/4"),
        ("5/8", "5/16"),
        ("3/4", "3/8"),
        ("1", "1/2"),
        ("5/4", "1/2"),
        ("3/2", "1/2"),
    ],
)
def test_depth_of_a_joint(width, depth):
    assert joint_depth_in(inches(width)) == inches(depth)


# 231 cu in a US gallon, 2.54 cm an inch: NIST Handbook 44, appendix C. Printed 18.3, 36.6, 48.7, 54.1 cu in for
# 300 ml, 600 ml, 27 and 30 fl oz: Midwest Sealant Supply.
@pytest.mark.parametrize(
    ("found", "printed"),
    [
        (cuin_of_fl_oz(Decimal("10.1")), "18.23"),
        (cuin_of_fl_oz(Decimal("10.3")), "18.59"),
        (cuin_of_fl_oz(Decimal(20)), "36.09"),
        (cuin_of_fl_oz(Decimal(27)), "48.73"),
        (cuin_of_fl_oz(Decimal(28)), "50.53"),
        (cuin_of_fl_oz(Decimal(29)), "52.34"),
        (cuin_of_fl_oz(Decimal(30)), "54.14"),
        (cuin_of_fl_oz(Decimal(128)), "231.00"),
        (cuin_of_ml(Decimal(300)), "18.31"),
        (cuin_of_ml(Decimal(600)), "36.61"),
    ],
)
def test_volume_of_a_package(found, printed):
    assert round(found, 2) == Decimal(printed)


def test_pi_is_the_one_of_the_standard_library():
    assert float(PI) == math.pi


@given(diameter=st.decimals("0.01", 2, places=4), more=st.decimals(0, 1, places=4))
def test_a_thicker_bead_never_yields_more_feet(diameter, more):
    thin, thick = round_area_sqin(diameter), round_area_sqin(diameter + more)
    package = PACKAGES[0]
    assert 0 < yield_ft(package, area_sqin=thick) <= yield_ft(package, area_sqin=thin)
