"""A cutting plan: which piece comes from which roll."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from materials.errors import PieceTooLong
from openings.calc.figures import ceil_ratio, plain


@dataclass(frozen=True, slots=True, order=True)
class Cut:
    """One piece to cut, and what it is for."""

    length_in: Decimal
    label: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Roll:
    """One roll: its cuts in order, and what is left of it after the last trim."""

    cuts: tuple[Cut, ...]
    left_in: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlan:
    """Rolls with their cuts, and the number below which no plan can go."""

    rolls: tuple[Roll, ...]
    rolls_lower_bound: int

    @property
    def left_in(self) -> Decimal:
        """What is left of all rolls together."""
        return sum((roll.left_in for roll in self.rolls), Decimal(0))


def plan_cuts(pieces: Iterable[Cut], *, roll_length_in: Decimal, trim_in: Decimal = Decimal(0)) -> CutPlan:
    """Return a plan that cuts every piece whole from rolls of one length; equal pieces, equal plan.

    Longest first, each from the open roll that it leaves shortest (best-fit decreasing). That is a sound
    plan, not the proven shortest: of many rolls it takes at most about 2 in 9 more than the best plan. Where
    `rolls_lower_bound` equals the number of rolls, no plan takes fewer.

    Args:
        pieces: lengths above 0.
        roll_length_in: of a full roll, > 0.
        trim_in: lost between two cuts and after a cut that does not end the roll, >= 0.

    Raises:
        PieceTooLong: a piece is longer than a roll; the sentence names piece, length and roll.

    Source:
        11/9 of the optimum and a constant: D. S. Johnson, Near-optimal bin packing algorithms (1973), from
        memory.
    """
    longest_first = sorted(pieces, key=lambda cut: (-cut.length_in, cut.label))
    _refuse_too_long(longest_first, roll_length_in)
    return CutPlan(
        rolls=_best_fit(longest_first, roll_length_in=roll_length_in, trim_in=trim_in),
        rolls_lower_bound=lower_bound(longest_first, roll_length_in=roll_length_in, trim_in=trim_in),
    )


def lower_bound(pieces: Iterable[Cut], *, roll_length_in: Decimal, trim_in: Decimal) -> int:
    """Return the number of rolls below which the lengths alone forbid any plan.

    Each piece takes its trim; a roll counts as longer by one, since a cut that ends the roll needs none.
    """
    needed_in = sum((piece.length_in + trim_in for piece in pieces), Decimal(0))
    return ceil_ratio(needed_in, roll_length_in + trim_in)


def _refuse_too_long(longest_first: Sequence[Cut], roll_length_in: Decimal) -> None:
    if longest_first and longest_first[0].length_in > roll_length_in:
        piece = longest_first[0]
        raise PieceTooLong(f"{piece.label} needs {plain(piece.length_in)} in, a roll has {plain(roll_length_in)} in")


def _best_fit(longest_first: Iterable[Cut], *, roll_length_in: Decimal, trim_in: Decimal) -> tuple[Roll, ...]:
    """Return the rolls in the order in which they were opened.

    `open_rolls` stays sorted by what is left, then by number: bisection finds the tightest roll.
    """
    cuts: list[list[Cut]] = []
    open_rolls: list[tuple[Decimal, int]] = []
    for piece in longest_first:
        place = bisect_left(open_rolls, (piece.length_in, -1))
        if place < len(open_rolls):
            before_in, number = open_rolls.pop(place)
        else:
            before_in, number = roll_length_in, len(cuts)
            cuts.append([])
        cuts[number].append(piece)
        insort(open_rolls, (max(before_in - piece.length_in - trim_in, Decimal(0)), number))
    left_in = {number: left for left, number in open_rolls}
    return tuple(Roll(cuts=tuple(on_roll), left_in=left_in[number]) for number, on_roll in enumerate(cuts))
