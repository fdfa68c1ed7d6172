"""A cutting plan: which piece comes from which roll or remnant."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TypeVar

from jobs.calc.say import counted
from materials.calc.cutting.search import Found, Search
from materials.calc.cutting.steps import steps_of
from materials.calc.cutting.supply import Kind
from materials.calc.roll_lengths import RollLength, kinds_of, price_of_each, price_unit_of
from materials.calc.verdict import verdict
from materials.errors import NothingToCutFrom, PieceTooLong
from openings.calc.figures import plain
from openings.calc.units import US

Say = Callable[[Decimal], str]
"""Writes a length with its unit."""

T = TypeVar("T")

NO_TRIM = Decimal(0)
KEEP_IN = Decimal(24)
"""The shortest remnant that goes back to the shelf, unless a product says otherwise (our choice)."""


@dataclass(frozen=True, slots=True, order=True)
class Cut:
    """One piece to cut, and what it is for."""

    length_in: Decimal
    label: str


@dataclass(frozen=True, slots=True)
class Remnant:
    """What was left of a roll; `code` tells it from others of its length."""

    length_in: Decimal
    code: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Roll:
    """One roll or remnant to cut: its cuts in order, and what is left of it after the last trim.

    `remnant` is the code of the remnant, None for a new roll; `is_kept` says that what is left is worth keeping.
    """

    length_in: Decimal
    remnant: str | None
    cuts: tuple[Cut, ...]
    left_in: Decimal
    is_kept: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlan:
    """Remnants and then new rolls with their cuts, and the number of new rolls below which no plan can go.

    `cost` and `cost_lower_bound` are what the new rolls cost and what they cost at least; without prices each roll
    costs 1. `is_cut_short` says that the time limit ended the search.
    """

    rolls: tuple[Roll, ...]
    rolls_lower_bound: int
    cost: Decimal
    cost_lower_bound: Decimal
    is_cut_short: bool = False

    @property
    def rolls_new(self) -> int:
        """How many new rolls are opened."""
        return sum(roll.remnant is None for roll in self.rolls)

    @property
    def proven(self) -> bool:
        """Whether no plan costs less."""
        return self.cost == self.cost_lower_bound

    @property
    def scrap_in(self) -> Decimal:
        """What is left of all rolls together and not worth keeping."""
        return sum((roll.left_in for roll in self.rolls if not roll.is_kept), Decimal(0))

    def verdict(self, package: str = "roll") -> str:
        """Return in words how many new rolls it takes and whether fewer would do.

        Args:
            package: what one is called.
        """
        if self.cost == self.rolls_new:
            return verdict(self.rolls_new, self.rolls_lower_bound, package, is_anything_cut=bool(self.rolls))
        count = f"{counted(self.rolls_new, package)} for {plain(self.cost)}"
        if self.proven:
            return f"{count}; no plan costs less"
        return f"{count}; no plan costs less than {plain(self.cost_lower_bound)}"


def never() -> bool:
    """Return that the time is not over yet."""
    return False


def plan_cuts(
    pieces: Iterable[Cut],
    *,
    roll_lengths: Sequence[RollLength],
    remnants: Sequence[Remnant] = (),
    trim_in: Decimal = NO_TRIM,
    keep_in: Decimal = KEEP_IN,
    is_over: Callable[[], bool] = never,
    say: Say = US.say,
) -> CutPlan:
    """Return a plan that cuts every piece whole; the same input gives the same plan, unless the time ran out.

    >>> plan = plan_cuts([Cut(Decimal(54), "sill")] * 3, roll_lengths=[RollLength(Decimal(120))])
    >>> [(len(roll.cuts), roll.left_in) for roll in plan.rolls]
    [(2, Decimal('12')), (1, Decimal('66'))]

    In this order: the new rolls cost least; the remnants are used; what is left is one long remnant rather than many.

    Args:
        pieces: lengths above 0, in any order.
        roll_lengths: in which new rolls come, as many as it takes; without prices (or with a price missing) each
            counts as 1.
        remnants: each may be cut once.
        trim_in: lost between two cuts and after a cut that does not end the roll, >= 0.
        keep_in: the shortest remnant worth keeping.
        is_over: asked now and then; once true, the best plan so far is returned.
        say: how lengths are written in sentences: they may be of any unit, as long as it is one.

    Raises:
        PieceTooLong: a piece fits on no new roll and no remnant; names piece, length and roll.
        NothingToCutFrom: no length of new rolls is given and the remnants do not hold everything; says what to buy.
    """
    asked = _Asked(
        pieces=sorted(pieces, key=_longest_first),
        price_of=price_of_each(roll_lengths),
        remnants=sorted(remnants, key=lambda remnant: (remnant.length_in, remnant.code)),
        trim_in=trim_in,
        keep_in=keep_in,
    )
    if not asked.pieces:
        return CutPlan(rolls=(), rolls_lower_bound=0, cost=Decimal(0), cost_lower_bound=Decimal(0))
    asked.require_room(is_over, say)
    steps = steps_of([asked.with_trim(cut.length_in) for cut in asked.pieces], asked.longest_room_in())
    tries = [asked.in_steps(steps.up, steps.down)]
    if not steps.are_exact:  # the first may overdraw a roll a little, the second a remnant, the last none
        tries = [
            asked.in_steps(steps.down, steps.up),
            *tries,
            replace(asked, remnants=[]).in_steps(steps.up, steps.down),
        ]
    known = found = tries[0].search(is_over)
    rolls = tries[0].rolls(found) if found else []
    for other in tries[1:]:
        if found and not any(asked.is_overdrawn(roll) for roll in rolls):
            break
        found = other.search(is_over)
        rolls = other.rolls(found) if found else []
    if not found:
        raise asked.unplaced(say)
    return CutPlan(
        rolls=tuple(rolls),
        rolls_lower_bound=known.rolls_at_least if known else 0,
        cost=sum((asked.price_of[roll.length_in] for roll in rolls if roll.remnant is None), Decimal(0)),
        cost_lower_bound=known.cost_at_least * asked.price_unit if known else Decimal(0),
        is_cut_short=found.is_cut_short,
    )


def _longest_first(cut: Cut) -> tuple[Decimal, str]:
    return -cut.length_in, cut.label


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """Pieces to cut, the longest first, and the remnants to cut them from, the shortest first."""

    pieces: list[Cut]
    price_of: dict[Decimal, Decimal]
    remnants: list[Remnant]
    trim_in: Decimal
    keep_in: Decimal

    @property
    def price_unit(self) -> Decimal:
        return price_unit_of(self.price_of.values())

    def with_trim(self, length_in: Decimal) -> Decimal:
        return length_in + self.trim_in

    def longest_room_in(self) -> Decimal:
        lengths_in = [*self.price_of, *(remnant.length_in for remnant in self.remnants)]
        return self.with_trim(max(lengths_in, default=self.pieces[0].length_in))

    def in_steps(self, of_piece: Callable[[Decimal], int], of_roll: Callable[[Decimal], int]) -> _InSteps:
        """Return the same in whole steps; a piece that just fits the longest new roll does so in steps too."""
        roll_in = max(self.price_of, default=Decimal(0))
        sizes = [of_piece(self.with_trim(cut.length_in)) for cut in self.pieces]
        most = of_roll(self.with_trim(roll_in))
        return _InSteps(
            asked=self,
            sizes=[
                min(size, most) if cut.length_in <= roll_in else size
                for size, cut in zip(sizes, self.pieces, strict=True)
            ],
            kinds=kinds_of(self.price_of, self.price_unit, lambda length_in: of_roll(self.with_trim(length_in))),
            rooms=[of_roll(self.with_trim(remnant.length_in)) for remnant in self.remnants],
        )

    def is_overdrawn(self, roll: Roll) -> bool:
        """Return whether more is cut from a roll than is on it; steps that are not exact may do that."""
        return sum((self.with_trim(cut.length_in) for cut in roll.cuts), Decimal(0)) > self.with_trim(roll.length_in)

    def require_room(self, is_over: Callable[[], bool], say: Say) -> None:
        """Refuse pieces longer than a new roll for which the remnants have no room."""
        if not self.price_of:
            return
        roll_in = max(self.price_of)
        longer = [cut for cut in self.pieces if cut.length_in > roll_in]
        if not longer:
            return
        alone = replace(self, pieces=longer, price_of={})
        steps = steps_of([self.with_trim(cut.length_in) for cut in longer], alone.longest_room_in())
        if alone.in_steps(steps.up, steps.down).search(is_over) is None:
            piece = longer[0]
            raise PieceTooLong(f"{piece.label} needs {say(piece.length_in)}, a roll has {say(roll_in)}")

    def unplaced(self, say: Say) -> PieceTooLong | NothingToCutFrom:
        """Return what to say where no plan is found: what to buy, if there are no new rolls."""
        longest_in = self.pieces[0].length_in
        if self.price_of:
            return PieceTooLong(
                f"{self.pieces[0].label} needs {say(longest_in)}; no roll and no remnant has room for it"
            )
        all_in = sum((self.with_trim(cut.length_in) for cut in self.pieces), Decimal(0))
        held = "the remnants do not hold all pieces" if self.remnants else "there is nothing to cut from"
        return NothingToCutFrom(
            f"{held}: buy rolls of at least {say(longest_in)}, for pieces that with their trims take {say(all_in)}"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class _InSteps:
    """The same in whole steps, as a search takes it; `kinds` gives the lengths of new rolls."""

    asked: _Asked
    sizes: list[int]
    kinds: dict[Kind, Decimal]
    rooms: list[int]

    def search(self, is_over: Callable[[], bool]) -> Found | None:
        """Return the packing found; none where pieces are so short that they are lost in rounding."""
        return Search(self.sizes, list(self.kinds), self.rooms, is_over).run() if all(self.sizes) else None

    def rolls(self, found: Found) -> list[Roll]:
        """Return the rolls of a packing with the pieces of each, of pieces and remnants alike the first ones first."""
        pieces = _by_size(self.sizes, self.asked.pieces)
        remnants = _by_size(self.rooms, self.asked.remnants)
        lengths_in = {kind.room: length_in for kind, length_in in self.kinds.items()}
        rolls = []
        for number, (room, sizes) in enumerate(zip(found.packing.rooms, found.packing.held, strict=True)):
            cuts = [pieces[size].pop() for size in sizes]
            if number < found.remnants:
                remnant = remnants[room].pop()
                rolls.append(self._roll(remnant.length_in, remnant.code, cuts))
            else:
                rolls.append(self._roll(lengths_in[room], None, cuts))
        return rolls

    def _roll(self, length_in: Decimal, remnant: str | None, cuts: list[Cut]) -> Roll:
        left_in = length_in - sum((self.asked.with_trim(cut.length_in) for cut in cuts), Decimal(0))
        return Roll(
            length_in=length_in,
            remnant=remnant,
            cuts=tuple(sorted(cuts, key=_longest_first)),
            left_in=max(left_in, Decimal(0)),
            is_kept=left_in >= self.asked.keep_in,
        )


def _by_size(sizes: Iterable[int], each: Sequence[T]) -> dict[int, list[T]]:
    """Return what there is of each size, so that the first of them is taken first."""
    found: dict[int, list[T]] = {}
    for size, one in reversed(list(zip(sizes, each, strict=True))):
        found.setdefault(size, []).append(one)
    return found
