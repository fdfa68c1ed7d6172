"""Sheets of cells → the window schedule in them, whatever kind of file they come from."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from jobs.errors import Fault
from openings.errors import BadSchedule
from openings.schedules.columns.found import Found, found_in
from openings.schedules.grid import Grid
from openings.schedules.layout import Layout, Meaning
from openings.schedules.lines.table import TableRead, read_table
from openings.schedules.outcome import fingerprint_of, layout_of_found, proposal_of, table_found, with_keys
from openings.schedules.rows import ColumnRead, Question, ScheduleRead, ScheduleRow, WrongLine
from openings.schedules.tables.choosing import chosen_tables, floor_of
from openings.schedules.tables.finding import tables_in
from openings.schedules.tables.naming import columns_settled
from openings.schedules.tables.table import Kind, Table

REMEMBERED = "The file is laid out like an earlier one; the answers given for that one are used again."


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """One table as it was found and read."""

    found: Found
    read: TableRead
    label: str


def read_grids(
    grids: Sequence[Grid],
    *,
    settled: Layout,
    remembered: Mapping[str, Layout],
    kind: str,
    notes: tuple[str, ...] = (),
) -> ScheduleRead:
    """Return the window schedule that sheets hold.

    Args:
        settled: what a person says about this file.
        remembered: what was settled about earlier ones, by fingerprint; of use where that is the same.
        kind: what kind of file it is; files of two kinds are never laid out alike.
        notes: what was noted about the file before.

    Raises:
        BadSchedule: there is no table of windows, or no rows in it; what is settled names a table or column that
            is not there, or contradicts itself.
    """
    tables = [table for order, grid in enumerate(grids) for table in tables_in(grid, order=order)]
    earlier = _remembered(tables, grids, settled, remembered, kind=kind)
    chosen = chosen_tables(tables, grids, settled, earlier)
    by_person = columns_settled(settled, chosen.tables, strictly=True)
    by_earlier = columns_settled(earlier, chosen.tables, strictly=False)
    marks = settled.marks or earlier.marks
    found = [
        found_in(table, {**before, **now}, marks=marks, totals=settled.totals)
        for table, now, before in zip(chosen.tables, by_person, by_earlier, strict=True)
    ]
    parts = _parts(found)
    everything = [*tables, *(table for table in chosen.tables if table not in tables)]
    questions = [*([chosen.question] if chosen.question else []), *_questions(parts)]
    read = {part.found.table.name for part in parts}
    return ScheduleRead(
        rows=tuple(row for part in parts for row in _rows(part, is_alone=len(parts) == 1)),
        faults=tuple(fault for part in parts for fault in _faults(part, is_alone=len(parts) == 1)),
        columns=_columns(parts),
        notes=(*notes, *_notes_on_file(grids, everything, parts, earlier), *_notes(parts)),
        questions=tuple(questions),
        proposal=tuple(proposal_of([part.found for part in parts])),
        tables=tuple(table_found(table, is_read=table.name in read) for table in everything),
        layout=layout_of_found(
            [part.found for part in parts], everything, questions, marks=marks, totals=settled.totals
        ),
        fingerprint=fingerprint_of([part.found.table for part in parts], kind=kind),
        wrong_lines=tuple(line for part in parts for line in _wrong_lines(part, is_alone=len(parts) == 1)),
    )


def _remembered(
    tables: Sequence[Table], grids: Sequence[Grid], settled: Layout, remembered: Mapping[str, Layout], *, kind: str
) -> Layout:
    """Return the layout of an earlier file that has the same headings where it was read."""
    for fingerprint, layout in remembered.items():
        try:
            chosen = chosen_tables(tables, grids, settled, layout)
        except BadSchedule:
            continue
        if fingerprint and fingerprint_of(chosen.tables, kind=kind) == fingerprint:
            return layout
    return Layout()


def _parts(found: Sequence[Found]) -> list[_Part]:
    """Read each table, and return the parts; of several tables those that have rows.

    Raises:
        BadSchedule: none has rows.
    """
    sheets = Counter(one.table.grid.name for one in found)
    parts: list[_Part] = []
    empty: list[str] = []
    for one in found:
        grid, table = one.grid, one.table
        try:
            read = read_table(grid, one.headings)
        except BadSchedule:
            if len(found) == 1 or (one is found[-1] and not parts):
                raise
            empty.append(table.name)
            continue
        label = grid.name if grid.name and sheets[grid.name] == 1 else table.name
        parts.append(_Part(found=one, read=read, label=label))
    if empty:
        note = f"There are no rows in {', '.join(f'“{name}”' for name in empty)}."
        parts[0] = replace(parts[0], read=replace(parts[0].read, notes=(note, *parts[0].read.notes)))
    return parts


def _rows(part: _Part, *, is_alone: bool) -> Sequence[ScheduleRow]:
    if is_alone:
        return part.read.rows
    floor = _floor_of_rows(part)
    return [replace(row, sheet=part.label, floor=row.floor or floor) for row in part.read.rows]


def _floor_of_rows(part: _Part) -> str:
    """Return the floor of rows in a table of several that gives none itself."""
    gives_floor = Meaning.FLOOR in part.found.headings.columns or part.found.headings.counts
    return "" if gives_floor else floor_of(part.found.table)


def _faults(part: _Part, *, is_alone: bool) -> Sequence[Fault]:
    if is_alone:
        return part.read.faults
    return [replace(fault, field=f"{part.label} › {fault.field}") for fault in part.read.faults]


def _wrong_lines(part: _Part, *, is_alone: bool) -> Sequence[WrongLine]:
    lines = part.read.wrong_lines
    return lines if is_alone else [replace(line, table=part.label) for line in lines]


def _columns(parts: Sequence[_Part]) -> dict[str, ColumnRead]:
    """Return the column that each meaning was read from; the first table counts."""
    columns: dict[str, ColumnRead] = {}
    for part in parts:
        for meaning, column in part.found.headings.columns.items():
            columns.setdefault(meaning.value, ColumnRead(heading=column.text, letter=column.letter))
        if counts := part.found.headings.counts:
            texts, letters = (", ".join(said) for said in zip(*((one.text, one.letter) for one in counts), strict=True))
            columns.setdefault(Meaning.COUNT_ON_FLOOR.value, ColumnRead(heading=texts, letter=letters))
    return columns


def _questions(parts: Sequence[_Part]) -> list[Question]:
    """Return the questions about columns and marks, each once, with keys that hold for its table alone if need be."""
    tables = [part.found.table for part in parts]
    asked: dict[str, Question] = {}
    for part in parts:
        for question in with_keys((*part.found.questions, *part.read.questions), part.found.table, tables):
            first = asked.setdefault(question.field, question)
            if first is not question and question.field == "totals":
                asked["totals"] = replace(first, detail=f"{first.detail} {question.detail}")
    return list(asked.values())


def _notes_on_file(
    grids: Sequence[Grid], tables: Sequence[Table], parts: Sequence[_Part], earlier: Layout
) -> list[str]:
    read = [part.found.table for part in parts]
    notes = [REMEMBERED] if earlier != Layout() else []
    names = {table.name for table in read}
    for table in tables:
        if table.name not in names:
            what = f" ({table.title[:60]})" if table.title else ""
            why = f", for it lists {table.kind.value}" if table.kind in (Kind.DOORS, Kind.OTHERS) else ""
            notes.append(f"The table “{table.name}”{what} was not read{why}.")
    with_tables = {table.order for table in tables}
    notes.extend(
        f"The sheet “{grid.name}” was not read."
        for order, grid in enumerate(grids)
        if order not in with_tables and any(map(any, grid.lines))
    )
    if len(parts) > 1:
        notes.append(f"Read together: {', '.join(f'“{table.name}”' for table in read)}.")
    return notes


def _notes(parts: Sequence[_Part]) -> list[str]:
    notes: dict[str, None] = {}
    for part in parts:
        about = (*part.found.table.grid.notes, *part.found.headings.notes, *part.read.notes)
        if len(parts) > 1 and (floor := _floor_of_rows(part)):
            about = (*about, f"Its rows are given the floor “{floor}”, which the title or the sheet names.")
        for note in about:
            notes[note if len(parts) == 1 else f"{part.label}: {note}"] = None
    return list(notes)
