"""A cutting plan for more pieces than are searched: quick, and never far from the bound."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from materials.calc.rolls import KEEP_IN, NO_TRIM, Cut, CutPlan, Remnant, Roll
from materials.errors import PieceTooLong
from openings.calc.figures import ceil_ratio
from openings.calc.units import US


def plan_many(
    pieces: Iterable[Cut],
    *,
    roll_in: Decimal,
    remnants: Sequence[Remnant] = (),
    trim_in: Decimal = NO_TRIM,
    keep_in: Decimal = KEEP_IN,
) -> CutPlan:
    """Return a plan that fills one roll after the other, the longest pieces that still fit first.

    The remnants come first, the shortest before the others. The bound is that of volume: what all pieces take with
    their trims, less what the remnants hold. It takes a time that grows with rolls × lengths, however they fall out.

    >>> plan = plan_many([Cut(Decimal(54), "sill")] * 3, roll_in=Decimal(120))
    >>> plan.rolls_new, plan.rolls_lower_bound
    (2, 2)

    Raises:
        PieceTooLong: a piece is longer than a new roll.

    Source:
        First fit, the longest first (D. S. Johnson, Near-optimal bin packing algorithms, MIT, 1973).
    """
    left: dict[Decimal, list[Cut]] = {}
    for piece in sorted(pieces, key=lambda cut: (-cut.length_in, cut.label), reverse=True):
        left.setdefault(piece.length_in, []).append(piece)
    left = dict(sorted(left.items(), reverse=True))
    longest_in = next(iter(left), Decimal(0))
    if longest_in > roll_in:
        label = left[longest_in][-1].label
        raise PieceTooLong(f"{label} needs {US.say(longest_in)}, a roll has {US.say(roll_in)}")
    all_in = sum((len(alike) * (length_in + trim_in) for length_in, alike in left.items()), Decimal(0))
    held_in = sum((remnant.length_in + trim_in for remnant in remnants), Decimal(0))
    at_least = ceil_ratio(max(all_in - held_in, Decimal(0)), roll_in + trim_in)
    rolls = list(_filled(left, roll_in, remnants, trim_in, keep_in))
    new = sum(roll.remnant is None for roll in rolls)
    return CutPlan(
        rolls=tuple(rolls), rolls_lower_bound=at_least, cost=Decimal(new), cost_lower_bound=Decimal(at_least)
    )


def _filled(
    left: dict[Decimal, list[Cut]], roll_in: Decimal, remnants: Sequence[Remnant], trim_in: Decimal, keep_in: Decimal
) -> Iterator[Roll]:
    """Yield the rolls with their pieces, taking these away from what is left."""
    for remnant in sorted(remnants, key=lambda one: (one.length_in, one.code)):
        if cuts := _fill(left, remnant.length_in + trim_in, trim_in):
            yield _roll(remnant.length_in, remnant.code, cuts, trim_in, keep_in)
    while left:
        yield _roll(roll_in, None, _fill(left, roll_in + trim_in, trim_in), trim_in, keep_in)


def _fill(left: dict[Decimal, list[Cut]], room_in: Decimal, trim_in: Decimal) -> list[Cut]:
    cuts: list[Cut] = []
    for length_in in list(left):
        alike = left[length_in]
        fitting = min(len(alike), int(room_in // (length_in + trim_in)))
        cuts += (alike.pop() for _ in range(fitting))
        room_in -= fitting * (length_in + trim_in)
        if not alike:
            del left[length_in]
    return cuts


def _roll(length_in: Decimal, remnant: str | None, cuts: list[Cut], trim_in: Decimal, keep_in: Decimal) -> Roll:
    used_in = sum((cut.length_in + trim_in for cut in cuts), Decimal(0))
    left_in = max(length_in - used_in, Decimal(0))
    return Roll(length_in=length_in, remnant=remnant, cuts=tuple(cuts), left_in=left_in, is_kept=left_in >= keep_in)
