"""Headings that no plain words name: misspelt, cut short, joined, in another order, with words to spare."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.schedules import Meaning
from openings.schedules.headings.likeness import likeness
from openings.schedules.headings.similar import LIKELY, MARGIN, POSSIBLE, similar_headings

# Slips of the pen and abbreviations as they are made: common practice, no source.
CLEAR = [
    ("Quanity", Meaning.QUANTITY),
    ("Quantitty", Meaning.QUANTITY),
    ("Makr", Meaning.MARK),
    ("Window Type Mark No", Meaning.MARK),
    ("RO Widht", Meaning.RO_WIDTH),
    ("RO Heigth", Meaning.RO_HEIGHT),
    ("Rough Openng Width", Meaning.RO_WIDTH),
    ("ROUGHOPENINGWIDTH", Meaning.RO_WIDTH),
    ("Width Rough", Meaning.RO_WIDTH),
    ("Frame Width Actual", Meaning.UNIT_WIDTH),
    ("Locaton", Meaning.FLOOR),
    ("Remrks", Meaning.REMARKS),
    ("Cmts", Meaning.REMARKS),
    ("Install Dtl", Meaning.DETAIL),
    ("Operation (viewed from outside)", Meaning.OPERATION),
    ("Sill Hgt Above Fin Floor", Meaning.SILL_ABOVE_FLOOR),
]


@pytest.mark.parametrize(("text", "meaning"), CLEAR, ids=[text for text, _ in CLEAR])
def test_heading_that_is_clear_enough_is_taken(text: str, meaning: Meaning) -> None:
    best, *rest = similar_headings(text)
    assert best.heading.meaning is meaning
    assert best.score >= LIKELY
    assert all(best.score - other.score >= MARGIN for other in rest)


OPEN = [
    ("Weigth", {Meaning.WEIGHT, Meaning.UNIT_HEIGHT}),
    ("Hieght", {Meaning.UNIT_HEIGHT, Meaning.WEIGHT}),
    ("Type No", {Meaning.MARK, Meaning.OPERATION}),
    ("Rough Frame Width", {Meaning.RO_WIDTH, Meaning.UNIT_WIDTH}),
    ("Frame", {Meaning.FRAME_MATERIAL}),
]


@pytest.mark.parametrize(("text", "meanings"), OPEN, ids=[text for text, _ in OPEN])
def test_heading_that_may_mean_two_things_is_left_open(text: str, meanings: set[Meaning]) -> None:
    best, *rest = similar_headings(text)
    assert best.score < LIKELY or any(best.score - other.score < MARGIN for other in rest)
    assert meanings <= {guess.heading.meaning for guess in (best, *rest)}


@pytest.mark.parametrize(
    "text",
    [
        "Head Height AFF",
        "Hd. Ht. AFF",
        "Glazng Type",
        "M.O. Width",
        "Head Detail",
        "Site",
        "Coat",
        "Breite",
        "Tilt",
        "",
    ],
)
def test_heading_of_something_else_resembles_none(text: str) -> None:
    assert similar_headings(text) == ()


@given(st.text(max_size=100))
def test_whatever_stands_there_is_scored_between_the_bounds(text: str) -> None:
    assert all(POSSIBLE <= guess.score < 1 for guess in similar_headings(text))


@pytest.mark.parametrize(
    ("written", "word", "alike"),
    [
        ("width", "width", 1.0),
        ("widht", "width", 0.9),  # two letters changed places: half a slip of five letters
        ("quanity", "quantity", 0.875),  # one missing of eight
        ("markk", "mark", 0.9),  # one doubled
        ("oper", "operation", 0.88),
        ("rmrks", "remarks", 0.86),
        ("width", "mark", 0.0),
        ("north", "note", 0.0),
    ],
)
def test_likeness_counts_slips(written: str, word: str, alike: float) -> None:
    assert likeness(written, word) == pytest.approx(alike)
