"""A section drawn: what laps over lies further right, a drop runs on the outside, and a fault is marked."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

import pytest

from openings.calc.facts import DetailFacts
from openings.calc.lay_order import steps_for
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.step_code import StepCode
from openings.calc.water.of_detail import layers_of, reference_opening, verdict_of
from openings.calc.water.section import BACK_X, FACE_X, LABELS_APART, Line, Section, sections_of

B = STARTING_DETAILS["flange behind, wrap after"]
BEFORE = STARTING_DETAILS["flange behind, wrap before"]
CASING = STARTING_DETAILS["casing, paper after"]
FLASHED_HERE = [name for name in STARTING_DETAILS if name != "box frame replacement"]


def sections(detail: DetailFacts) -> tuple[Section, ...]:
    numbers = {step.code.value: number for number, step in enumerate(steps_for(detail), start=1)}
    return sections_of(layers_of(reference_opening(detail), detail), verdict_of(detail), numbers)


def head_before_jambs(detail: DetailFacts) -> DetailFacts:
    codes = [step.code for step in steps_for(detail) if step.code is not StepCode.HEAD_STRIP]
    codes.insert(codes.index(StepCode.JAMB_STRIPS), StepCode.HEAD_STRIP)
    return replace(detail, own_order=tuple(codes))


def line(section: Section, title: str) -> Line:
    return next(line for line in section.layers if line.title == title)


@pytest.mark.parametrize("number", [0, 1], ids=["middle", "jamb"])
def test_a_layer_lies_as_far_out_as_it_laps_over_others(number: int) -> None:
    """At the sill the pan laps over the sill strip, and a jamb strip's tail does (AWDI manual p. 23)."""
    section = sections(B)[number]
    ends = [line(section, title).through[-1][0] for title in ("sill strip", ("pan", "left jamb strip")[number])]
    assert line(section, "WRB, lower course").through[0][0] < ends[0] < ends[1]


def test_a_pan_runs_from_its_back_dam_under_the_unit_and_turns_down_over_the_sill_strip() -> None:
    # A dam at the back and a lap over what drains below: Building Science Corp. Info-302.
    pan = line(sections(BEFORE)[0], "pan").through
    (dam, back, *_, foot), sill = pan, pan[1][1]
    assert dam[0] == back[0] < FACE_X < foot[0]
    assert dam[1] < sill < foot[1]


def test_a_cap_ends_in_a_drip_further_out_than_its_leg() -> None:
    cap = line(sections(CASING)[0], "drip cap").through
    assert cap[-1][0] > cap[0][0]


def test_a_wrap_that_is_laid_first_is_cut_below_its_head_flap() -> None:
    pieces = [one for one in sections(BEFORE)[1].layers if one.title == "WRB"]
    assert len(pieces) == 2


@pytest.mark.parametrize("name", FLASHED_HERE)
@pytest.mark.parametrize("number", [0, 1], ids=["middle", "jamb"])
def test_on_a_right_detail_every_drop_drains_outside_of_the_sheathing(name: str, number: int) -> None:
    section = sections(STARTING_DETAILS[name])[number]
    assert section.drops
    for drop in section.drops:
        assert drop.is_drained
        assert drop.end[0] > FACE_X
        assert all(above[1] <= below[1] for above, below in pairwise(drop.line.through))


def test_water_in_the_pan_runs_from_the_inside_out() -> None:
    starts = [drop.line.through[0][0] for drop in sections(B)[0].drops]
    assert any(BACK_X < start < FACE_X for start in starts)


@pytest.mark.parametrize("name", FLASHED_HERE)
def test_every_layer_of_a_section_is_named_once_and_no_name_covers_another(name: str) -> None:
    for section in sections(STARTING_DETAILS[name]):
        named = [label.name for label in section.labels]
        assert sorted(named) == sorted({one.title for one in section.layers})
        assert all(below.at[1] - above.at[1] >= LABELS_APART for above, below in pairwise(section.labels))
        assert all(label.at[1] < section.height for label in section.labels)


def test_a_head_strip_before_the_jambs_is_marked_at_the_jamb_with_a_drop_that_ends_in_the_wall() -> None:
    middle, jamb = sections(head_before_jambs(B))
    assert middle.faults == ()
    assert jamb.faults[0].mark == "1"
    assert any(not drop.is_drained and drop.end[0] < FACE_X for drop in jamb.drops)


def test_a_low_pan_is_marked_at_the_pan() -> None:
    # 4 to 6 in up each jamb: Fine Homebuilding, sill pan.
    low = replace(B, pan_turn_up_in=Decimal(2))
    middle, jamb = sections(low)
    assert [fault.mark for fault in middle.faults] == ["1"]
    assert jamb.faults == ()
