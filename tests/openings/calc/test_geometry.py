from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.calc.facts import DetailFacts, Mounting, OpeningFacts
from openings.calc.geometry import (
    air_seal_in,
    anchor_points,
    area_sqft,
    box_frame_edge_in,
    casing_edge_in,
    count_by_spacing,
    flange_points,
    is_flashed_here,
    shim_points,
    strip_runs,
)

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
    assert casing_edge_in(opening("36.5", "54.5"), CASED) == 152


def test_sill_bead_of_a_box_frame_is_one_inch_shorter_than_the_frame():
    # Starts and stops 1/2 in short of each jamb: Pella 80WW0101. 36 + 2 × 54 + (36 - 1).
    assert box_frame_edge_in(opening("36.5", "54.5"), FLANGED) == 179


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
