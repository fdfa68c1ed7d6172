"""The wall drawn with its faults: what is said in the list is marked on the wall."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.water.drawing import face_of, sections_of
from openings.calc.water.of_detail import layers_of, reference_opening, verdict_of

B = STARTING_DETAILS["flange behind, wrap after"]
WALL = layers_of(reference_opening(B), B)


def test_every_layer_is_drawn_and_what_is_tucked_lies_behind() -> None:
    titles = [sheet.title for sheet in face_of(WALL, verdict_of(B)).sheets]
    assert set(titles) == {layer.name for layer in WALL.layers}
    assert titles.index("WRB, lower course") < titles.index("sill strip")


def test_a_fault_is_marked_by_its_number_where_it_is_with_a_drop_that_shows_it() -> None:
    capped = replace(STARTING_DETAILS["casing, paper after"], has_head_membrane=False)
    verdict = verdict_of(capped)
    picture = face_of(layers_of(reference_opening(capped), capped), verdict)
    assert [mark.number for mark in picture.marks] == list(range(1, len(verdict.faults) + 1))
    (bare,) = picture.marks
    assert all(place.bottom_in <= Decimal(0) for place in bare.places)


@pytest.mark.parametrize("number", [0, 1], ids=["middle", "jamb"])
def test_a_section_shows_each_layer_as_far_out_as_it_lies(number: int) -> None:
    """At the sill the pan laps over the sill strip, and a jamb strip's tail does (AWDI manual p. 23)."""
    lies = {sheet.title: sheet.rect for sheet in sections_of(WALL)[number].sheets}
    inner, outer = ("sill strip", ("pan", "left jamb strip")[number])
    last = [sheet.rect for sheet in sections_of(WALL)[number].sheets if sheet.title == outer][-1]
    assert lies["WRB, lower course"].left_in < lies[inner].left_in < last.left_in
