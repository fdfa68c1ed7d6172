from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.calc.draw import add_up, draw_of
from materials.calc.lines import DrawLine
from materials.calc.parts import MEASURES, Part
from openings.calc.facts import DetailFacts, HeadFlashing, OpeningFacts
from openings.calc.starting_details import STARTING_DETAILS

FLANGED = replace(STARTING_DETAILS["flange over, wrap after"], strip_width_in=Decimal(9))
CASED = STARTING_DETAILS["casing, paper after"]
REPLACEMENT = STARTING_DETAILS["box frame replacement"]


def opening(width: Decimal | int, height: Decimal | int) -> OpeningFacts:
    return OpeningFacts(
        ro_width_in=Decimal(width),
        ro_height_in=Decimal(height),
        unit_width_in=width - Decimal("0.5"),
        unit_height_in=height - Decimal("0.5"),
    )


def line(part: Part, detail: DetailFacts, width: Decimal | int = 36, height: Decimal | int = 54) -> DrawLine:
    return next(line for line in draw_of(opening(width, height), detail) if line.part is part)


def parts(detail: DetailFacts) -> set[str]:
    return {line.part.value for line in draw_of(opening(36, 54), detail)}


# AAMA 2400-10 note 3; jambs from memory. The four methods differ in order, not in length.
@pytest.mark.parametrize("over_flange", [True, False])
@pytest.mark.parametrize("before", [True, False])
def test_3046_with_9_in_strips_takes_250_in_by_every_method(over_flange, before):
    detail = replace(FLANGED, jamb_flashing_over_flange=over_flange, barrier_before_window=before)
    totals = add_up([draw_of(opening(36, 54), detail)])
    assert totals[Part.SILL_STRIP] == 54
    assert totals[Part.JAMB_STRIP] == 142
    assert totals[Part.HEAD_STRIP] == 54


def test_a_reason_gives_length_rule_and_numbers():
    sill = line(Part.SILL_STRIP, FLANGED)
    assert sill.reason == "sill strip, 54 in: rough-opening width 36 + 2 × 9 strip width"
    assert sill.source == "AAMA 2400-10 note 3"
    assert "jamb strip, 2 × 71 in: rough-opening height 54" in line(Part.JAMB_STRIP, FLANGED).reason


# Rough-opening width + 2 × turn-up: JLC photo guide (6 in), Fine Homebuilding 2013 (4 to 6 in).
@pytest.mark.parametrize(("turn_up", "length"), [(6, 48), (4, 44)])
def test_pan_membrane(turn_up, length):
    assert line(Part.PAN_MEMBRANE, replace(FLANGED, pan_turn_up_in=Decimal(turn_up))).quantity == length


def test_a_pan_takes_two_corner_pieces_and_without_a_pan_there_are_none():
    # Common practice, no source.
    assert line(Part.CORNER_PIECE, FLANGED).count == 2
    assert not {"corner piece", "pan membrane"} & parts(replace(FLANGED, has_pan=False))


def test_flange_of_3046_takes_14_fasteners_and_no_straps():
    # 4 in from the corner, 16 in apart: AAMA 2400, from memory.
    assert line(Part.FLANGE_FASTENER, FLANGED).count == 14
    assert "strap" not in parts(FLANGED)


def test_a_casing_is_strapped_with_screws_both_ways_and_has_no_flange_fasteners():
    # Straps screwed to the jamb and fastened to the framing: common practice, no source.
    straps = line(Part.STRAP, CASED).count
    assert straps == 11
    assert line(Part.JAMB_SCREW, CASED).count == 2 * straps
    assert line(Part.FRAMING_SCREW, CASED).count == 2 * straps
    assert "flange fastener" not in parts(CASED)


def test_without_straps_a_casing_is_screwed_through_at_the_same_points():
    # Through the casing is allowed: common practice, no source.
    detail = replace(CASED, has_straps=False)
    assert line(Part.FRAMING_SCREW, detail).count == line(Part.STRAP, CASED).count
    assert not {"strap", "jamb screw"} & parts(detail)


def test_beads_of_a_casing():
    # 1/4 in joint bead, 1/2 in setting bead, two jambs and head: common practice, no source; area πD²/4.
    detail = replace(CASED, sealant_waste_pct=Decimal(0))
    joint, setting = line(Part.CASING_JOINT_BEAD, detail), line(Part.SETTING_BEAD, detail)
    assert round(joint.quantity, 4) == round(Decimal("142.5") * Decimal("0.0490873852"), 4)
    assert round(setting.quantity, 4) == round(Decimal("150.5") * Decimal("0.1963495408"), 4)


def test_waste_is_in_the_quantity_and_in_the_reason():
    plain, wasted = (
        line(Part.FLANGE_BEAD, replace(FLANGED, sealant_waste_pct=Decimal(percent))) for percent in (0, 10)
    )
    assert round(wasted.quantity / plain.quantity, 10) == Decimal("1.1")
    assert "+ 10 % waste" in wasted.reason


def test_a_bead_of_no_diameter_is_none():
    assert "casing joint bead" not in parts(replace(CASED, joint_bead_in=Decimal(0)))


def test_a_unit_as_large_as_its_opening_takes_no_air_seal():
    snug = OpeningFacts(
        ro_width_in=Decimal(36), ro_height_in=Decimal(54), unit_width_in=Decimal(36), unit_height_in=Decimal(54)
    )
    assert not {Part.AIR_SEAL_BEAD, Part.BACKER_ROD} & {line.part for line in draw_of(snug, FLANGED)}


def test_air_seal_fills_the_gap_on_four_sides():
    # 1/4 in gaps, 1/4 in deep (Pecora: least depth): 2 × (35.5 + 53.5) × 1/16 sq in.
    detail = replace(FLANGED, sealant_waste_pct=Decimal(0))
    assert line(Part.AIR_SEAL_BEAD, detail).quantity == Decimal("11.125")
    assert line(Part.BACKER_ROD, detail).quantity == 178


@pytest.mark.parametrize(
    ("cap", "has_counter_strip", "setting_beads"),
    [(HeadFlashing.BEFORE_MEMBRANE, True, 1), (HeadFlashing.AFTER_MEMBRANE, False, 2)],
    ids=["before", "after"],
)
def test_a_drip_cap_is_counter_flashed_or_bedded(cap, has_counter_strip, setting_beads):
    # Common practice, no source.
    lines = draw_of(opening(36, 54), replace(CASED, head_flashing=cap))
    found = [line.part for line in lines]
    assert Part.DRIP_CAP in found
    assert (Part.COUNTER_FLASHING_STRIP in found) is has_counter_strip
    assert found.count(Part.SETTING_BEAD) == setting_beads


def test_a_box_frame_behind_a_standing_barrier_takes_pan_beads_and_straps_but_no_strips():
    # Common practice, no source; drain gaps: Pella 80WW0101.
    found = parts(REPLACEMENT)
    assert not {"sill strip", "jamb strip", "head strip", "head membrane", "flange bead"} & found
    assert {"pan membrane", "setting bead", "air seal bead", "backer rod", "strap", "shim"} <= found


# JELD-WEN JII-90025 (1/2 in from the corner); 16 and 24 in apart, in pairs at the jambs: trade page, secondary.
def test_shims_of_3046():
    sill, jambs = (line for line in draw_of(opening(36, 54), FLANGED) if line.part is Part.SHIM)
    assert (sill.count, jambs.count) == (4, 16)


@pytest.mark.parametrize("detail", STARTING_DETAILS.values(), ids=STARTING_DETAILS.keys())
def test_every_line_holds_together(detail):
    for found in draw_of(opening(48, 60), detail):
        assert found.quantity == found.count * found.each > 0
        assert found.unit is MEASURES[found.part]
        assert found.reason.startswith(f"{found.part}, ")
        assert found.source


@given(
    width=st.decimals(6, 460, places=3),
    height=st.decimals(6, 460, places=3),
    more=st.decimals(0, 20, places=3),
    name=st.sampled_from(sorted(STARTING_DETAILS)),
)
def test_a_larger_opening_never_takes_less(width, height, more, name):
    detail = STARTING_DETAILS[name]
    small = add_up([draw_of(opening(width, height), detail)])
    large = add_up([draw_of(opening(width + more, height + more), detail)])
    assert small.keys() == large.keys()
    assert all(0 < small[part] <= large[part] for part in small)


def test_totals_add_up_over_openings():
    one, other = draw_of(opening(36, 54), FLANGED), draw_of(opening(48, 60), FLANGED)
    assert add_up([one, other])[Part.SILL_STRIP] == 54 + 66
    assert add_up([]) == {}


def test_head_membrane_and_counter_flashing_strip_lap_past_at_both_sides():
    # Laps of 6 in: common practice, no source. Unit 35.5 in, casing 2 in. Drip cap past the trim at both sides:
    # AWDI manual p. 23; by 1/2 in, our choice.
    assert line(Part.HEAD_MEMBRANE, CASED).quantity == Decimal("35.5") + 2 * 2 + 2 * 6
    assert line(Part.DRIP_CAP, CASED).quantity == Decimal("35.5") + 2 * 2 + 1
    assert line(Part.COUNTER_FLASHING_STRIP, CASED).quantity == Decimal("40.5") + 2 * 6
