from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from materials.calc.flashing import flashing_lines
from materials.calc.parts import Part
from openings.calc.terms import HeadFlashing
from openings.calc.units import METRIC
from tests.materials.calc.drawn import CASED, FLANGED, REPLACEMENT, line_of, opening, parts_of


# Sill and head: AAMA 2400-10 note 3; jamb from memory, AAMA 2400. The four methods differ in order, not in length.
@pytest.mark.parametrize("over_flange", [True, False], ids=["over the flange", "behind it"])
@pytest.mark.parametrize("before", [True, False], ids=["barrier before", "barrier after"])
@pytest.mark.parametrize(
    ("width", "height", "across", "jamb"),
    [(36, 54, 54, 71), (48, 60, 66, 77), (24, 36, 42, 53), (72, 60, 90, 77)],
    ids=["3046", "4050", "2030", "6050"],
)
def test_strips_of_9_in(width, height, across, jamb, before, over_flange):
    detail = replace(FLANGED, jamb_flashing_over_flange=over_flange, barrier_before_window=before)
    lines = flashing_lines(opening(width, height), detail)
    sill, jambs, head = (line_of(part, lines) for part in (Part.SILL_STRIP, Part.JAMB_STRIP, Part.HEAD_STRIP))
    assert (sill.quantity, jambs.count, jambs.each, head.quantity) == (across, 2, jamb, across)


def test_a_reason_gives_length_rule_and_numbers():
    lines = flashing_lines(opening(36, 54), FLANGED)
    sill, jamb = line_of(Part.SILL_STRIP, lines), line_of(Part.JAMB_STRIP, lines)
    assert sill.reason == 'sill strip, 4\' 6": rough-opening width 3\' 0" + 2 × 9" strip width'
    assert sill.source == "AAMA 2400-10 note 3"
    assert (
        jamb.reason == 'jamb strip, 2 × 5\' 11": rough-opening height 4\' 6" + 2 × (9" strip width − 1/2"), one a side'
    )


def test_a_reason_is_said_in_metric_too():
    # An inch of 25.4 mm: NIST Handbook 44, appendix C.
    sill = line_of(Part.SILL_STRIP, flashing_lines(opening(36, 54), FLANGED))
    assert sill.reason_in(METRIC) == "sill strip, 1371.6 mm: rough-opening width 914.4 + 2 × 228.6 strip width"


def test_how_far_a_jamb_strip_stops_short_is_up_to_the_detail():
    detail = replace(FLANGED, jamb_strip_short_in=Decimal(1))
    jamb = line_of(Part.JAMB_STRIP, flashing_lines(opening(36, 54), detail))
    assert jamb.each == 54 + 2 * (9 - 1)
    assert '(9" strip width − 1")' in jamb.reason


def test_head_membrane_drip_cap_and_counter_flashing_strip_lap_past_at_both_sides():
    # Laps of 6 in: common practice, no source. Unit 35.5 in, casing 2 in. Drip cap past the trim at both sides:
    # AWDI manual p. 23; by 1/2 in, our choice.
    lines = flashing_lines(opening(36, 54), replace(CASED, head_flashing=HeadFlashing.UNDER_SECOND_STRIP))
    assert line_of(Part.HEAD_MEMBRANE, lines).quantity == Decimal("35.5") + 2 * 2 + 2 * 6
    assert line_of(Part.DRIP_CAP, lines).quantity == Decimal("35.5") + 2 * 2 + 2 * Decimal("0.5")
    assert line_of(Part.COUNTER_FLASHING_STRIP, lines).quantity == Decimal("40.5") + 2 * 6


def test_how_far_a_drip_cap_runs_past_the_trim_is_up_to_the_detail():
    cap = line_of(Part.DRIP_CAP, flashing_lines(opening(36, 54), replace(CASED, drip_cap_past_in=Decimal("0.75"))))
    assert cap.quantity == Decimal("35.5") + 2 * 2 + 2 * Decimal("0.75")
    assert cap.reason.endswith('2 × 3/4" past the trim')


@pytest.mark.parametrize("has_head_strip", [True, False], ids=["head strip", "no head strip"])
@pytest.mark.parametrize(
    ("cap", "at_head"),
    [
        (HeadFlashing.NONE, set()),
        (HeadFlashing.BEFORE_MEMBRANE, {Part.DRIP_CAP}),
        (HeadFlashing.AFTER_MEMBRANE, {Part.DRIP_CAP}),
        (HeadFlashing.UNDER_SECOND_STRIP, {Part.DRIP_CAP, Part.COUNTER_FLASHING_STRIP}),
    ],
    ids=["membrane alone", "cap first", "cap bedded", "second strip"],
)
def test_the_head_takes_what_is_chosen_and_no_more(cap, at_head, has_head_strip):
    # The membrane itself covers the leg of a cap that is set first; only a cap over the membrane takes a second strip:
    # common practice, no source.
    detail = replace(CASED, head_flashing=cap, has_head_strip=has_head_strip)
    found = parts_of(flashing_lines(opening(36, 54), detail))
    strip = {Part.HEAD_STRIP} if has_head_strip else set()
    assert found == {Part.SILL_STRIP, Part.JAMB_STRIP, Part.HEAD_MEMBRANE} | at_head | strip


def test_a_cap_set_first_under_the_membrane_alone_takes_a_third_less_strip():
    # Common practice, no source: sill strip 36 + 24 in and two jamb strips of 54 + 23 in; before, a head strip of 60 in
    # and a strip of 40.5 + 12 in over the leg of the cap beside them.
    strips = {Part.SILL_STRIP, Part.JAMB_STRIP, Part.HEAD_STRIP, Part.COUNTER_FLASHING_STRIP}
    lines = flashing_lines(opening(36, 54), CASED)
    assert sum(line.quantity for line in lines if line.part in strips) == 60 + 2 * 77
    was_in = 60 + 2 * 77 + 60 + Decimal("52.5")
    assert round(100 * (1 - Decimal(60 + 2 * 77) / was_in)) == 34


def test_a_box_frame_behind_a_standing_barrier_takes_no_strips_but_a_drip_cap_if_asked():
    # Common practice, no source.
    assert not flashing_lines(opening(36, 54), REPLACEMENT)
    capped = replace(REPLACEMENT, head_flashing=HeadFlashing.AFTER_MEMBRANE)
    assert parts_of(flashing_lines(opening(36, 54), capped)) == {Part.DRIP_CAP}
