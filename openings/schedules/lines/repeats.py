"""Marks that stand in more than one row: more openings of them, or a contradiction."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from openings.calc.units import US
from openings.schedules.layout import Meaning

_MOST_NAMED = 5

ALIKE = (
    Meaning.RO_WIDTH, Meaning.RO_HEIGHT, Meaning.UNIT_WIDTH, Meaning.UNIT_HEIGHT, Meaning.OPERATION, Meaning.DETAIL,
)  # fmt: skip
"""What all openings of one mark have in common; each floor may have a detail of its own where floors are counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """A row that contradicts an earlier one of its mark, by its place among the rows; in which column and why."""

    place: int
    meaning: Meaning
    detail: str


@dataclass(frozen=True, slots=True)
class Repeats:
    """What was found of repeated marks; `spelled` are the marks with one spelling each."""

    spelled: list[Any]
    clashes: list[Clash] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def repeats_in(
    marks: Sequence[Any],
    *,
    floors: Sequence[Any],
    rows: Sequence[int],
    values: dict[Meaning, Sequence[Any]],
    unreadable: set[int],
    has_quantities: bool,
    said: Callable[[int], Hashable],
) -> Repeats:
    """Return the rows that contradict an earlier row of the same mark.

    Where every row is one opening a mark may stand in many. Where some stand for several their quantities are added
    up, but a row that says the same as another of its floor in every cell is more likely one row too many.

    Args:
        marks, floors, rows, values: of each row, all equally long; the values those of `ALIKE`.
        unreadable: rows whose values are not compared.
        said: what a row says in every cell but the mark.
    """
    folded = [mark.casefold() if isinstance(mark, str) else None for mark in marks]
    found = Repeats(list(marks))
    counts = Counter(folded)
    if len(counts) == len(folded):
        return found
    first_of: dict[str, int] = {}
    stood: dict[tuple[str, str], int] = {}
    seen: dict[tuple[str, str, Hashable], int] = {}
    compared = ALIKE[:-1] if has_quantities else ALIKE
    for place, mark in enumerate(folded):
        if mark is None or counts[mark] == 1:
            continue
        first = first_of.setdefault(mark, place)
        if marks[first] != marks[place]:
            found.spelled[place] = marks[first]
            found.notes.append(f"“{marks[place]}” in row {rows[place]} is taken as {marks[first]}.")
        floor = floors[place].casefold() if isinstance(floors[place], str) else ""
        here = stood.setdefault((mark, floor), place)
        same = seen.setdefault((mark, floor, said(place)), place) if has_quantities else place
        is_known = not {first, here, place} & unreadable
        if has_quantities and (same != place or (here != place and not is_known)):
            found.clashes.append(_twice(place, here if same == place else same, floor=floors[place], rows=rows))
        elif first != place and is_known:
            found.clashes.extend(_unlike(place, first, mark=marks[first], rows=rows, values=values, compared=compared))
    lines = {(mark, row) for mark, row in zip(found.spelled, rows, strict=True) if isinstance(mark, str)}
    _note(Counter(mark for mark, _ in lines), found, has_quantities=has_quantities)
    return found


def _twice(place: int, before: int, *, floor: Any, rows: Sequence[int]) -> Clash:
    where = f" on floor “{floor}”" if floor else ""
    once = "take one of them out, or give both in one row with the quantity of both"
    return Clash(
        place=place,
        meaning=Meaning.MARK,
        detail=f"the mark is in row {rows[before]} and in row {rows[place]}{where}; {once}",
    )


def _unlike(
    place: int,
    first: int,
    *,
    mark: str,
    rows: Sequence[int],
    values: dict[Meaning, Sequence[Any]],
    compared: Sequence[Meaning],
) -> list[Clash]:
    """Return the first of the values that differ between two rows of a mark."""
    for meaning in compared:
        one, other = values[meaning][first], values[meaning][place]
        if one == other or (isinstance(one, str) and isinstance(other, str) and one.casefold() == other.casefold()):
            continue
        detail = (
            f"{mark} has {_said(meaning, one)} in row {rows[first]} but {_said(meaning, other)} in row {rows[place]}; "
            "openings of one mark are alike, so give one of them another mark"
        )
        return [Clash(place=place, meaning=meaning, detail=detail)]
    return []


def _said(meaning: Meaning, value: Any) -> str:
    name = meaning.value.removesuffix("_in").replace("ro_", "rough opening ").replace("_", " ")
    if isinstance(value, Decimal):
        return f"the {name} {US.say(value)}"
    return f"the {name} “{value}”" if value else f"no {name}"


def _note(counts: Counter[str], found: Repeats, *, has_quantities: bool) -> None:
    several = sorted((mark, count) for mark, count in counts.items() if count > 1)
    if not several:
        return
    then = "their quantities are added up" if has_quantities else "each is one opening"
    said = ", ".join(f"{mark} in {count}" for mark, count in several[:_MOST_NAMED])
    more = f" and {len(several) - _MOST_NAMED} more marks likewise" if len(several) > _MOST_NAMED else ""
    found.notes.append(f"Marks in several rows: {said}{more}; {then}.")
