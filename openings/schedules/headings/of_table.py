"""Which column of a table is read for what."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from openings.calc.tape import LengthUnit
from openings.schedules.grid import column_letter
from openings.schedules.headings.plain import Heading
from openings.schedules.layout import Marks, Meaning, Totals

NEEDED = (
    "a mark (Mark, Tag, Window No.) and a size: RO Width and RO Height, Unit Width and Unit Height, "
    "or one column such as Rough Opening, Unit Size or Call Size"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column to be read: where it stands, its heading as written and what that means."""

    index: int
    text: str
    heading: Heading

    @property
    def letter(self) -> str:
        return column_letter(self.index)


@dataclass(frozen=True, slots=True, kw_only=True)
class Aside:
    """A column by whose values rows may be left out.

    Args:
        is_read: whether it is read for something else.
        leave_out: what a person settled; None if nobody did.
        is_between: whether it is the lines between the rows that say so, above what they head; they are asked about
            as the column of the marks.
    """

    index: int
    text: str
    is_read: bool
    is_between: bool = False
    leave_out: tuple[str, ...] | None = None

    @property
    def letter(self) -> str:
        return column_letter(self.index)


@dataclass(frozen=True, slots=True, kw_only=True)
class Headings:
    """The columns to read, and the lines (from 0) between which the rows stand.

    Args:
        columns: one for each meaning but counts.
        counts: columns that count the openings of one floor each.
        last_line: the line after the last that may belong to the table; None is the end of the sheet.
        unit: what bare lengths are in where the heading does not say.
        is_unit_stated: whether the sheet says so.
        marks: how marks such as W1-W4 are meant, if a person settled it.
        inches: columns of the inches of lengths whose feet stand in the column of that meaning.
        asides: columns by whose values rows may be left out.
        totals: what counts where a stated total differs from the rows, if a person settled it.
    """

    columns: Mapping[Meaning, Column]
    counts: tuple[Column, ...] = ()
    first_line: int
    last_line: int | None = None
    unit: LengthUnit
    is_unit_stated: bool = False
    marks: Marks | None = None
    totals: Totals | None = None
    inches: Mapping[Meaning, Column] = field(default_factory=dict)
    asides: tuple[Aside, ...] = ()
    notes: tuple[str, ...]
