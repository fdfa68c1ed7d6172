"""Dividing what is left among the last rolls, and some full ones, by looking at every way to cut a roll."""

from __future__ import annotations

from collections.abc import Callable
from itertools import chain
from random import Random

from materials.calc.cutting.cover import TooMuchWork, divide
from materials.calc.cutting.fill import best_fill, taken
from materials.calc.cutting.packing import OnRoll, Packing, of_rolls

POOL = 60
"""Pieces looked at together: of three a roll, so many can mostly be divided exactly, and are soon exhausted."""
LEAST_POOL = 24
STEPS = 200
FEW = 3


def rebuild(packing: Packing, *, waste: int, tries: int, chance: Random, is_over: Callable[[], bool]) -> Packing | None:
    """Return a packing that leaves nothing loose, by dividing loose pieces anew together with those of some rolls.

    Args:
        packing: all rolls of the plan.
        waste: what may be left of all rolls together.
        tries: how often at most.
    """
    rest = _Rest(packing)
    size = POOL
    for _ in range(tries):
        if is_over():
            return None
        some = rest.some(size, chance)
        rooms = [*rest.rooms, *(room for room, _ in some)]
        pool = sorted([*rest.loose, *(piece for _, pieces in some for piece in pieces)], reverse=True)
        try:
            found = divide(pool, rooms, waste=waste, steps=STEPS, chance=chance, is_over=is_over)
        except TooMuchWork:
            found = None
            size = size * 3 // 4
            if size < LEAST_POOL:
                return None
        if found is not None:
            return of_rolls([*rest.full, *found], packing.rooms)
        rest.stir(some, pool, rooms, chance)
    return None


class _Rest:
    """Rolls that are full, the rooms of all others, and the pieces that lie on none that is full."""

    def __init__(self, packing: Packing) -> None:
        self._usual = sum(map(len, packing.held)) / len(packing.rooms)
        rolls = list(zip(packing.rooms, packing.held, packing.slack, strict=True))
        self.full: list[OnRoll] = [(room, pieces) for room, pieces, left in rolls if not left]
        self.rooms = [room for room, _, left in rolls if left]
        self.loose = [*packing.loose, *(size for _, pieces, left in rolls if left for size in pieces)]
        every = sorted([*packing.loose, *chain.from_iterable(packing.held)], reverse=True)
        full, self.full = self.full, []
        if not self._fill(every, list(packing.rooms)):
            self.full = full

    def some(self, size: int, chance: Random) -> list[OnRoll]:
        """Take full rolls out until their pieces and the loose ones are so many; first a few that hold unusually many.

        Such rolls make up for each other: where one holds four pieces and most hold three, another must hold two.
        """
        chance.shuffle(self.full)
        odd = [place for place, (_, pieces) in enumerate(self.full) if abs(len(pieces) - self._usual) >= 1]
        for place in reversed(odd[: chance.randint(0, FEW)]):
            self.full.append(self.full.pop(place))
        count = max(int((size - len(self.loose)) / max(self._usual, 1)), FEW)
        return [self.full.pop() for _ in range(min(count, len(self.full)))]

    def stir(self, some: list[OnRoll], pool: list[int], rooms: list[int], chance: Random) -> None:
        """Fill the rolls in any order instead; put them back as they were where that leaves more pieces loose."""
        chance.shuffle(pool)
        if not self._fill(pool, rooms):
            self.full += some

    def _fill(self, pool: list[int], rooms: list[int]) -> bool:
        """Fill rolls wholly, one after the other, as far as that goes; say whether no more pieces are loose then."""
        full: list[OnRoll] = []
        loose: list[int] = []
        while pool and rooms:
            places = best_fill(pool, rooms[-1])
            if sum(pool[place] for place in places) == rooms[-1]:
                full.append((rooms.pop(), taken(pool, places)))
            else:
                loose.append(pool.pop(0))
        loose += pool
        if len(loose) > len(self.loose):
            return False
        self.full += full
        self.rooms, self.loose = rooms, loose
        return True
