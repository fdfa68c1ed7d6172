"""The values that every reader returns, for any kind of file."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from types import MappingProxyType

from jobs.errors import Fault
from openings.schedules.layout import Layout, Meaning

FactValue = str | int | bool | Decimal | tuple[Decimal, ...]

NO_FACTS: Mapping[str, FactValue] = MappingProxyType({})

MAX_MARK_LETTERS = 50
MOST_FAULTS = 2_000
"""So many wrong cells are listed; a file with more is wrong as a whole (our choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ScheduleRow:
    """One mark of a window schedule and how many openings carry it on one floor.

    Either the rough-opening pair or the unit pair may be None, never both and never half a pair.
    Sides are inches above 0, at most 40 ft.

    Args:
        row: counted from 1, as the user sees it; in a model the number of the entity (#1234).
        mark: several rows may carry the same one: as many openings more.
        facts: what else the row says of its openings, by the name of the opening's column; only what is given.
        sheet: where the row stands, if more than one table was read.
    """

    row: int
    mark: str
    quantity: int
    ro_width_in: Decimal | None
    ro_height_in: Decimal | None
    unit_width_in: Decimal | None
    unit_height_in: Decimal | None
    operation: str
    floor: str
    detail: str
    remarks: str
    weight_lb: Decimal | None
    facts: Mapping[str, FactValue] = field(default_factory=lambda: NO_FACTS)
    sheet: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnRead:
    """A column of the file: its heading as it stands there, and its letter."""

    heading: str
    letter: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnProposal:
    """What a column is taken to say, and how sure that is.

    Args:
        meaning: None if it is not read.
        unit: what its bare numbers are in; empty where that says nothing.
        confidence: from 0 to 1, two places; 1 where a person settled it.
        samples: the first three different values beneath the heading.
        choices: what else it may mean, likeliest first.
        table: the table it stands in.
    """

    letter: str
    heading: str
    meaning: Meaning | None
    unit: str = ""
    confidence: Decimal
    samples: tuple[str, ...] = ()
    choices: tuple[Meaning, ...] = ()
    table: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TableFound:
    """A place in the file that has the headings of a window schedule.

    Args:
        name: what a layout calls it, such as `Windows!5`: the sheet and the row of its headings; in a file
            without sheets the row alone. Tables side by side add the letter of their first column: `Windows!C5`.
        title: what stands above it.
        is_read: whether its rows were read.
    """

    name: str
    sheet: str
    title: str
    first_row: int
    last_row: int
    is_read: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What must be settled before the file can be taken.

    Args:
        field: where the answer goes in the layout: `tables`, `columns.B.meaning`, `columns.B.unit`, `marks`. What
            stands between the first and the last point is the key of the column, which may hold points itself.
        heading: the heading of the column that is meant, if one is.
        detail: the question, with every reading and an example from the file.
        choices: the answers, likeliest first; one for `tables` or `leave_out` may name several, with a comma and a
            space between.
        values: what stands in the column, and in how many rows, where that is asked about.
    """

    field: str
    heading: str = ""
    detail: str
    choices: tuple[str, ...] = ()
    values: Mapping[str, int] = dataclasses.field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class WrongLine:
    """A row of the file in which something is wrong: what stands beneath each heading that is read."""

    row: int
    table: str = ""
    cells: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ScheduleRead:
    """A window schedule as it was understood.

    Args:
        rows: the rows without a fault, in the order of the file.
        faults: everything wrong, by row and then by column.
        columns: what was read (such as `ro_width_in`) and from which column.
        notes: what was passed over, filled in or assumed, in sentences.
        questions: what is asked; the rows then go by the likeliest answers, and the file cannot be taken.
        proposal: every column with a heading, from left to right.
        tables: every table found.
        layout: what was settled and found, whole: reading the file by it gives the same without a question.
        fingerprint: the same for files that one sender lays out alike: their headings and where these stand.
        wrong_lines: the rows that the faults name, so that they can be looked at without the file; the first 500.
    """

    rows: tuple[ScheduleRow, ...]
    faults: tuple[Fault, ...]
    columns: Mapping[str, ColumnRead]
    notes: tuple[str, ...]
    questions: tuple[Question, ...] = ()
    proposal: tuple[ColumnProposal, ...] = ()
    tables: tuple[TableFound, ...] = ()
    layout: Layout = field(default_factory=Layout)
    fingerprint: str = ""
    wrong_lines: tuple[WrongLine, ...] = ()


def first_faults(faults: Sequence[Fault]) -> tuple[Fault, ...]:
    """Return the faults, or as many as anybody reads and how many more there are."""
    if len(faults) <= MOST_FAULTS + 1:
        return tuple(faults)
    more = f"{len(faults) - MOST_FAULTS:,} more cells are wrong; correct these first"
    return (*faults[:MOST_FAULTS], Fault(field="", detail=more))
