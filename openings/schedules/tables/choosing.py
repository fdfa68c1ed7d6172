"""Which of the tables of a file to read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from openings.errors import BadSchedule
from openings.schedules.grid import Grid
from openings.schedules.headings.levels import floor_within
from openings.schedules.layout import Layout
from openings.schedules.rows import Question
from openings.schedules.tables.missing import what_is_missing
from openings.schedules.tables.naming import joined_names, table_of_columns, tables_named, tables_remembered
from openings.schedules.tables.table import Kind, Table, continues, is_apart

_LOOKED_AT_LINES = 200
_MOST_NAMED = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """The tables to read, and what must be asked about it."""

    tables: Sequence[Table]
    question: Question | None = None


def chosen_tables(found: Sequence[Table], grids: Sequence[Grid], settled: Layout, remembered: Layout) -> Chosen:
    """Return the tables to read: those that are settled, those that an earlier file settled, or the likeliest.

    Raises:
        BadSchedule: there is none, or none of a name that is settled.
    """
    if settled.tables:
        return Chosen(tables=tables_named(settled.tables, found, grids, settled))
    possible = _possible(found)
    named = tables_remembered(remembered.tables, found)
    passed = {table.name for table in tables_remembered(remembered.left_out, found)}
    if named:
        new = [table for table in possible if table not in named and table.name not in passed]
        both = [table for table in found if table in named or table in new]
        if not new:
            return Chosen(tables=named)
        choices = [both, named] if _belong_together(both) else [named, both]
        return Chosen(tables=choices[0], question=_question(both, choices))
    if not possible:
        return Chosen(tables=[_by_columns(found, grids, settled, remembered)])
    if len(possible) == 1 or _is_one_list(possible):
        return Chosen(tables=possible)
    singly = [[table] for table in sorted(possible, key=lambda table: is_apart(table.title))]
    if _belong_together(possible):
        return Chosen(tables=possible, question=_question(possible, [possible, *singly]))
    return Chosen(tables=singly[0], question=_question(possible, [*singly, possible]))


def floor_of(table: Table) -> str:
    """Return the floor or building that the title of a table or the name of its sheet names, or nothing."""
    return floor_within(table.title) or floor_within(table.grid.name)


def _possible(found: Sequence[Table]) -> list[Table]:
    """Return the tables that may be meant: of windows, failing that of nothing said; with rows, if any has some.

    In the sheet of a table of windows, and beside one of a single floor, others may be meant that say nothing.
    """
    unlike = [table for table in found if table.kind in (Kind.WINDOWS, Kind.UNSAID)]
    windows = [table for table in unlike if table.kind is Kind.WINDOWS] or unlike
    sheets = {table.order for table in windows}
    are_floors = all(map(floor_of, windows))
    windows = [table for table in unlike if table.order in sheets or (are_floors and floor_of(table))]
    return [table for table in windows if _has_rows(table)] or windows


def _has_rows(table: Table) -> bool:
    last = len(table.grid.lines) if table.last_line is None else table.last_line
    lines = table.grid.lines[table.block.bottom : min(last, table.block.bottom + _LOOKED_AT_LINES)]
    return any(sum(1 for index in table.block.texts if line[index] != "") > 1 for line in lines)


def _by_columns(found: Sequence[Table], grids: Sequence[Grid], settled: Layout, remembered: Layout) -> Table:
    """Return the table whose columns are settled, though its headings say nothing."""
    for layout in (settled, remembered):
        if table := table_of_columns(grids, layout):
            return table
    if found:
        names = ", ".join(f"“{table.name}”" for table in found)
        raise BadSchedule(
            f"The file has no schedule of windows, but others: {names}; if one is meant, name it in the mapping."
        )
    raise BadSchedule(what_is_missing(grids))


def _is_one_list(tables: Sequence[Table]) -> bool:
    """Return whether tables of a sheet are headed alike and go on from one to the next.

    They do side by side, further down under the same title, and floor by floor.
    """
    first = tables[0]
    if any(table.grid is not first.grid or _texts(table) != _texts(first) for table in tables):
        return False
    floors = {floor_within(table.title).casefold() for table in tables}
    return (len(floors) == len(tables) and "" not in floors) or all(
        (not table.title and table.block.top == first.block.top) or continues(table.title or "-", first.title)
        for table in tables[1:]
    )


def _texts(table: Table) -> list[str]:
    return [text for _, text in table.headings]


def _belong_together(tables: Sequence[Table]) -> bool:
    """Return whether each table names another floor or building, or those further down have no title of their own."""
    floors = {floor_of(table).casefold() for table in tables}
    are_floors = len(floors) == len(tables) and "" not in floors
    return are_floors or all(table.grid is tables[0].grid and not table.title for table in tables[1:])


def _question(tables: Sequence[Table], choices: Sequence[Sequence[Table]]) -> Question:
    named = ", ".join(
        f"“{table.name}”" + (f" ({table.title[:60]})" if table.title else "") for table in tables[:_MOST_NAMED]
    )
    read = ", ".join(f"“{table.name}”" for table in choices[0][:_MOST_NAMED])
    return Question(
        field="tables",
        detail=f"{len(tables)} tables may be schedules of windows: {named}. Which are to be read? Here it is {read}.",
        choices=tuple(joined_names(choice) for choice in choices),
    )
