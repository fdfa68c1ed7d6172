"""A schedule compared with the openings of its job: the opening that each row means."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import chain, count
from typing import Any

from openings.calc.marks import FEWEST_PLACES, numbered
from openings.schedules.rows import ScheduleRow

Values = Mapping[str, Any]
"""Columns of an opening by name, the detail by its name."""


class Change(StrEnum):
    """What taking a schedule does with one opening."""

    ADDED = "added"
    RESTORED = "restored"
    CHANGED = "changed"
    UNCHANGED = "unchanged"
    REMOVED = "removed"


APPLIED = (Change.ADDED, Change.CHANGED, Change.REMOVED)
"""What can be chosen; a void opening that the file has again counts as added."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Existing:
    """One opening as it stands in the job.

    Args:
        floor: as in its values; it distinguishes openings of one mark.
        bound: how much hinders taking it out of the job; of openings alike, the less bound ones are taken out.
    """

    opening_id: int
    mark: str
    schedule_mark: str
    floor: str = ""
    is_void: bool = False
    is_by_hand: bool = False
    bound: int = 0


@dataclass(frozen=True, slots=True)
class Pair:
    """A row of the file and the opening that it means; a row without one is new, and has the mark it will get."""

    row: ScheduleRow
    mark: str
    existing: Existing | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Matched:
    """Every opening that the file asks for, in its order, and those of the job that it does not have.

    Args:
        missing: those of earlier files.
        by_hand: those that somebody added; they stay.
    """

    pairs: tuple[Pair, ...]
    missing: tuple[Existing, ...]
    by_hand: tuple[Existing, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class DifferenceLine:
    """What a schedule changes about one opening.

    Args:
        row: of the file; None where the file no longer has it.
        old, new: the values that differ, by column.
        hindrance: why it cannot be done; empty if it can.
        follows: what else will happen if it is done.
    """

    change: Change
    mark: str
    schedule_mark: str
    row: int | None = None
    sheet: str = ""
    opening_id: int | None = None
    old: Values = field(default_factory=dict)
    new: Values = field(default_factory=dict)
    hindrance: str = ""
    follows: str = ""


def matched(rows: Sequence[ScheduleRow], existing: Sequence[Existing]) -> Matched:
    """Match each row of a schedule with the opening it means.

    >>> from openings.schedules import read_schedule
    >>> content = b"Mark,Qty,RO Width,RO Height\\nW1,2,36,54\\n"
    >>> rows = read_schedule(filename="windows.csv", content=content).rows
    >>> found = matched(rows, [Existing(opening_id=7, mark="W1-01", schedule_mark="W1")])
    >>> [(pair.mark, pair.existing.opening_id if pair.existing else None) for pair in found.pairs]
    [('W1-01', 7), ('W1-02', None)]

    A row whose mark an opening carries itself means that opening. Else the openings of a mark go to its rows
    floor by floor, in their order, those of earlier files before those that somebody added, and of these those first
    that could hardly be taken out; an opening keeps its mark, and new ones of a quantity are numbered after it: W3-01,
    W3-02, …

    Args:
        existing: in the order of the job, void ones included.
    """
    groups: dict[str, list[ScheduleRow]] = defaultdict(list)
    for row in rows:
        groups[row.mark.casefold()].append(row)
    pool = _Pool(existing)
    asked = {mark: sum(row.quantity for row in alike) for mark, alike in groups.items()}
    own = {mark: pool.take_own(mark) for mark, many in asked.items() if many == 1} if existing else {}
    meant: dict[str, Iterator[tuple[str, Existing | None]]] = {}
    for mark, alike in groups.items():
        if one := own.get(mark):
            meant[mark] = iter([(one.mark, one)])
            continue
        names = _names(alike[0].mark, asked[mark])
        meant[mark] = pool.named(alike, names) if existing else ((name, None) for name in names)
    pairs = [Pair(row, *next(meant[row.mark.casefold()])) for row in rows for _ in range(row.quantity)]
    left = list(pool.left())
    return Matched(
        pairs=tuple(pairs),
        missing=tuple(one for one in left if not one.is_by_hand),
        by_hand=tuple(one for one in left if one.is_by_hand),
    )


def _names(mark: str, many: int) -> list[str]:
    """Return the marks of so many openings of one schedule mark: W3, or W3-01, W3-02, …"""
    places = max(FEWEST_PLACES, len(str(many)))
    return [mark] if many == 1 else [numbered(mark, number, places) for number in range(1, many + 1)]


class _Pool:
    """Openings that no row has claimed yet."""

    def __init__(self, existing: Sequence[Existing]) -> None:
        self._by_mark = {one.mark.casefold(): one for one in existing}
        self._alike: dict[str, list[Existing]] = defaultdict(list)
        for one in existing:
            self._alike[one.schedule_mark.casefold()].append(one)
        self._claimed: set[int] = set()
        self._existing = existing

    def take_own(self, mark: str) -> Existing | None:
        """Claim the opening that carries this mark itself."""
        return self._claim(self._by_mark.get(mark))

    def named(self, rows: Sequence[ScheduleRow], names: Sequence[str]) -> Iterator[tuple[str, Existing | None]]:
        """Yield mark and opening for the rows of one mark; a new opening is named by its place, or after all others."""
        found = self._for_rows(rows, named=names)
        mark, places = rows[0].mark, max(FEWEST_PLACES, len(str(len(names))))
        taken = {one.mark for one in self._alike.get(mark.casefold(), ())} | {one.mark for one in found if one}
        spare = chain(
            (name for name, one in zip(names, found, strict=True) if one and name not in taken),
            (name for n in count(len(names) + 1) if (name := numbered(mark, n, places)) not in taken),
        )
        for name, one in zip(names, found, strict=True):
            yield (one.mark if one else next(spare) if name in taken else name), one

    def _for_rows(self, rows: Sequence[ScheduleRow], *, named: Sequence[str]) -> list[Existing | None]:
        """Claim an opening for each one that the rows of one mark ask for; None where there is no more."""
        found: list[Existing | None] = [None] * sum(row.quantity for row in rows)
        alike = self._unclaimed(rows[0].mark, named)
        if not alike:
            return found
        floors = [row.floor for row in rows for _ in range(row.quantity)]
        on_floor: dict[str, list[Existing]] = defaultdict(list)
        for one in reversed(alike):
            on_floor[one.floor].append(one)
        for place, floor in enumerate(floors):
            if on_floor[floor]:
                found[place] = self._claim(on_floor[floor].pop())
        rest = iter([one for one in alike if one.opening_id not in self._claimed])
        return [one or self._claim(next(rest, None)) for one in found]

    def left(self) -> Iterator[Existing]:
        """Yield those that count and no row claimed."""
        for one in self._existing:
            if one.opening_id not in self._claimed and not one.is_void:
                yield one

    def _unclaimed(self, mark: str, named: Sequence[str]) -> list[Existing]:
        """Return the openings of a mark: the hardest to take out first, then those added by hand, void ones last."""
        alike = {one.opening_id: one for one in self._alike.get(mark.casefold(), ())}
        for name in named if self._by_mark else ():
            if one := self._by_mark.get(name.casefold()):
                alike[one.opening_id] = one
        unclaimed = [one for one in alike.values() if one.opening_id not in self._claimed]
        return sorted(unclaimed, key=lambda one: (one.is_void, one.is_by_hand, -one.bound))

    def _claim(self, one: Existing | None) -> Existing | None:
        if one is None or one.opening_id in self._claimed:
            return None
        self._claimed.add(one.opening_id)
        return one
