"""What every reader gives back, whatever the kind of file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from jobs.errors import Fault


@dataclass(frozen=True, slots=True, kw_only=True)
class ScheduleRow:
    """One row of a window schedule: a mark and how many openings carry it.

    Either the rough-opening pair or the unit pair may be None, never both and never half a pair.
    Sides are inches above 0, at most 40 ft. `row` counts from 1, as the user sees it.
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


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnRead:
    """A column of the file: its heading as it stands there, and its letter."""

    heading: str
    letter: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ScheduleRead:
    """A window schedule as it was understood.

    Args:
        rows: the rows without a fault, in the order of the file.
        faults: everything wrong, by row and then by column; empty if the schedule can be taken.
        columns: what was read (such as `ro_width_in`) and from which column.
        notes: what was passed over, filled in or assumed, in sentences.
    """

    rows: tuple[ScheduleRow, ...]
    faults: tuple[Fault, ...]
    columns: Mapping[str, ColumnRead]
    notes: tuple[str, ...]
