"""The cuts of a roll as a bar to scale."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from materials.calc.rolls import Cut

ALL = Decimal(100)


class Piece(NamedTuple):
    """One piece, where it lies on the roll in percent of the full length."""

    cut: Cut
    start_pct: Decimal
    width_pct: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class RollPicture:
    """One roll: its pieces from the free end on, and what is left."""

    number: int
    pieces: tuple[Piece, ...]
    left_in: Decimal


def roll_picture(cuts: Iterable[Cut], *, number: int, roll_length_in: Decimal, trim_in: Decimal) -> RollPicture:
    """Return the picture of one roll.

    Args:
        cuts: one or more, in the order in which the roll is cut; together with their trims they fit on it.
        roll_length_in: of the full roll, > 0.
        trim_in: lost after each piece.
    """
    pieces, start_in = [], Decimal(0)
    for cut in cuts:
        pieces.append(Piece(cut, ALL * start_in / roll_length_in, ALL * cut.length_in / roll_length_in))
        start_in += cut.length_in + trim_in
    return RollPicture(number=number, pieces=tuple(pieces), left_in=max(roll_length_in - start_in, Decimal(0)))
