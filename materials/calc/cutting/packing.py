"""Rolls and what is cut from each, while a plan is being sought."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from materials.calc.cutting.fill import best_fill, taken

OnRoll = tuple[int, list[int]]
"""A roll and the pieces on it."""


@dataclass(slots=True)
class Packing:
    """Rolls, what is cut from each and what is left of each, and the pieces that lie on none; all in whole steps."""

    rooms: list[int]
    held: list[list[int]]
    slack: list[int]
    loose: list[int] = field(default_factory=list)

    def close(self, room: int) -> None:
        """Add a last roll for what is loose, as much of it as fits."""
        self.loose.sort(reverse=True)
        if sum(self.loose) <= room:
            pieces, self.loose = self.loose, []
        else:
            pieces = taken(self.loose, best_fill(self.loose, room))
        self.rooms.append(room)
        self.held.append(pieces)
        self.slack.append(room - sum(pieces))

    def open(self) -> int:
        """Take the last roll away, so that its pieces are loose, and return its room."""
        self.slack.pop()
        self.loose += self.held.pop()
        return self.rooms.pop()

    def only(self, places: Sequence[int]) -> Packing:
        """Return some of the rolls, in the order of their places."""
        return Packing(
            [self.rooms[place] for place in places],
            [self.held[place] for place in places],
            [self.slack[place] for place in places],
        )


def packed(sizes: Sequence[int], rooms: Sequence[int]) -> Packing:
    """Return rolls filled one after the other, each as full as what is still there allows."""
    loose = sorted(sizes, reverse=True)
    held = [taken(loose, best_fill(loose, room)) for room in rooms]
    slack = [room - sum(pieces) for room, pieces in zip(rooms, held, strict=True)]
    return Packing(list(rooms), held, slack, loose)


def of_rolls(rolls: Sequence[OnRoll], rooms: Sequence[int]) -> Packing:
    """Return rolls in the order of their rooms, also those that nothing is cut from."""
    by_room: dict[int, list[list[int]]] = {}
    for room, pieces in rolls:
        by_room.setdefault(room, []).append(pieces)
    held = [on_rolls.pop() if (on_rolls := by_room.get(room)) else [] for room in rooms]
    return Packing(list(rooms), held, [room - sum(pieces) for room, pieces in zip(rooms, held, strict=True)])
