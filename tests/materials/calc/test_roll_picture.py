"""Arithmetic worked by hand: no published source is needed."""

from __future__ import annotations

from decimal import Decimal

from materials.calc.roll_picture import roll_picture
from materials.calc.rolls import Cut


def test_pieces_lie_one_after_the_other_with_a_trim_between():
    cuts = [Cut(Decimal(50), "sill"), Cut(Decimal(30), "head")]
    picture = roll_picture(cuts, number=1, roll_length_in=Decimal(200), trim_in=Decimal(2))
    assert [(piece.start_pct, piece.width_pct) for piece in picture.pieces] == [(0, 25), (26, 15)]
    assert picture.left_in == 200 - 50 - 2 - 30 - 2


def test_a_cut_that_ends_the_roll_leaves_nothing():
    picture = roll_picture([Cut(Decimal(99), "sill")], number=3, roll_length_in=Decimal(99), trim_in=Decimal(1))
    assert (picture.number, picture.left_in, picture.pieces[0].width_pct) == (3, 0, 100)
