"""Given weights that glass and frame of that size can have, and those that they cannot."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.calc.facts import OpeningFacts
from openings.calc.terms import FrameMaterial, Mounting
from openings.calc.units import METRIC
from openings.calc.weight import weight_lb
from openings.calc.weight_doubt import doubt_of, least_lb, most_lb, require_weight
from openings.errors import BadWeight

LB_PER_KG = Decimal("2.20462")
"""NIST Handbook 44, appendix C."""


def unit(width: str, height: str, lites: str = "", weight: str | None = None, frame: str = "") -> OpeningFacts:
    return OpeningFacts(
        ro_width_in=Decimal(width) + Decimal("0.5"),
        ro_height_in=Decimal(height) + Decimal("0.5"),
        unit_width_in=Decimal(width),
        unit_height_in=Decimal(height),
        lites_in=tuple(map(Decimal, lites.split())),
        weight_lb=None if weight is None else Decimal(weight),
        frame_material=FrameMaterial(frame) if frame else None,
    )


# Glass of 2500 kg/m3 weighs 13.006 lb a square foot and inch; the lites of a unit add up: MIL-HDBK-1013/12.
@pytest.mark.parametrize(
    ("given", "figure"),
    [
        (
            unit("96", "120", "0.25 0.25", "50"),
            '1/4" + 1/4" glass inside the widest frame and sash weighs 447.08 lb',
        ),
        (unit("36", "54", "0.125 0.125", "30"), '13.5 sq ft of 1/8" + 1/8" glass alone weighs 43.9 lb'),
        (unit("60", "72", "0.1875 0.1875", "60"), "weighs 113.4 lb"),
        (unit("24", "36", "0.125 0.125", "15"), '6 sq ft of 1/8" + 1/8" glass alone weighs 19.51 lb'),
        (unit("48", "60", "0.125 0.125 0.125", "40"), "weighs 71.13 lb"),
        (unit("72", "60", "", "20"), "no window glass is thinner"),
    ],
    ids=["520 lb of glass", "double", "plate", "small", "triple", "glass not given"],
)
def test_a_unit_does_not_weigh_less_than_its_glass(given, figure):
    assert figure in doubt_of(given).reason
    with pytest.raises(BadWeight, match="confirm this one if it is right: say so") as refused:
        require_weight(given, how="say so")
    assert [(fault.field, fault.value) for fault in refused.value.faults] == [("weight_lb", str(given.weight_lb))]


@pytest.mark.parametrize(
    "given",
    [
        unit("36", "54", "0.125 0.125", "500"),
        unit("24", "24", "0.125", "120"),
        unit("36", "54", "", "5000"),
        unit("120", "96", "0.25 0.25 0.25", "9000"),
    ],
)
def test_a_unit_does_not_weigh_many_times_its_glass_and_frame(given):
    assert "far more than this unit can weigh" in doubt_of(given).reason


# Honest units: 66 lb is the check of a 36 × 54 in vinyl unit of two 1/8 in lites (glass 43.9 lb, 15 ft of frame at
# 1.5 lb: MIL-HDBK-1013/12 and from memory); the others are light and heavy ones, common practice, no source.
@pytest.mark.parametrize(
    "given",
    [
        unit("36", "54", "0.125 0.125", "66", "vinyl"),
        unit("36", "54", "0.125 0.125", "44"),
        unit("36", "60", "0.09375", "30", "aluminum"),
        unit("32", "16", "", "9"),
        unit("72", "48", "", "45", "aluminum"),
        unit("96", "96", "0.25 0.25", "385"),
        unit("96", "48", "0.125 0.125", "206", "wood"),
        unit("36", "54", "", "400"),
        unit("36", "54", "0.125 0.125"),
    ],
    ids=["vinyl", "as light as its glass", "single", "hopper", "slider", "picture", "mulled", "security", "not given"],
)
def test_what_a_unit_can_weigh_is_not_doubted(given):
    assert doubt_of(given) is None


@pytest.mark.parametrize("lites", ["0.125 0.125", "0.1875 0.1875", "0.25 0.25", "0.125 0.125 0.125"])
@pytest.mark.parametrize(("width", "height"), [("36", "54"), ("48", "60"), ("72", "60"), ("96", "96"), ("24", "48")])
def test_kilograms_typed_as_pounds_are_suggested(width, height, lites):
    true_lb = weight_lb(unit(width, height, lites), mounting=Mounting.FLANGE)
    typed = (true_lb / LB_PER_KG).quantize(Decimal(1))
    reason = doubt_of(unit(width, height, lites, str(typed))).reason
    pounds = (typed / Decimal("0.45359237")).quantize(Decimal("0.01")).normalize()
    assert f"If {typed} was meant in kilograms, it is {pounds:f} lb" in reason


def test_kilograms_are_not_suggested_where_they_do_not_fit_either():
    assert "kilograms" not in doubt_of(unit("96", "120", "0.25 0.25", "50")).reason
    assert "kilograms" not in doubt_of(unit("96", "120", "0.25 0.25", "250"), units=METRIC).reason


def test_metric_sentences_say_the_same_weights():
    # 520.24 lb × 0.45359237 = 235.98 kg: NIST Handbook 44, appendix C.
    assert "1.254 m² of 3.175 mm + 3.175 mm glass alone weighs 19.91 kg" in (
        doubt_of(unit("36", "54", "0.125 0.125", "30"), units=METRIC).reason
    )


@given(
    width=st.integers(12, 240),
    height=st.integers(12, 240),
    thick=st.sampled_from(["", "0.125", "0.25 0.25", "0.5 0.5"]),
    frame=st.sampled_from(["", *FrameMaterial]),
)
def test_the_estimate_is_never_doubted(width, height, thick, frame):
    asked = unit(str(width), str(height), thick, frame=frame)
    assert least_lb(asked) <= weight_lb(asked, mounting=Mounting.FLANGE) <= most_lb(asked)
