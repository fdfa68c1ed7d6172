"""Arithmetic worked by hand: no published source is needed."""

from __future__ import annotations

from decimal import Decimal

import pytest

from materials.calc.roll_picture import RollPiece, RollRow, roll_pictures


def roll(*lengths: int, length_in: int = 200, left_in: int = 0, remnant: str = "") -> RollRow:
    return RollRow(
        package="roll",
        number=3,
        length_in=Decimal(length_in),
        pieces=tuple(RollPiece(mark="W1", part="sill strip", length_in=Decimal(length)) for length in lengths),
        left_in=Decimal(left_in),
        is_kept=True,
        remnant=remnant,
    )


def test_pieces_lie_one_after_the_other_with_a_trim_between():
    (picture,) = roll_pictures([roll(50, 30, left_in=116)], trim_in=Decimal(2))
    assert [(piece.start_pct, piece.width_pct) for piece in picture.pieces] == [(0, 25), (26, 15)]
    assert (picture.left_start_pct, picture.left_pct) == (42, 58)


def test_a_cut_that_ends_the_roll_leaves_nothing():
    (picture,) = roll_pictures([roll(99, length_in=99)], trim_in=Decimal(1))
    assert (picture.pieces[0].width_pct, picture.left_start_pct, picture.left_pct) == (100, 100, 0)


def test_a_remnant_is_drawn_to_the_scale_of_the_longest_roll():
    remnant, whole = roll_pictures([roll(25, length_in=50, left_in=25), roll(100, left_in=100)], trim_in=Decimal(0))
    assert (remnant.width_pct, remnant.pieces[0].width_pct, remnant.left_start_pct) == (25, 12.5, 12.5)
    assert whole.width_pct == 100


def test_no_rolls_no_pictures():
    assert roll_pictures([], trim_in=Decimal(0)) == ()


@pytest.mark.parametrize(("remnant", "name"), [("", "new roll 3"), ("R00012", "remnant R00012")])
def test_a_roll_is_named_by_what_to_take(remnant, name):
    assert roll(10, remnant=remnant).name == name


@pytest.mark.parametrize(("job", "opening"), [("", "W1"), ("ELM-12", "W1, ELM-12")])
def test_an_opening_is_named_with_its_job_where_one_is_given(job, opening):
    assert RollPiece(mark="W1", part="sill strip", length_in=Decimal(10), job=job).opening == opening
