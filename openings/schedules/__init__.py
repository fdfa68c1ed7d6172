"""Window schedules: read as people send them, laid out as a person settles, compared, and written out again.

This is the one door; nothing outside imports from a module inside. Its names, by use:

- Read: `read_apart` reads a file in a process of its own within a `Budget`, `read_schedule` in this one; both return
  a `ScheduleRead` of `ScheduleRow`s. `check_file_size` refuses what is too large before anything is read.
- Read other lists (crews, products): `read_cells` gives the sheets of a file as rows of text, likewise apart;
  `listed_rows` finds the headings asked for and gives a row for each line beneath.
- Layout: `layout_of` reads what a person settled about a file into a `Layout`, column by `Meaning`.
- Difference: `matched` finds the opening that each row means; a `DifferenceLine` says what a revision changes.
- Keep and show: `packed` and `unpacked` store a difference, `grouped` and `wrong_rows` draw it together for a page,
  `meaning_name` and `counts_in_words` put it in words.
- Write: `schedule_xlsx` and `schedule_csv` write openings as a schedule that reads back the same.
"""

from __future__ import annotations

from openings.schedules.apart import FOR_A_PAGE, FOR_A_REQUEST, FOR_A_WORKER, Budget, read_apart, read_cells
from openings.schedules.cells import CellRow, CellSheet, ListedRow, ListRead, listed_rows
from openings.schedules.difference import APPLIED, Change, DifferenceLine, Existing, Matched, Pair, Values, matched
from openings.schedules.groups import Group, Line, WrongRow, grouped, wrong_rows
from openings.schedules.kept import packed, packed_rows, unpacked, unpacked_rows
from openings.schedules.layout import (
    LENGTHS,
    LONGEST_FLOOR,
    NOT_READ,
    NOTHING,
    PAIRS,
    SIDES_IN,
    WHOLE_SIZES,
    Layout,
    Meaning,
    layout_of,
    units_for,
)
from openings.schedules.readers import check_file_size, read_schedule
from openings.schedules.rows import MAX_MARK_LETTERS, ScheduleRead, ScheduleRow, first_faults
from openings.schedules.words import (
    MARKS_NAMES,
    MEANING_GROUPS,
    MEANING_NAMES,
    TOTALS_NAMES,
    UNIT_NAMES,
    counts_in_words,
    in_order,
    meaning_name,
    parts_of,
)
from openings.schedules.written import WrittenOpening, schedule_csv, schedule_xlsx, table_csv

__all__ = [
    "APPLIED",
    "FOR_A_PAGE",
    "FOR_A_REQUEST",
    "FOR_A_WORKER",
    "LENGTHS",
    "LONGEST_FLOOR",
    "MARKS_NAMES",
    "MAX_MARK_LETTERS",
    "MEANING_GROUPS",
    "MEANING_NAMES",
    "NOTHING",
    "NOT_READ",
    "PAIRS",
    "SIDES_IN",
    "TOTALS_NAMES",
    "UNIT_NAMES",
    "WHOLE_SIZES",
    "Budget",
    "CellRow",
    "CellSheet",
    "Change",
    "DifferenceLine",
    "Existing",
    "Group",
    "Layout",
    "Line",
    "ListRead",
    "ListedRow",
    "Matched",
    "Meaning",
    "Pair",
    "ScheduleRead",
    "ScheduleRow",
    "Values",
    "WrittenOpening",
    "WrongRow",
    "check_file_size",
    "counts_in_words",
    "first_faults",
    "grouped",
    "in_order",
    "layout_of",
    "listed_rows",
    "matched",
    "meaning_name",
    "packed",
    "packed_rows",
    "parts_of",
    "read_apart",
    "read_cells",
    "read_schedule",
    "schedule_csv",
    "schedule_xlsx",
    "table_csv",
    "units_for",
    "unpacked",
    "unpacked_rows",
    "wrong_rows",
]
