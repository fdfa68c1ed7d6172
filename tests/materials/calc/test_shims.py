from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from materials.calc.parts import Part
from materials.calc.shims import shim_lines
from openings.calc.geometry import anchor_points, shimmed_points
from openings.calc.units import METRIC
from tests.materials.calc.drawn import CASED, FLANGED, REPLACEMENT, opening


# JELD-WEN JII-90025 (1/2 in from the corner); 16 in apart: trade page (greenyplace), secondary.
@pytest.mark.parametrize(("width", "count"), [(36, 4), (48, 4), (72, 6)], ids=["3-0", "4-0", "6-0"])
def test_sill_shims(width, count):
    sill, _ = shim_lines(opening(width, 60), FLANGED)
    assert sill.count == count


def test_jambs_of_3046_take_four_pairs_each():
    # 24 in apart, in pairs: trade page (greenyplace), secondary. (53.5 - 1) / 24 up, and one: 4 points.
    _, jambs = shim_lines(opening(36, 54), FLANGED)
    assert jambs.count == 2 * 4 * 2
    assert jambs.reason == (
        'shim, 16: jambs, a pair at each of 2 × 4 points, first 1/2" from the corner of the unit, at most 2\' 0" apart'
    )


@pytest.mark.parametrize("detail", [CASED, REPLACEMENT], ids=["casing", "box frame"])
def test_every_strap_is_shimmed_by_a_pair(detail):
    # At each fastener through the frame: from memory.
    straps = anchor_points(opening(36, 54), detail).total
    _, _, at_straps = shim_lines(opening(36, 54), detail)
    assert (at_straps.part, at_straps.count) == (Part.SHIM, 2 * straps)
    assert at_straps.reason == f"shim, {2 * straps}: straps, a pair at each of {straps} straps"


@pytest.mark.parametrize(
    "detail",
    [
        replace(CASED, has_shims_at_straps=False),
        replace(CASED, has_straps=False),
        FLANGED,
    ],
    ids=["not wanted", "screwed through the casing", "flange alone"],
)
def test_where_no_strap_is_shimmed_sill_and_jambs_are_all(detail):
    assert len(shim_lines(opening(36, 54), detail)) == 2


def test_locks_and_hinges_are_shimmed_as_the_detail_says():
    # At meeting rail, locks and hinges: from memory.
    _, _, at_locks = shim_lines(opening(36, 54), replace(FLANGED, lock_hinge_shim_points=3))
    assert at_locks.count == 6
    assert "locks and hinges, a pair at each of 3 points" in at_locks.reason


def test_points_are_counted_once_however_many_shims_they_take():
    # 4 at the sill, one near each end of both jambs, 11 straps, 3 locks and hinges.
    detail = replace(CASED, lock_hinge_shim_points=3)
    assert shimmed_points(opening(36, 54), detail) == 4 + 2 * 2 + 11 + 3
    assert shimmed_points(opening(36, 54), FLANGED) == 4 + 2 * 4


def test_a_reason_is_said_in_metric_too():
    sill, _ = shim_lines(opening(36, 54), FLANGED)
    assert sill.reason_in(METRIC).endswith("first 12.7 mm from the corner of the unit, at most 406.4 mm apart")


def test_a_straps_shims_are_the_jambs_where_they_meet():
    # A unit of 28 × 54 in took 39 with jamb and straps counted apart. Straps 8 in from the corner (AWDI manual p. 89)
    # stand 12-2/3 in apart; shims near both ends (trade page greenyplace): common practice, no source.
    sill, jambs, at_straps = shim_lines(opening("28.5", "54.5"), CASED)
    assert (sill.count, jambs.count, at_straps.count) == (3, 2 * 2 * 2, 2 * 10)
    assert "2 × 2 points beside the straps, whose own shims count" in jambs.reason


def test_a_jamb_whose_straps_stand_at_its_ends_takes_no_shims_beside_theirs():
    lines = shim_lines(opening(36, 54), replace(CASED, strap_corner_in=Decimal(1)))
    assert [line.reason.partition(": ")[2].partition(",")[0] for line in lines] == ["sill", "straps"]
