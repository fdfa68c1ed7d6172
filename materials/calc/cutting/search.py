"""The search for a cutting plan, in whole steps."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import chain, groupby, islice
from random import Random

from materials.calc.cutting.bounds import rolls_needed, rounded_bound, volume_needed
from materials.calc.cutting.columns import fractional_bound, whole_patterns
from materials.calc.cutting.cover import TooMuchWork, divide
from materials.calc.cutting.packing import Packing, of_rolls, packed
from materials.calc.cutting.rebuild import rebuild
from materials.calc.cutting.repair import repair
from materials.calc.cutting.supply import Choice, Kind, Need, are_left_out, choices, least_cost

HASTY, QUICK, TIDY = 300, 1500, 60
"""How often rolls are refilled in vain: to fit all pieces in, at first and later, and to leave less over."""
FEW, MANY = 4, 8
"""How many rolls are refilled together at most: in haste or to leave less over, and else. Found by trial."""
REBUILDS, FEW_ROUNDS, ROUNDS = 300, 2, 10
"""How often the last rolls are rebuilt before rolls are refilled again, and how many such rounds there are: before the
bounds are looked at and after."""
ALIKE = 6
"""How many choices of new rolls of one cost are looked at."""
CHEAP = 1_000_000
"""Up to so many, different sizes squared times steps of a roll, the bounds are looked at before rolls are refilled."""
FEW_PIECES, FEW_STEPS, STEPS = 60, 300, 5000
"""Up to so many pieces all ways to cut them are looked at, in few steps first, in more when all else has failed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """The cheapest packing found, remnants first, and what is known of better ones.

    Args:
        remnants: how many of the rolls are remnants.
        cost_at_least, rolls_at_least: of new rolls; no plan goes below.
        is_cut_short: whether the time was over before the search.
    """

    packing: Packing
    remnants: int
    cost_at_least: int
    rolls_at_least: int
    is_cut_short: bool


class Search:
    """One search; the same input gives the same packing, unless the time is over first.

    Args:
        sizes: of the pieces, each with its trim, one or more.
        kinds: of new rolls, of different lengths.
        remnants: their rooms.
        is_over: whether the time is over.
    """

    def __init__(
        self, sizes: Sequence[int], kinds: Sequence[Kind], remnants: Sequence[int], is_over: Callable[[], bool]
    ) -> None:
        self._sizes = sorted(sizes, reverse=True)
        self._demands = Counter(self._sizes)
        self._kinds = [kind for kind in kinds if kind.room >= self._sizes[-1]]
        self._remnants = sorted(room for room in remnants if room >= self._sizes[-1])
        self._is_over = is_over
        self._at_least = 0
        self._tried: Packing | None = None
        self._chance = Random(0)  # noqa: S311 (no secret: the same plan for the same input)

    def bounds(self) -> tuple[int, int]:
        """Return how few new rolls it takes at least, and what they cost at least, as far as that is plain at once."""
        needs = self._needs()
        return (max(need.rolls for need in needs), least_cost(self._kinds, needs)) if needs else (0, 0)

    def run(self) -> Found | None:
        """Return the cheapest packing found; None where there are no new rolls and none is found without."""
        if not self._kinds:
            packing = self._pack_at(0, [Choice(0, 0, ())]) if self._remnants else None
            return self._found(packing, 0, 0) if packing else None
        rolls, self._at_least = self.bounds()
        is_open = are_left_out(self._kinds, self._needs())  # whether a cheaper choice may have a packing
        dearest_needed = len(self._sizes) * max(self._kinds).price
        for cost, alike in groupby(choices(self._kinds, self._needs()), key=lambda choice: choice.cost):
            if cost > dearest_needed:
                break
            shortest_first = sorted(islice(alike, ALIKE**2), key=lambda choice: choice.room)
            if cost < self._at_least:
                continue
            if not is_open:
                self._at_least = cost
            if packing := self._pack_at(cost, shortest_first):
                dearest = max(kind.price for kind in self._kinds)
                return self._found(packing, self._at_least, max(rolls, -(-self._at_least // dearest)))
            is_open |= self._at_least <= cost
        return None

    def _pack_at(self, cost: int, shortest_first: Sequence[Choice]) -> Packing | None:
        """Return a packing on one of the choices of a cost; what is cheap comes first, ways of search and bounds alike.

        A bound that comes out above the cost ends it, and so does the proof that there is none.
        """
        longest = shortest_first[-1].rooms
        packing = self._pack_any(shortest_first, patience=0) or self._exhaust(cost, shortest_first, FEW_STEPS)
        if packing or self._at_least > cost:
            return packing
        if packing := self._pack_any(shortest_first, patience=HASTY):
            return packing
        is_cheap = len(self._demands) ** 2 * max([*self._remnants, *(kind.room for kind in self._kinds)]) <= CHEAP
        if is_cheap and self._is_below_bound(cost):
            return None
        if is_cheap and len(self._kinds) == 1 and (packing := self._pack_by_patterns(longest)):
            return packing
        if packing := self._pack_any(shortest_first, patience=QUICK) or self._alternate(longest, FEW_ROUNDS):
            return packing
        if not is_cheap and self._is_below_bound(cost):
            return None
        return self._exhaust(cost, shortest_first, STEPS) or self._alternate(longest, ROUNDS)

    def _is_below_bound(self, cost: int) -> bool:
        """Return whether there is no plan of a cost, after looking for a bound above it."""
        if cost == self._at_least and not self._is_over():
            self._at_least = max(cost, self._cost_by_values(cost))
        return cost < self._at_least

    def _needs(self) -> list[Need]:
        """Return what new rolls must do for all pieces, and those longer than each kind for the pieces that need it."""
        needs = []
        for above in sorted({0, *(kind.room for kind in self._kinds)}):
            sizes = [size for size in self._sizes if size > above]
            longest = max((kind.room for kind in self._kinds), default=0)
            if sizes and longest > above:
                remnants = [room for room in self._remnants if room > above]
                volume = volume_needed(sizes, remnants)
                rolls = rolls_needed(sizes, remnants, volume=volume, longest=longest)
                needs.append(Need(above, volume, rolls))
        return needs

    def _pack_any(self, choices: Sequence[Choice], *, patience: int) -> Packing | None:
        """Return a packing on the first of some choices that soon has one."""
        few = choices if len(choices) <= ALIKE else [*choices[: ALIKE - 1], choices[-1]]
        return next(filter(None, (self._pack(choice.rooms, patience=patience) for choice in few)), None)

    def _pack(self, new: Sequence[int], *, patience: int) -> Packing | None:
        """Return a packing on the remnants and new rolls, the last of which takes what the others leave."""
        rooms, waste = self._rooms(new)
        if waste < 0:
            return None
        packing = self._begun(rooms)
        at_once = MANY if patience >= QUICK else FEW
        is_done = self._repair(packing, lost=waste, patience=patience, at_once=at_once)
        packing.close(rooms[-1])
        self._tried = None if is_done else packing
        return packing if is_done else None

    def _rooms(self, new: Sequence[int]) -> tuple[list[int], int]:
        """Return the remnants and new rolls, and what is left of them when all pieces are cut."""
        rooms = [*self._remnants, *new]
        return rooms, sum(rooms) - sum(self._sizes)

    def _pack_by_patterns(self, new: Sequence[int]) -> Packing | None:
        """Return a packing that begins with the patterns of the linear program, remnants filled before."""
        rooms, _ = self._rooms(new)
        old = packed(self._sizes, self._remnants)
        if not old.loose or old.loose[0] > self._kinds[0].room:
            return None
        rolls = whole_patterns(Counter(old.loose), self._kinds[0], is_over=self._is_over)[: len(new)]
        for piece in chain.from_iterable(rolls):
            old.loose.remove(piece)
        rest = packed(old.loose, new[len(rolls) :])
        held = [*old.held, *rolls, *rest.held]
        slack = [room - sum(pieces) for room, pieces in zip(rooms, held, strict=True)]
        self._tried = Packing(rooms, held, slack, rest.loose)
        return self._pack(new, patience=QUICK)

    def _begun(self, rooms: list[int]) -> Packing:
        """Return the rolls but the last, as they were left when these, or all but the last of them, were tried."""
        tried = self._tried
        if tried and tried.rooms == rooms:
            tried.open()
        if tried and tried.rooms == rooms[:-1]:
            return tried
        return packed(self._sizes, rooms[:-1])

    def _alternate(self, new: Sequence[int], rounds: int) -> Packing | None:
        """Return what comes of the packing tried last, if on these rolls, by rebuilding and refilling in turn."""
        rooms, waste = self._rooms(new)
        for _ in range(rounds):
            packing = self._tried
            if packing is None or packing.rooms != rooms or self._is_over():
                return None
            found = rebuild(packing, waste=waste, tries=REBUILDS, chance=self._chance, is_over=self._is_over)
            if found := found or self._pack(new, patience=QUICK):
                return found
        return None

    def _repair(self, packing: Packing, *, lost: int, patience: int, at_once: int) -> bool:
        return repair(
            packing, lost=lost, patience=patience, at_once=at_once, chance=self._chance, is_over=self._is_over
        )

    def _cost_by_values(self, cost: int) -> int:
        """Return a cost below which there is no plan, looked for above one."""
        if self._sizes[0] > max((kind.room for kind in self._kinds), default=0):
            return cost
        if len(self._kinds) == 1:
            room, price = self._kinds[0]
            cut_off = [room - remnant for remnant in self._remnants if remnant < room]
            if all(remnant <= room for remnant in self._remnants):
                rolls = cost // price + len(self._remnants)
                rolls = rounded_bound([*self._sizes, *cut_off], room, above=rolls)
                if (rolls - len(self._remnants)) * price > cost:
                    return (rolls - len(self._remnants)) * price
        return fractional_bound(self._demands, self._kinds, self._remnants, above=cost, is_over=self._is_over)

    def _exhaust(self, cost: int, choices: Sequence[Choice], steps: int) -> Packing | None:
        """Return a packing of few pieces by looking at all ways to cut them; the least cost rises where there is none.

        Args:
            steps: in which each of the choices is to be settled.
        """
        is_settled = len(choices) < ALIKE**2
        for choice in choices if len(self._sizes) <= FEW_PIECES and self._at_least <= cost else ():
            rooms, waste = self._rooms(choice.rooms)
            if waste < 0:
                continue
            try:
                rolls = divide(self._sizes, rooms, waste=waste, steps=steps, chance=self._chance, is_over=self._is_over)
            except TooMuchWork:
                is_settled = False
                continue
            if rolls:
                return of_rolls(rolls, rooms)
        if is_settled and cost == self._at_least and len(self._sizes) <= FEW_PIECES:
            self._at_least += 1
        return None

    def _found(self, packing: Packing, cost_at_least: int, rolls_at_least: int) -> Found:
        """Return a packing with as much of what is left as may be on its last roll."""
        count = len(self._remnants)
        used = [place for place, pieces in enumerate(packing.held) if pieces]
        if used[-1] < count:
            used.sort(key=lambda place: packing.slack[place])
        first = packing.only(used)
        last = first.open()
        self._repair(first, lost=0, patience=TIDY, at_once=FEW)
        first.close(last)
        cut = [place for place, pieces in enumerate(first.held) if pieces]
        return Found(
            packing=first.only(cut),
            remnants=sum(used[place] < count for place in cut),
            cost_at_least=cost_at_least,
            rolls_at_least=rolls_at_least,
            is_cut_short=self._is_over(),
        )
