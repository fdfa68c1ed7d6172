"""The column of marks: rows that name several, and marks that stand in several rows."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from typing import Any

from openings.errors import BadSchedule
from openings.schedules.headings.of_table import Column
from openings.schedules.layout import Marks
from openings.schedules.lines.mark_ranges import MAY_NAME_SEVERAL, Several, is_numbered, several_in, shown
from openings.schedules.rows import MAX_MARK_LETTERS, Question

_MOST_NAMED = 5
"""So many examples a note names."""


@dataclass(frozen=True, slots=True)
class Named:
    """What the rows name.

    Args:
        several: the marks of each line that names more than one.
        wrong: lines whose mark cannot be taken, and what would be right.
    """

    several: dict[int, tuple[str, ...]] = field(default_factory=dict)
    wrong: list[tuple[int, str]] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _Unsure:
    """A line whose mark can be several or one."""

    line: int
    text: str
    several: Several
    quantity: int | None

    @property
    def can_be_range(self) -> bool:
        """Return whether the range is the likelier reading: its marks and the quantity do not clash."""
        count = len(self.several.marks)
        return self.quantity in (None, count) or (self.quantity == 1 and not self.several.is_open)


def named(
    marks: Sequence[Any],
    *,
    quantities: Sequence[Any] | None,
    rows: Sequence[int],
    column: Column,
    settled: Marks | None,
) -> Named:
    """Return the lines that name several marks.

    Surely meant are lists and ranges with both ends whole, where the quantity is as many or there is none. What can
    be one mark as well is asked once for all lines.

    Args:
        marks: of each line, as text, or what is wrong with it.
        quantities: of each line; None where the table has none.
        settled: how a person said such marks are meant.
    """
    found = Named()
    texts = [(line, mark) for line, mark in enumerate(marks) if isinstance(mark, str) and MAY_NAME_SEVERAL.search(mark)]
    if settled is Marks.AS_WRITTEN:
        _refuse_long(texts, found)
        return found
    unsure: list[_Unsure] = []
    is_numbering = settled is None and any(is_numbered(text) for _, text in texts)
    for line, text in texts:
        try:
            several = several_in(text, is_settled=settled is Marks.RANGES)
        except BadSchedule as error:
            found.wrong.append((line, error.detail))
            continue
        if several is None:
            continue
        quantity = quantities[line] if quantities else None
        if is_numbering and several.is_open and "/" not in text and several.marks[0][-1:].isdecimal():
            found.notes.append(f"“{text}” (row {rows[line]}) is one mark, as others of its kind can be no range.")
            continue
        is_sure = settled is Marks.RANGES or not several.is_open
        if is_sure and (quantity in (None, len(several.marks)) or (quantity == 1 and settled)):
            found.several[line] = several.marks
        elif is_sure and quantity != 1:
            found.wrong.append((line, _clash(text, several, quantity)))
        else:
            unsure.append(_Unsure(line, text, several, quantity))
    if unsure:
        _ask(unsure, found, rows=rows, column=column)
    _note_ranges(found, marks, rows)
    return found


def _clash(text: str, several: Several, quantity: Any) -> str:
    count = len(several.marks)
    each, over = divmod(quantity, count) if isinstance(quantity, int) else (0, 1)
    readings = f"{each} of each or {quantity} of each" if not over else f"{quantity} in all or {quantity} of each"
    return (
        f"“{text}” names {count} marks ({shown(several.marks)}) but the quantity is {quantity}, which can mean "
        f"{readings}; give every mark a row of its own, or the quantity {count}"
    )


def _ask(unsure: list[_Unsure], found: Named, *, rows: Sequence[int], column: Column) -> None:
    """Ask once how all of them are meant, and go by the likelier reading."""
    are_ranges = all(one.can_be_range for one in unsure)
    first = unsure[0]
    count = len(first.several.marks)
    openings = f" with {first.quantity} openings" if first.quantity and first.quantity > 1 else ""
    more = f" There {'is 1 more' if len(unsure) == 2 else f'are {len(unsure) - 1} more'} like it." if unsure[1:] else ""
    found.questions.append(
        Question(
            field="marks",
            heading=column.text,
            detail=f"“{first.text}” in row {rows[first.line]} can mean {count} marks, {shown(first.several.marks)}, "
            f"with one opening each, or one mark as it is written{openings}; which?{more}",
            choices=tuple(way.value for way in (Marks if are_ranges else reversed(Marks))),
        )
    )
    if are_ranges:
        found.several.update((one.line, one.several.marks) for one in unsure)
    else:
        _refuse_long([(one.line, one.text) for one in unsure], found)


def _refuse_long(texts: Collection[tuple[int, str]], found: Named) -> None:
    for line, text in texts:
        if len(text) > MAX_MARK_LETTERS:
            detail = f"the mark as it is written has {len(text)} letters; at most {MAX_MARK_LETTERS} are kept"
            found.wrong.append((line, detail))


def _note_ranges(found: Named, marks: Sequence[Any], rows: Sequence[int]) -> None:
    if not found.several:
        return
    lines = sorted(found.several)
    examples = ", ".join(f"“{marks[line]}” (row {rows[line]})" for line in lines[:_MOST_NAMED])
    more = f" and {len(lines) - _MOST_NAMED} more" if len(lines) > _MOST_NAMED else ""
    found.notes.append(f"Taken as several marks with one opening each: {examples}{more}.")
