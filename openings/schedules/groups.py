"""The lines of a difference as a person looks at them: the same change of many openings is one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

Line = Mapping[str, Any]
"""A line of a difference as it is kept: `DifferenceLine` as JSON."""


BETWEEN_TABLE_AND_HEADING = " › "
"""In the field of a fault, where several tables were read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Openings of one schedule mark with which the same happens.

    Args:
        key: names the group among those of its list.
        values: column, old and new value of everything that differs.
        hindrance: why it cannot be done; empty if it can.
        follows: what else happens.
    """

    key: str
    change: str
    schedule_mark: str
    values: tuple[tuple[str, Any, Any], ...]
    hindrance: str
    follows: str
    lines: tuple[Line, ...]

    @property
    def marks(self) -> list[str]:
        """Return the marks of its openings, in the order of the difference."""
        return [line["mark"] for line in self.lines]


def grouped(lines: Iterable[Line], *, most: int | None = None) -> list[Group]:
    """Return lines in groups, in the order in which the first of each stands.

    >>> line = {"schedule_mark": "W1", "old": {"floor": "1"}, "new": {"floor": "2"}, "hindrance": "", "follows": ""}
    >>> lines = [line | {"change": "changed", "mark": mark} for mark in ("W1-01", "W1-02")]
    >>> [(group.key, group.marks, group.values) for group in grouped(lines)]
    [('changed-0', ['W1-01', 'W1-02'], (('floor', '1', '2'),))]

    Args:
        most: how many lines at most; None takes all.
    """
    found: dict[str, list[Line]] = {}
    for number, line in enumerate(lines):
        if number == most:
            break
        said = (line["change"], line["schedule_mark"], line["old"], line["new"], line["hindrance"], line["follows"])
        found.setdefault(repr(said), []).append(line)
    return [_group(f"{alike[0]['change']}-{number}", alike) for number, alike in enumerate(found.values())]


def _group(key: str, lines: Sequence[Line]) -> Group:
    first = lines[0]
    return Group(
        key=key,
        change=first["change"],
        schedule_mark=first["schedule_mark"],
        values=tuple((name, old, first["new"].get(name)) for name, old in first["old"].items()),
        hindrance=first["hindrance"],
        follows=first["follows"],
        lines=tuple(lines),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class WrongRow:
    """A row of the file with every fault in it: heading, text of the cell, and what would be right.

    Args:
        cells: all that it says: heading, what stands there, and whether that is wrong; empty where it is not known.
    """

    table: str
    row: int | None
    faults: tuple[tuple[str, str, str], ...]
    cells: tuple[tuple[str, str, bool], ...] = ()


def wrong_rows(faults: Iterable[Line], lines: Iterable[Line] = ()) -> list[WrongRow]:
    """Return faults by the row that they stand in, in the order of the file.

    >>> fault = {"field": "RO Width", "row": 3, "value": "wide", "detail": "give a length like 3' 0\\""}
    >>> [(wrong.row, wrong.faults) for wrong in wrong_rows([fault])]
    [(3, (('RO Width', 'wide', 'give a length like 3\\' 0"'),))]

    Args:
        lines: the rows as they stand in the file, `WrongLine` as JSON.
    """
    cells = {(line["table"], line["row"]): line["cells"] for line in lines}
    found: dict[tuple[str, int | None], list[tuple[str, str, str]]] = {}
    for fault in faults:
        table, _, heading = fault["field"].rpartition(BETWEEN_TABLE_AND_HEADING)
        found.setdefault((table, fault["row"]), []).append((heading, fault["value"], fault["detail"]))
    return [
        WrongRow(
            table=table,
            row=row,
            faults=tuple(wrong),
            cells=tuple(
                (heading, text, any(heading == at for at, _, _ in wrong))
                for heading, text in cells.get((table, row or 0), ())
            ),
        )
        for (table, row), wrong in found.items()
    ]
