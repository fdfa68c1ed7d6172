"""Lines of a schedule → rows: one for each mark that a line names, or for each floor that it counts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from openings.schedules.lines.counts import Counts


@dataclass(slots=True)
class Openings:
    """What each row carries of its own, column by column; all else it takes from its line.

    Args:
        lines: the line that each row comes from.
    """

    lines: Sequence[int]
    marks: Sequence[Any]
    quantities: Sequence[Any]
    floors: Sequence[Any]

    def of(self, values: Sequence[Any]) -> Sequence[Any]:
        """Return a column of the lines as a column of the rows."""
        return values if isinstance(self.lines, range) else [values[line] for line in self.lines]


def unfolded(
    marks: Sequence[Any],
    *,
    quantities: Sequence[Any],
    floors: Sequence[Any],
    several: Mapping[int, tuple[str, ...]],
    counts: Counts | None,
) -> Openings:
    """Return the rows, in the order of the lines.

    Args:
        marks, quantities, floors: of each line.
        several: the marks of lines that name more than one; each is one opening.
        counts: how many openings each line has on each floor, where that is counted.
    """
    if not several and not counts:
        return Openings(range(len(marks)), marks, quantities, floors)
    lines: list[int] = []
    columns: tuple[list[Any], list[Any], list[Any]] = ([], [], [])
    for line, mark in enumerate(marks):
        counted = counts.lines[line] if counts else ()
        for floor, quantity in counted or ((floors[line], quantities[line]),):
            own = [(one, 1, floor) for one in several[line]] if line in several else [(mark, quantity, floor)]
            lines.extend([line] * len(own))
            for column, values in zip(columns, zip(*own, strict=True), strict=True):
                column.extend(values)
    return Openings(lines, *columns)


def spread(several: Mapping[int, tuple[str, ...]], counts: Counts | None) -> Iterator[tuple[int, str]]:
    """Yield the lines of which nobody can tell which of their marks stands on which floor, and what would be right."""
    for line, marks in several.items() if counts else ():
        if counts and len(counts.lines[line]) > 1:
            floors = " and ".join(f"{count} on “{floor}”" for floor, count in counts.lines[line])
            yield line, f"the row names {len(marks)} marks but counts {floors}; give each mark a row of its own"
