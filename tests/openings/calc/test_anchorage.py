from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.calc.anchorage import (
    anchor_allowable_lb,
    clips_each_long_side,
    count_by_load,
    fastener_allowable_lb,
    largest_spacing_in,
    nail_withdrawal_lb_per_in,
    screw_withdrawal_lb_per_in,
    stagnation_pressure_psf,
    total_load_lb,
)
from openings.calc.facts import OpeningFacts
from openings.calc.starting_details import STARTING_DETAILS

FLANGED = STARTING_DETAILS["flange over, wrap after"]
CASED = STARTING_DETAILS["casing, paper after"]
BOX_FRAME = STARTING_DETAILS["box frame replacement"]
STRAP_LB = FLANGED.strap_allowable_lb

GRAVITIES = ("0.36", "0.42", "0.43", "0.49", "0.50", "0.55")

# W = 2850 G² D, NDS 12.2 (engineeringtoolbox.com); the integers of NDS table 12.2B, from memory, are these rounded.
SCREWS = {
    "No. 6": ("0.138", ("51.0", "69.4", "72.7", "94.4", "98.3", "119.0")),
    "No. 8": ("0.164", ("60.6", "82.4", "86.4", "112.2", "116.9", "141.4")),
    "No. 10": ("0.190", ("70.2", "95.5", "100.1", "130.0", "135.4", "163.8")),
    "No. 12": ("0.216", ("79.8", "108.6", "113.8", "147.8", "153.9", "186.2")),
}

# W = 1380 G^2.5 D, NDS 12.2 (engineeringtoolbox.com), a fifth of the ultimate 6900 G^2.5 D of FPL-093.
NAILS = {
    "6d": ("0.113", ("12.1", "17.8", "18.9", "26.2", "27.6", "35.0")),
    "8d": ("0.131", ("14.1", "20.7", "21.9", "30.4", "32.0", "40.6")),
    "10d": ("0.148", ("15.9", "23.3", "24.8", "34.3", "36.1", "45.8")),
    "16d": ("0.162", ("17.4", "25.6", "27.1", "37.6", "39.5", "50.2")),
}

pressures = st.integers(1, 150)
sides = st.integers(1, 140)


def table(fasteners):
    return [
        pytest.param(Decimal(diameter), Decimal(gravity), Decimal(lb), id=f"{name}, G {gravity}")
        for name, (diameter, values) in fasteners.items()
        for gravity, lb in zip(GRAVITIES, values, strict=True)
    ]


def unit(width: object, height: object, pressure: object = None) -> OpeningFacts:
    width_in, height_in = Decimal(str(width)), Decimal(str(height))
    return OpeningFacts(
        ro_width_in=width_in,
        ro_height_in=height_in,
        unit_width_in=width_in,
        unit_height_in=height_in,
        design_pressure_psf=None if pressure is None else Decimal(str(pressure)),
    )


@pytest.mark.parametrize(("diameter", "gravity", "lb"), table(SCREWS))
def test_withdrawal_of_a_wood_screw(diameter, gravity, lb):
    assert abs(screw_withdrawal_lb_per_in(specific_gravity=gravity, diameter_in=diameter) - lb) <= Decimal("0.051")


@pytest.mark.parametrize(("diameter", "gravity", "lb"), table(NAILS))
def test_withdrawal_of_a_nail(diameter, gravity, lb):
    assert abs(nail_withdrawal_lb_per_in(specific_gravity=gravity, diameter_in=diameter) - lb) <= Decimal("0.051")


# Worked examples of engineeringtoolbox.com, which cuts off the decimals: 109.65 is printed as 109, 38.05 as 38.
@pytest.mark.parametrize(
    ("withdrawal", "diameter", "printed", "exact"),
    [
        (screw_withdrawal_lb_per_in, "0.190", 109, "109.65"),
        (nail_withdrawal_lb_per_in, "0.203", 38, "38.05"),
    ],
    ids=["No. 10 screw", "20d nail"],
)
def test_published_withdrawal(withdrawal, diameter, printed, exact):
    lb = withdrawal(specific_gravity=Decimal("0.45"), diameter_in=Decimal(diameter))
    assert int(lb) == printed
    assert abs(lb - Decimal(exact)) <= Decimal("0.01")


# Clips on each long side, P × W × H × 0.0001 / 4 rounded up: AWDI installation manual p. 89, with its example.
AWDI = pytest.mark.parametrize(
    ("pressure", "width", "height", "clips"),
    [(40, 36, 60, 3), (50, 36, 60, 3), (30, 48, 48, 2), (65, 60, 72, 8), (40, 20, 50, 1)],
    ids=["the page's example, 2.16", "2.70", "1.728", "7.02", "exactly 1"],
)


@AWDI
def test_clips_on_each_long_side(pressure, width, height, clips):
    assert clips_each_long_side(pressure_psf=Decimal(pressure), width_in=Decimal(width), height_in=Decimal(height)) == (
        clips
    )


@AWDI
def test_the_strap_of_a_detail_holds_what_the_clip_formula_takes_a_clip_to_hold(pressure, width, height, clips):
    # 144 / 2 / 2.5e-5 / 144 = 138.9 lb a clip where the two long sides carry the load: AWDI manual p. 89.
    assert count_by_load(unit(width, height, pressure), STRAP_LB) == clips


@given(pressure=pressures, width=sides, height=sides)
def test_default_straps_follow_the_clip_formula_at_every_size(pressure, width, height):
    # AWDI manual p. 89.
    clips = clips_each_long_side(pressure_psf=Decimal(pressure), width_in=Decimal(width), height_in=Decimal(height))
    assert count_by_load(unit(width, height, pressure), STRAP_LB) == clips


def test_load_of_a_3050_unit_at_40_psf():
    # Pressure × area: DP 40, 36 × 60 in, 600 lb; AWDI manual p. 89 sizes the same unit.
    assert total_load_lb(pressure_psf=Decimal(40), width_in=Decimal(36), height_in=Decimal(60)) == 600


def test_five_no_8_screws_in_withdrawal_hold_a_3050_unit_at_40_psf():
    # 82.4 lb/in × 1 in × 1.6 = 131.9 lb a screw (NDS 12.2; 1.6 from memory); 600 lb / 131.9 lb = 4.55.
    screw_lb = fastener_allowable_lb(FLANGED)
    assert round(screw_lb, 1) == Decimal("131.9")
    assert round(600 / screw_lb, 2) == Decimal("4.55")
    assert count_by_load(unit(36, 60, 40), screw_lb) == 3  # 2 × 3 on two sides, 5 at least


def test_largest_spacing_along_a_loaded_side():
    # s <= 144 × allowable / (DP × half width): 144 × 131.9 / (40 × 18), from the load on half the width.
    apart_in = largest_spacing_in(allowable_lb=Decimal("131.9"), pressure_psf=Decimal(40), across_in=Decimal(36))
    assert apart_in == Decimal("26.38")


@given(pressure=pressures, width=sides, height=sides, allowable=st.integers(20, 400))
def test_the_anchors_of_a_side_hold_its_half_of_the_load_and_one_fewer_would_not(pressure, width, height, allowable):
    count = count_by_load(unit(width, height, pressure), Decimal(allowable))
    half_lb = total_load_lb(pressure_psf=Decimal(pressure), width_in=Decimal(width), height_in=Decimal(height)) / 2
    assert (count - 1) * allowable < half_lb <= count * allowable


# q = 0.00256 V²: ASCE 7, from memory.
@pytest.mark.parametrize(
    ("mph", "psf"), [(50, "6.4"), (90, "20.7"), (115, "33.9"), (130, "43.3")], ids=lambda value: str(value)
)
def test_stagnation_pressure(mph, psf):
    assert round(stagnation_pressure_psf(Decimal(mph)), 1) == Decimal(psf)


def test_the_article_s_50_mph_are_about_6_psf():
    # constructionspecifier.com equates 6.0 psf (290 Pa) with 50 mph.
    assert abs(stagnation_pressure_psf(Decimal(50)) - 6) < Decimal("0.5")


def test_nails_hold_less_than_screws():
    # NDS 12.2: 1380 G^2.5 D against 2850 G² D; 0.42^0.5 = 0.648.
    nailed = fastener_allowable_lb(replace(FLANGED, fastener_is_nail=True))
    assert round(nailed / fastener_allowable_lb(FLANGED), 4) == Decimal("0.3138")


@pytest.mark.parametrize(
    ("changed", "holds"),
    [
        ({"fastener_penetration_in": Decimal("1.5")}, "1.5"),
        ({"load_duration_factor": Decimal(1)}, "0.625"),
        ({"framing_specific_gravity": Decimal("0.84")}, "4"),
    ],
    ids=["deeper", "no wind", "denser"],
)
def test_what_a_fastener_holds_follows_the_detail(changed, holds):
    # Withdrawal × penetration × load duration: NDS 12.2.
    changed_lb = fastener_allowable_lb(replace(FLANGED, **changed))
    assert changed_lb == fastener_allowable_lb(FLANGED) * Decimal(holds)


def test_what_the_detail_states_goes_before_what_withdrawal_gives():
    # Of the product approval: IRC R609.7.2.1.
    stated = Decimal(90)
    for detail in (FLANGED, CASED, BOX_FRAME):
        assert fastener_allowable_lb(replace(detail, fastener_allowable_lb=stated)) == stated


def test_through_a_box_frame_no_withdrawal_is_taken():
    # Withdrawal acts along the fastener (NDS 12.2); through a box frame wind loads it across.
    assert fastener_allowable_lb(BOX_FRAME) is None
    assert count_by_load(unit(36, 60, 40), fastener_allowable_lb(BOX_FRAME)) == 0


def test_a_strapped_unit_is_held_by_its_straps():
    assert anchor_allowable_lb(CASED) == STRAP_LB
    assert anchor_allowable_lb(replace(CASED, has_straps=False)) == fastener_allowable_lb(CASED)


def test_without_a_design_pressure_no_load_is_counted():
    assert count_by_load(unit(36, 60), STRAP_LB) == 0
