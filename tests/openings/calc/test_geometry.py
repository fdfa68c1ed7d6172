from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.geometry import (
    air_seal_in,
    anchor_places_in,
    anchor_points,
    area_sqft,
    count_by_spacing,
    drip_cap_in,
    flange_points,
    head_cut_in,
    is_flashed_here,
    is_held_at_jambs,
    jamb_shim_places_in,
    jamb_shims_beside_straps_in,
    pan_width_in,
    setting_edge_in,
    shim_points,
    shimmed_points,
    spread,
    strip_runs,
)
from openings.calc.terms import Mounting, SillBead

FLANGED = DetailFacts(
    mounting=Mounting.FLANGE,
    barrier_before_window=True,
    jamb_flashing_over_flange=False,
    strip_width_in=Decimal(9),
)
CASED = DetailFacts(
    mounting=Mounting.CASING,
    barrier_before_window=False,
    jamb_flashing_over_flange=False,
    casing_width_in=Decimal(2),
    has_straps=True,
)

lengths = st.decimals(min_value=1, max_value=480, places=4)


def opening(width: str, height: str, *, clearance: str = "0.5") -> OpeningFacts:
    return OpeningFacts(
        ro_width_in=Decimal(width),
        ro_height_in=Decimal(height),
        unit_width_in=Decimal(width) - Decimal(clearance),
        unit_height_in=Decimal(height) - Decimal(clearance),
    )


# Sill and head: rough-opening width + 2 × strip width, AAMA 2400-10 note 3. Jamb: from memory, AAMA 2400.
@pytest.mark.parametrize(
    ("width", "height", "sill", "jamb", "head", "total"),
    [
        ("36", "54", 54, 71, 54, 250),
        ("48", "60", 66, 77, 66, 286),
        ("24", "36", 42, 53, 42, 190),
        ("72", "60", 90, 77, 90, 334),
    ],
    ids=["3046", "4050", "2030", "6050"],
)
def test_strips_of_9_in(width, height, sill, jamb, head, total):
    runs = strip_runs(opening(width, height), FLANGED)
    assert (runs.sill_in, runs.jamb_in, runs.head_in, runs.total_in) == (sill, jamb, head, total)


def test_strips_of_another_width_follow_the_same_rule():
    # AAMA 2400-10 note 3; jamb from memory. 36 + 2 × 12, 54 + 2 × (12 - 1/2).
    runs = strip_runs(opening("36", "54"), replace(FLANGED, strip_width_in=Decimal(12)))
    assert (runs.sill_in, runs.jamb_in, runs.head_in) == (60, 77, 60)


def test_how_far_strips_stop_short_and_caps_run_past_is_up_to_the_detail():
    detail = replace(CASED, jamb_strip_short_in=Decimal(1), drip_cap_past_in=Decimal(1))
    assert strip_runs(opening("36", "54"), detail).jamb_in == 54 + 2 * (12 - 1)
    assert drip_cap_in(opening("36.5", "54.5"), detail) == 36 + 2 * 2 + 2 * 1


# Points along a side, ceil((L - 2c) / s) + 1: nail fin at most 16 in apart, AAMA 2400, from memory.
@pytest.mark.parametrize(
    ("length", "corner", "spacing", "count"),
    [
        ("35.5", "4", "16", 3),
        ("53.5", "4", "16", 4),
        ("40", "4", "16", 3),
        ("40.00001", "4", "16", 4),
        ("8.00001", "4", "16", 2),
        ("8", "4", "16", 1),
        ("5", "4", "16", 1),
    ],
    ids=["3-0", "4-6", "exact", "a hair more", "barely two", "corners meet", "too short"],
)
def test_points_by_spacing(length, corner, spacing, count):
    assert count_by_spacing(length_in=Decimal(length), corner_in=Decimal(corner), spacing_in=Decimal(spacing)) == count


@given(length=lengths, longer=lengths, corner=st.decimals(0, 24, places=2), spacing=st.decimals(1, 48, places=2))
def test_a_longer_side_never_takes_fewer_points(length, longer, corner, spacing):
    count = count_by_spacing(length_in=length, corner_in=corner, spacing_in=spacing)
    assert count >= 1
    assert count_by_spacing(length_in=length + longer, corner_in=corner, spacing_in=spacing) >= count


@given(length=lengths, corner=st.decimals(0, 24, places=2), spacing=st.decimals(1, 48, places=2))
def test_neighboring_points_stand_no_further_apart_than_the_spacing(length, corner, spacing):
    count = count_by_spacing(length_in=length, corner_in=corner, spacing_in=spacing)
    if count > 1:
        assert (length - 2 * corner) <= spacing * (count - 1)


def test_flange_of_3046_takes_14_fasteners():
    # Frame 35-1/2 × 53-1/2, 4 in from the corners, 16 in apart: AAMA 2400, from memory.
    assert flange_points(opening("36", "54"), FLANGED).total == 14


def rated(width: str, height: str, pressure: int) -> OpeningFacts:
    return replace(opening(width, height, clearance="0"), design_pressure_psf=Decimal(pressure))


# Load: half of pressure × area on each long side, AWDI manual p. 89; 131.9 lb a No. 8 screw, NDS 12.2 (× 1.6, from
# memory). 65 psf × 40 sq ft / 2 / 131.9 lb = 9.9; by spacing 5 and 7.
@pytest.mark.parametrize(
    ("width", "height", "jamb", "across"),
    [("60", "96", 10, 5), ("96", "60", 5, 10), ("60", "60", 7, 5)],
    ids=["tall", "wide", "square"],
)
def test_the_long_sides_of_a_flange_take_what_the_load_asks_for(width, height, jamb, across):
    points = flange_points(rated(width, height, 65), FLANGED)
    assert (points.jamb, points.head, points.sill) == (jamb, across, across)


@pytest.mark.parametrize(("height", "jamb"), [("96", 10), ("60", 10)], ids=["tall", "wide"])
def test_the_jambs_take_the_load_where_the_sill_has_no_straps(height, jamb):
    # AWDI manual p. 89: 138.9 lb a clip, 65 psf × 40 sq ft / 2 / 138.9 lb = 9.36. Always the jambs: our choice.
    width = {"96": "60", "60": "96"}[height]
    points = anchor_points(rated(width, height, 65), CASED)
    assert (points.jamb, points.sill) == (jamb, 0)


def test_at_a_low_pressure_the_spacing_governs():
    # 40 psf on 36 × 60 in takes 3 clips on each long side, AWDI manual p. 89; 16 in apart they are 4.
    assert anchor_points(rated("36", "60", 40), CASED) == anchor_points(opening("36", "60", clearance="0"), CASED)
    assert anchor_points(rated("36", "60", 40), CASED).jamb == 4


@pytest.mark.parametrize(("width", "held"), [("59", True), ("60", True), ("61", False)], ids=["tall", "square", "wide"])
def test_the_long_sides_hold_a_unit(width, held):
    # AWDI manual p. 89; of a square unit the jambs: our choice.
    assert is_held_at_jambs(opening(width, "60")) is held


def test_shimmed_points_are_those_by_spacing_those_at_straps_and_those_the_detail_names():
    # At straps, locks and hinges: from memory. 4 at the sill, one near each end of both jambs, 11 straps, 2 locks.
    detail = replace(CASED, lock_hinge_shim_points=2)
    assert shimmed_points(opening("36", "54"), detail) == 4 + 2 * 2 + 11 + 2
    assert shimmed_points(opening("36", "54"), replace(detail, has_shims_at_straps=False)) == 4 + 2 * 4 + 2


# JELD-WEN JII-90025: first shim 1/2 in from the corner; 16 in apart, trade page (greenyplace).
@pytest.mark.parametrize(("width", "count"), [("36", 4), ("48", 4), ("72", 6)])
def test_sill_shims(width, count):
    assert shim_points(opening(width, "60"), FLANGED).sill == count


def test_straps_stand_on_jambs_and_head_but_not_on_the_sill():
    # First one 8 in from the corner: AWDI manual p. 89. No fastener through the pan base: trade page, secondary.
    points = anchor_points(opening("36.5", "60.5"), CASED)
    assert (points.jamb, points.head, points.sill, points.total) == (4, 3, 0, 11)


def test_setting_bead_runs_along_the_outer_edge_of_the_casing_but_not_the_sill():
    # Two jambs and head, the sill drains: common practice, no source. (36 + 2×2) + 2 × (54 + 2) = 152.
    assert setting_edge_in(opening("36.5", "54.5"), CASED) == 152


def test_sill_bead_of_a_box_frame_is_one_inch_shorter_than_the_frame():
    # Starts and stops 1/2 in short of each jamb: Pella 80WW0101. 36 + 2 × 54 + (36 - 1).
    box_frame = replace(
        FLANGED, mounting=Mounting.BOX_FRAME, sill_bead=SillBead.DRAIN_GAPS, sill_drain_gap_in=Decimal("0.5")
    )
    assert setting_edge_in(opening("36.5", "54.5"), box_frame) == 179


def test_air_seal_runs_only_where_there_is_a_gap():
    snug = OpeningFacts(
        ro_width_in=Decimal(36), ro_height_in=Decimal(54), unit_width_in=Decimal(36), unit_height_in=Decimal(53)
    )
    assert air_seal_in(snug) == 72
    assert air_seal_in(opening("36", "54", clearance="0")) == 0


@pytest.mark.parametrize(
    ("mounting", "before", "flashed"),
    [
        (Mounting.FLANGE, True, True),
        (Mounting.FLANGE, False, True),
        (Mounting.BOX_FRAME, False, True),
        (Mounting.BOX_FRAME, True, False),
    ],
)
def test_only_a_box_frame_behind_a_standing_barrier_takes_no_strips(mounting, before, flashed):
    # Common practice, no source.
    detail = DetailFacts(mounting=mounting, barrier_before_window=before, jamb_flashing_over_flange=False)
    assert is_flashed_here(detail) is flashed


def test_area_is_exact():
    assert area_sqft(Decimal(48), Decimal(60)) == 20


# Straps 8 in from the corner: AWDI manual p. 89, at most 16 in apart; shims near both ends and at most 24 in apart:
# trade page (greenyplace), secondary; a strap's shim is the jamb's: common practice, no source.
@pytest.mark.parametrize(
    ("height", "changes", "beside"),
    [
        ("54.5", {}, ["0.5", "53.5"]),
        ("54.5", {"has_shims_at_straps": False}, ["0.5", "18.16667", "35.83333", "53.5"]),
        ("54.5", {"strap_corner_in": Decimal("1.5")}, []),
        ("54.5", {"strap_corner_in": Decimal(2)}, ["0.5", "53.5"]),
        ("80.5", {"strap_spacing_in": Decimal(32), "strap_corner_in": Decimal(1)}, ["14", "40", "66"]),
        ("54.5", {"strap_corner_in": Decimal(26), "strap_spacing_in": Decimal(4)}, ["0.5", "13.25", "40.75", "53.5"]),
    ],
    ids=["straps", "no shims at straps", "straps at the ends", "straps near them", "straps far apart", "in the middle"],
)
def test_a_straps_shim_is_the_jambs_where_they_meet(height, changes, beside):
    detail, window = replace(CASED, **changes), opening("28.5", height)
    found = jamb_shims_beside_straps_in(window, detail)
    assert [round(at, 5) for at in found] == [Decimal(at) for at in beside]
    straps = anchor_places_in(window, detail)[0] if detail.has_shims_at_straps else ()
    assert jamb_shim_places_in(window, detail) == tuple(sorted((*straps, *found)))


@given(height=st.decimals(min_value=3, max_value=470, places=3), corner=st.integers(0, 30), spacing=st.integers(4, 48))
def test_no_two_shims_of_a_jamb_stand_further_apart_than_asked_nor_on_one_another(height, corner, spacing):
    # Geometry.
    detail = replace(CASED, strap_corner_in=Decimal(corner), strap_spacing_in=Decimal(spacing))
    places = jamb_shim_places_in(opening("36", str(height + Decimal("0.5"))), detail)
    gaps = [below - above for above, below in pairwise(places)]
    assert places[0] <= 2
    assert height - places[-1] <= 2
    assert max(gaps, default=0) <= 24
    straps = set(anchor_places_in(opening("36", str(height + Decimal("0.5"))), detail)[0])
    assert all(abs(at - strap) >= Decimal("1.5") for strap in straps for at in set(places) - straps)


# Height × √2, from the corner at 45°: geometry. The tops of the jamb strips go under the flap too, or the WRB sheds
# behind them: IRC R703.4.
@pytest.mark.parametrize(
    ("changes", "cut"),
    [
        ({"strip_width_in": Decimal(12)}, "17"),
        ({"strip_width_in": Decimal(9)}, "12.75"),
        ({"has_head_strip": False, "head_membrane_width_in": Decimal(6)}, "12.75"),
        ({"has_head_strip": False, "head_membrane_width_in": Decimal(12)}, "17"),
    ],
    ids=["12 in strip", "9 in strip", "jamb strips beside a low membrane", "a higher membrane"],
)
def test_the_head_flap_is_cut_as_far_as_what_goes_under_it(changes, cut):
    assert head_cut_in(replace(FLANGED, **changes)) == Decimal(cut)


def test_a_pan_is_as_wide_as_sill_dam_and_front_lap():
    # Geometry; back dam and lap over what lies below: Building Science Corp. Info-302.
    assert pan_width_in(FLANGED) == Decimal("5.5") + Decimal("0.5") + 2
    assert pan_width_in(replace(FLANGED, sill_depth_in=Decimal(12))) == Decimal("14.5")


@pytest.mark.parametrize(
    ("count", "at_in"), [(1, [20]), (2, [4, 36]), (3, [4, 20, 36])], ids=["one", "corners", "three"]
)
def test_points_are_spread_evenly_between_the_corners(count, at_in):
    assert list(spread(Decimal(40), count=count, corner_in=Decimal(4))) == at_in


@pytest.mark.parametrize("length_in", [6, 8], ids=["shorter than both corners", "as short as both corners"])
def test_points_that_a_short_side_must_hold_stand_apart_on_it(length_in):
    # A load may ask for more anchors than the spacing (AWDI manual p. 89), on a side of any length.
    at_in = spread(Decimal(length_in), count=4, corner_in=Decimal(4))
    assert list(at_in) == sorted(set(at_in))
    assert 0 < at_in[0] < at_in[-1] < length_in
    assert at_in[0] == length_in - at_in[-1]
