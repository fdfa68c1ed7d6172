"""The field card: what each step of an opening is measured by, held against the rules of the trade."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from openings.calc.card import CardStep, card_of, flat_pan
from openings.calc.elevation import elevation_of
from openings.calc.facts import DetailFacts
from openings.calc.lay_order import steps_for
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.step_code import StepCode
from openings.calc.terms import HeadFlashing
from openings.calc.units import METRIC
from tests.openings.calc.card.variations import details, opening

CASING = STARTING_DETAILS["casing, paper after"]
A1 = STARTING_DETAILS["flange over, wrap before"]
WINDOW = opening(28, 54)


def step_of(code: StepCode, detail: DetailFacts = CASING, **size: object) -> CardStep:
    facts = opening(**size) if size else WINDOW
    return next(drawn for drawn in card_of(facts, detail) if drawn.step.code == code)


def measures_of(code: StepCode, detail: DetailFacts = CASING, **size: object) -> dict[str, str]:
    return {measure.what: measure.size for measure in step_of(code, detail, **size).measures}


@pytest.mark.parametrize("size", [(28, 54), (96, 20), (14, 90)], ids=str)
def test_every_step_of_every_detail_is_drawn_on_its_field(size):
    facts = opening(*size)
    for detail in details():
        card = card_of(facts, detail)
        assert [drawn.step.code for drawn in card] == [step.code for step in steps_for(detail)]
        for drawn in card:
            assert drawn.sketches
            for sketch in drawn.sketches:
                ends = [(x, y) for line in sketch.lines for x, y in ((line.x1, line.y1), (line.x2, line.y2))]
                ends += [(note.x, note.y) for note in sketch.notes]
                ends += [(box.x + box.width, box.y + box.height) for box in sketch.boxes]
                assert all(0 <= x <= sketch.width and 0 <= y <= sketch.height for x, y in ends), drawn.step.code


# Common practice, no source: rough-opening width + 12 in, 6 in up each trimmer; slit at the front corners.
# The width: sill depth + back dam + front lap; a pan laps over the drainage plane below it (BSC Info-302).
def test_a_pan_is_cut_folded_and_slit_from_the_end_of_the_roll():
    flat = flat_pan(WINDOW, CASING)
    assert flat.length_in == 28 + 12
    assert flat.folds_in == (6, 34)
    assert flat.width_in == Decimal("5.5") + Decimal("0.5") + 2
    measures = measures_of(StepCode.PAN)
    assert measures["pan membrane, cut from the roll"] == "3' 4\""
    assert measures["folds, from the end of the roll"] == '6", 2\' 10"'
    assert measures["cuts through the front lap alone, from the end of the roll"] == '6", 2\' 10"'
    assert measures["pan membrane, least width"] == '8"'


def test_a_pan_is_slit_through_its_front_lap_and_nowhere_else():
    sketch = step_of(StepCode.PAN).sketches[0]
    (sheet,) = sketch.boxes
    bottom = sheet.y + sheet.height
    cuts = [line for line in sketch.lines if line.kind == "cut"]
    assert len(cuts) == 2
    lap = max(line.y1 for line in sketch.lines if line.kind == "fold" and line.y1 == line.y2)
    assert all(line.y1 == lap and line.y2 == bottom for line in cuts)


def test_a_pan_without_turn_up_and_front_lap_has_no_fold_across_and_no_cut():
    measures = measures_of(StepCode.PAN, replace(CASING, pan_turn_up_in=Decimal(0), pan_front_lap_in=Decimal(0)))
    assert measures["pan membrane, cut from the roll"] == "2' 4\""
    assert not [what for what in measures if what.startswith(("folds", "cuts"))]


# AAMA 2400-10 note 3: rough-opening width + 2 × strip width. Clause 5.7.3.3: nothing fastens the last 9 in at each end.
def test_the_sill_strip_says_where_its_fasteners_begin():
    measures = measures_of(StepCode.SILL_STRIP)
    assert measures["sill strip, cut"] == "4' 4\""
    assert measures["past the rough opening at each side"] == "1' 0\""
    assert measures["from each end of the strip to its first fastener"] == '9"'
    assert measures["fasteners, from the left end of the strip"] == '9" – 3\' 7"'


def test_over_the_wrb_no_end_of_the_sill_strip_stays_free():
    assert "from each end of the strip to its first fastener" not in measures_of(StepCode.SILL_STRIP, A1)


# AAMA 2400, from memory: each jamb strip stops 1/2 in short of the far edges of sill and head strip.
def test_jamb_strips_are_measured_past_head_and_sill():
    measures = measures_of(StepCode.JAMB_STRIPS)
    assert measures["each jamb strip, cut"] == "6' 5\""
    assert measures["past the rough opening, above and below"] == '11 1/2"'
    assert measures["short of the lower edge of the sill strip"] == '1/2"'


# First strap 8 to 24 in from the corner: AWDI manual p. 89; 16 in apart at most: common practice, no source.
def test_straps_are_marked_from_the_corner():
    measures = measures_of(StepCode.STRAPS)
    assert measures["strap marks on each jamb, from the top corner of the unit"] == '8", 1\' 8 1/2", 2\' 9", 3\' 9 1/2"'
    assert measures["strap marks on the head, from the left corner of the unit"] == '8", 1\' 7 1/2"'


def test_marks_are_given_to_an_eighth_of_an_inch():
    straps = measures_of(StepCode.STRAPS, width_in=28, height_in=50)
    # (49.5 - 2 × 8) / 3 = 11.1667 in apart
    assert (
        straps["strap marks on each jamb, from the top corner of the unit"] == '8", 1\' 7 1/8", 2\' 6 3/8", 3\' 5 1/2"'
    )


@pytest.mark.parametrize("detail", [CASING, A1], ids=["casing", "flange"])
def test_points_stand_where_the_elevation_has_them(detail):
    drawn = step_of(StepCode.FASTEN, detail).sketches[0]
    kinds = {"strap", "shimmed strap"} if detail.has_straps else {"fastener"}
    points = [point for point in elevation_of(WINDOW, detail).points if point.kind in kinds]
    assert len(drawn.dots) == len(points)
    steps = sorted({dot.y for dot in drawn.dots})
    expected = sorted({point.y_in for point in points})
    scale = (steps[-1] - steps[0]) / (expected[-1] - expected[0])
    for at, place_in in zip(steps, expected, strict=True):
        assert abs((at - steps[0]) - (place_in - expected[0]) * scale) < 1


# Past the trim: AWDI manual p. 23; how far is the detail's.
def test_the_drip_cap_runs_past_the_trim():
    measures = measures_of(StepCode.DRIP_CAP)
    assert measures["drip cap, cut"] == "2' 8 1/2\""
    assert measures["past the trim at each side"] == '1/2"'


def test_the_second_strip_covers_the_drip_cap_past_both_ends():
    detail = replace(CASING, head_flashing=HeadFlashing.UNDER_SECOND_STRIP)
    assert measures_of(StepCode.COUNTER_FLASHING, detail)["strip over the drip cap, cut"] == "3' 8 1/2\""


# Common practice, no source: a 1/2 in bead near the outer edge of the casing. 2 in of casing over a gap of 1/4 in has
# 1 3/4 in on the wall, room for the bead half its thickness from the edge; 1 in of casing over a gap of 1/2 in, less.
@pytest.mark.parametrize(("casing_in", "unit_in", "from_edge"), [("2", "27.5", '1/2"'), ("1", "27", '1/4"')])
def test_the_middle_of_the_bead_lands_on_the_wall(casing_in, unit_in, from_edge):
    facts = replace(WINDOW, unit_width_in=Decimal(unit_in))
    detail = replace(CASING, casing_width_in=Decimal(casing_in))
    drawn = next(one for one in card_of(facts, detail) if one.step.code == StepCode.SETTING_BEAD)
    measures = {measure.what: measure.size for measure in drawn.measures}
    assert measures["from the outer edge to the middle of the bead"] == from_edge


def test_every_letter_stands_once_on_a_step():
    for drawn in card_of(WINDOW, CASING):
        keys = [measure.key for measure in drawn.measures if measure.key]
        assert len(keys) == len(set(keys)), drawn.step.code


def test_a_card_is_measured_in_millimeters_too():
    drawn = next(one for one in card_of(WINDOW, CASING, units=METRIC) if one.step.code == StepCode.STRAPS)
    assert drawn.measures[0].size.startswith("203 mm, ")


# Shims near both ends and behind every strap; a strap's pair is the jamb's own (common practice, no source).
def test_shims_are_marked_with_those_behind_straps():
    measures = measures_of(StepCode.SHIM)
    jamb = measures["pairs of shims at each jamb, from the top corner of the unit"]
    assert jamb == '1/2", 8", 1\' 8 1/2", 2\' 9", 3\' 9 1/2", 4\' 5"'
    assert (
        measures["pairs of shims at the head, behind its straps, from the left corner of the unit"] == '8", 1\' 7 1/2"'
    )


# JLC: 45° and 6 in at least; a 12 in strip needs 12 × √2 = 16.97 in.
def test_the_cuts_at_the_head_follow_the_strip():
    measures = measures_of(StepCode.FOLD_BARRIER, A1)
    assert measures["each cut, at 45° from the corner of the rough opening"] == "1' 5\""
    assert measures["end of each cut, up and out from the corner"] == "1' 0\""
