"""The face of a wall drawn: what is said in the list is marked on the wall, and each layer says what it is."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import combinations

import pytest

from openings.calc.facts import DetailFacts
from openings.calc.lay_order import steps_for
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.water.drawing import Picture, face_of, keys_of
from openings.calc.water.of_detail import layers_of, reference_opening, verdict_of

B = STARTING_DETAILS["flange behind, wrap after"]
CAP_ALONE = replace(STARTING_DETAILS["casing, paper after"], has_head_membrane=False)
FLASHED_HERE = [name for name in STARTING_DETAILS if name != "box frame replacement"]


def numbers_of(detail: DetailFacts) -> dict[str, int]:
    return {step.code.value: number for number, step in enumerate(steps_for(detail), start=1)}


def face(detail: DetailFacts) -> Picture:
    return face_of(layers_of(reference_opening(detail), detail), verdict_of(detail), numbers_of(detail))


def test_every_layer_is_drawn_and_what_is_tucked_lies_behind() -> None:
    titles = [sheet.title for sheet in face(B).sheets]
    assert set(titles) == {layer.name for layer in layers_of(reference_opening(B), B).layers}
    assert titles.index("WRB, lower course") < titles.index("sill strip")


def test_a_fault_is_marked_by_its_number_where_it_is_with_a_drop_that_shows_it() -> None:
    picture = face(CAP_ALONE)
    assert [mark.number for mark in picture.marks] == list(range(1, len(verdict_of(CAP_ALONE).faults) + 1))
    (bare,) = picture.marks
    assert all(place.bottom_in <= Decimal(0) for place in bare.places)


def test_a_pan_that_turns_up_too_little_is_marked_at_a_corner_of_the_sill() -> None:
    # 4 to 6 in up each jamb: Fine Homebuilding, sill pan.
    low = replace(B, pan_turn_up_in=Decimal(2))
    (mark,) = face(low).marks
    assert mark.at == (0, reference_opening(low).ro_height_in)


def test_a_layer_has_the_number_of_its_step_and_what_others_lay_a_letter() -> None:
    marks = {key.layer.name: key.mark for key in keys_of(layers_of(reference_opening(B), B), numbers_of(B))}
    codes = [step.code.value for step in steps_for(B)]
    assert marks["sill strip"] == str(codes.index("sill-strip") + 1)
    assert marks["left jamb strip"] == marks["right jamb strip"] == str(codes.index("jamb-strips") + 1)
    assert (marks["WRB, lower course"], marks["WRB, upper course"]) == ("A", "B")


def test_a_wrb_has_a_letter_though_a_step_folds_it() -> None:
    before = STARTING_DETAILS["flange behind, wrap before"]
    assert keys_of(layers_of(reference_opening(before), before), numbers_of(before))[0].mark == "A"


@pytest.mark.parametrize("name", FLASHED_HERE)
def test_no_number_covers_another_or_is_cut_off(name: str) -> None:
    picture = face(STARTING_DETAILS[name])
    bounds, ring_in = picture.bounds, picture.ring_in
    assert len(picture.rings) == len(picture.keys)
    for x_in, y_in in (ring.at for ring in picture.rings):
        assert bounds.left_in + ring_in <= x_in <= bounds.right_in - ring_in
        assert bounds.top_in + ring_in <= y_in <= bounds.bottom_in - ring_in
    for first, second in combinations(picture.rings, 2):
        assert max(abs(first.at[0] - second.at[0]), abs(first.at[1] - second.at[1])) >= 2 * ring_in


def test_rain_is_drawn_from_the_top_of_the_wall_to_its_foot() -> None:
    picture = face(B)
    assert len(picture.drops) == 2
    for start, end in picture.drops:
        assert (start[1], end[1]) == (picture.bounds.top_in, picture.bounds.bottom_in)
