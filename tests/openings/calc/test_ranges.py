"""Figures outside their usual range are warned of, with range and source."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from openings.calc.advice import Answer
from openings.calc.facts import OpeningFacts
from openings.calc.ranges import clearance_ranges, detail_ranges
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.units import METRIC

FLANGE = STARTING_DETAILS["flange over, wrap before"]
CASING = STARTING_DETAILS["casing, paper after"]
INSERT = STARTING_DETAILS["box frame replacement"]


def warned(detail, **figures: str) -> dict[str, str]:
    """Return by rule what is warned of a detail with some figures changed."""
    changed = replace(detail, **{name: Decimal(figure) for name, figure in figures.items()})
    return {one.rule.removeprefix("usual range: "): f"{one.reason} ({one.source})" for one in detail_ranges(changed)}


@pytest.mark.parametrize("name", STARTING_DETAILS)
def test_a_starting_point_is_warned_of_nothing(name):
    assert detail_ranges(STARTING_DETAILS[name]) == ()


# Each range with the source that is named: turn-up Fine Homebuilding 2013; strip AWDI manual p. 23; first strap AWDI
# manual p. 89; sill slope JELD-WEN JII023; bead Pecora and northernarchitecture.us; shims trade page; clearance
# shop-drawing note; insert Polaris; test pressure constructionspecifier.com. Laps, dam, flange fasteners: from memory.
@pytest.mark.parametrize(
    ("detail", "figures", "rule", "said"),
    [
        (FLANGE, {"pan_turn_up_in": "0"}, "pan turn-up", '0"; the usual range is from 4" to 6" (Fine Homebuilding'),
        (FLANGE, {"end_lap_in": "0"}, "end lap", '0"; the usual range is from 2" to 4"'),
        (FLANGE, {"pan_front_lap_in": "1"}, "pan front lap", '1"; the usual range is from 2" to 4"'),
        (FLANGE, {"back_dam_in": "0.125"}, "back dam", '1/8"; the usual range is at least 1/4"'),
        (FLANGE, {"sill_slope_deg": "2"}, "sill slope", "2°; the usual range is at least 5° (JELD-WEN JII023"),
        (FLANGE, {"strip_width_in": "18"}, "strip width", "from 9\" to 1' 0\" (AWDI manual p. 23"),
        (FLANGE, {"jamb_strip_short_in": "3"}, "jamb strip short", '3"; the usual range is from 1/4" to 1"'),
        (FLANGE, {"flange_bead_in": "6"}, "flange bead", '6"; the usual range is from 1/4" to 1/2"'),
        (FLANGE, {"flange_fastener_corner_in": "30"}, "flange fastener corner", "2' 6\"; the usual range is from 3\""),
        (FLANGE, {"flange_fastener_spacing_in": "24"}, "flange fastener spacing", "from 4\" to 1' 4\""),
        (FLANGE, {"sill_shim_spacing_in": "30"}, "sill shim spacing", "from 1' 2\" to 1' 4\" (trade page"),
        (FLANGE, {"jamb_shim_spacing_in": "12"}, "jamb shim spacing", "from 1' 8\" to 2' 0\" (trade page"),
        (FLANGE, {"ro_clearance_width_in": "0"}, "rough opening clearance width", '0"; the usual range is from 1/2"'),
        (FLANGE, {"most_clearance_height_in": "3"}, "most clearance height", '3"; the usual range is at most 1"'),
        (FLANGE, {"water_test_pct": "50"}, "water test", "50%; the usual range is from 15% to 20% (construction"),
        (FLANGE, {"sealant_waste_pct": "60"}, "sealant waste", "60%; the usual range is from 5% to 20%"),
        (CASING, {"setting_bead_in": "6"}, "setting bead", '6"; the usual range is from 1/4" to 1/2" (bond'),
        (CASING, {"joint_bead_in": "2"}, "joint bead", '2"; the usual range is from 1/4" to 1/2"'),
        (CASING, {"strap_corner_in": "30"}, "strap corner", "from 8\" to 2' 0\" (AWDI manual p. 89"),
        (INSERT, {"ro_clearance_width_in": "1"}, "rough opening clearance width", 'from 1/4" to 3/4" (Polaris'),
    ],
)  # fmt: skip
def test_a_figure_outside_its_range_warns_with_range_and_source(detail, figures, rule, said):
    found = warned(detail, **figures)
    assert list(found) == [rule]
    assert said in found[rule]


@pytest.mark.parametrize(
    ("detail", "figures"),
    [
        (replace(FLANGE, has_pan=False), {"pan_turn_up_in": "0", "back_dam_in": "0"}),
        (FLANGE, {"strap_corner_in": "30", "setting_bead_in": "6", "joint_bead_in": "6"}),
        (CASING, {"flange_bead_in": "6", "flange_fastener_corner_in": "30"}),
    ],
    ids=["no pan", "no straps and no casing", "no flange"],
)
def test_a_figure_that_a_detail_does_not_use_is_not_warned_of(detail, figures):
    assert warned(detail, **figures) == {}


def test_the_ends_of_a_range_belong_to_it():
    for figure in ("4", "6"):
        assert warned(FLANGE, pan_turn_up_in=figure) == {}
    assert warned(FLANGE, pan_turn_up_in="6.0625")


def test_a_warning_is_said_in_metric_where_that_is_asked_for():
    (one,) = detail_ranges(replace(FLANGE, pan_turn_up_in=Decimal(0)), units=METRIC)
    assert one.answer is Answer.TAKE_CARE
    # An inch is 25.4 mm: NIST Handbook 44, appendix C.
    assert one.reason == "pan turn-up 0 mm; the usual range is from 101.6 mm to 152.4 mm"


# The rough opening typically 1/2 to 1 in larger than the frame: shop-drawing note, secondary; by detail.
@pytest.mark.parametrize(
    ("unit_in", "rules"), [("35.5", 0), ("35", 0), ("36", 1), ("33", 1)], ids=["1/2 in", "1 in", "none", "3 in"]
)
def test_an_opening_with_less_or_more_room_than_its_detail_says_is_warned_of(unit_in, rules):
    opening = OpeningFacts(
        ro_width_in=Decimal(36),
        ro_height_in=Decimal(54),
        unit_width_in=Decimal(unit_in),
        unit_height_in=Decimal("53.5"),
    )
    assert len(clearance_ranges(opening, FLANGE)) == rules
