from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from openings.calc.facts import Mounting, OpeningFacts
from openings.calc.weight import estimate_lb, glass_lb_per_sqft, weight_of


def opening(*, weight_lb: Decimal | None = None) -> OpeningFacts:
    return OpeningFacts(
        ro_width_in=Decimal("36.5"),
        ro_height_in=Decimal("54.5"),
        unit_width_in=Decimal(36),
        unit_height_in=Decimal(54),
        weight_lb=weight_lb,
    )


# Arithmetic from 2500 kg/m3, 156 lb/ft3.
@pytest.mark.parametrize(
    ("nominal", "lb"),
    [
        ("3/32", "1.219"),
        ("1/8", "1.626"),
        ("5/32", "2.032"),
        ("3/16", "2.439"),
        ("1/4", "3.251"),
        ("5/16", "4.064"),
        ("3/8", "4.877"),
        ("1/2", "6.503"),
        ("5/8", "8.129"),
        ("3/4", "9.754"),
        ("1", "13.006"),
    ],
)
def test_glass_by_nominal_thickness(nominal, lb):
    assert abs(glass_lb_per_sqft(_inches(nominal)) - Decimal(lb)) <= Decimal("0.001")


# MIL-HDBK-1013/12, tables 29 and 30, lb/ft2; its 3/8 in runs high, hence 9 %.
@pytest.mark.parametrize(
    ("nominal", "lb"),
    [("1/8", "1.6"), ("1/4", "3.1"), ("3/8", "5.3"), ("1/2", "6.6"), ("5/8", "8.5"), ("3/4", "10.1")],
)
def test_glass_agrees_with_the_navy_handbook_within_9_percent(nominal, lb):
    assert abs(glass_lb_per_sqft(_inches(nominal)) / Decimal(lb) - 1) <= Decimal("0.09")


def test_lites_add_up_and_air_weighs_nothing():
    # MIL-HDBK-1013/12: sum of the lites. 36 × 54 at 3.25 lb/ft2 and 15 ft at 1.5 lb/ft (from memory): 66 lb.
    lites = (Decimal("0.125"), Decimal("0.125"))
    lb = estimate_lb(opening(), lites_in=lites, frame_lb_per_ft=Decimal("1.5"))
    assert round(lb) == 66


def test_a_missing_weight_is_estimated_and_says_so():
    weight = weight_of(opening(), mounting=Mounting.FLANGE)
    assert weight.is_estimate
    assert "no weight is given" in weight.reason


def test_a_given_weight_is_kept():
    weight = weight_of(opening(weight_lb=Decimal("112.5")), mounting=Mounting.CASING)
    assert (weight.lb, weight.is_estimate) == (Decimal("112.5"), False)


def _inches(nominal: str) -> Decimal:
    fraction = Fraction(nominal)
    return Decimal(fraction.numerator) / fraction.denominator
