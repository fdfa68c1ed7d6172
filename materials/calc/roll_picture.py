"""The rolls of one product with their pieces, as bars to one scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

ALL = Decimal(100)


@dataclass(frozen=True, slots=True, kw_only=True)
class RollPiece:
    """One piece of a roll: the opening it is for, and which part of it; `job` where the mark alone could be of two."""

    mark: str
    part: str
    length_in: Decimal
    job: str = ""

    @property
    def opening(self) -> str:
        return f"{self.mark}, {self.job}" if self.job else self.mark


@dataclass(frozen=True, slots=True, kw_only=True)
class RollRow:
    """One roll or remnant to take, its pieces in the order of cutting, and what is left.

    Args:
        package: what a new one is called.
        number: of a new one, among those of the product.
        pieces: none of a spare roll, which is whole.
        remnant: its code, empty for a new roll.
        place: where the remnant lies.
        is_kept: whether what is left goes back to stock.
    """

    package: str
    number: int
    length_in: Decimal
    pieces: tuple[RollPiece, ...]
    left_in: Decimal
    is_kept: bool
    remnant: str = ""
    place: str = ""

    @property
    def is_spare(self) -> bool:
        return not self.pieces

    @property
    def name(self) -> str:
        return f"remnant {self.remnant}" if self.remnant else f"new {self.package} {self.number}"


class DrawnPiece(NamedTuple):
    """One piece, where it lies in percent of the longest roll."""

    piece: RollPiece
    start_pct: Decimal
    width_pct: Decimal


class RollPicture(NamedTuple):
    """One roll in percent of the longest: how long it is, its pieces from the free end on, and what is left."""

    roll: RollRow
    width_pct: Decimal
    pieces: tuple[DrawnPiece, ...]
    left_start_pct: Decimal
    left_pct: Decimal


def roll_pictures(rolls: Sequence[RollRow], *, trim_in: Decimal) -> tuple[RollPicture, ...]:
    """Return the pictures of the rolls of one product.

    Args:
        rolls: the pieces and trims of each fit on it.
        trim_in: lost after each piece.
    """
    longest_in = max((roll.length_in for roll in rolls), default=ALL)
    return tuple(_picture(roll, longest_in=longest_in, trim_in=trim_in) for roll in rolls)


def _picture(roll: RollRow, *, longest_in: Decimal, trim_in: Decimal) -> RollPicture:
    pieces, start_in = [], Decimal(0)
    for piece in roll.pieces:
        pieces.append(DrawnPiece(piece, ALL * start_in / longest_in, ALL * piece.length_in / longest_in))
        start_in += piece.length_in + trim_in
    return RollPicture(
        roll=roll,
        width_pct=ALL * roll.length_in / longest_in,
        pieces=tuple(pieces),
        left_start_pct=ALL * (roll.length_in - roll.left_in) / longest_in,
        left_pct=ALL * roll.left_in / longest_in,
    )
