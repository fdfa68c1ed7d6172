"""The names that a layout gives to tables and columns → the tables and columns of a file."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from jobs.errors import Fault
from openings.errors import BadSchedule
from openings.schedules.grid import Grid, column_index, column_letter
from openings.schedules.layout import ColumnAnswer, Layout
from openings.schedules.tables.blocks import text_of
from openings.schedules.tables.enough import is_enough
from openings.schedules.tables.finding import table_at
from openings.schedules.tables.heading_lines import SEARCHED_LINES
from openings.schedules.tables.table import Kind, Table, meaning_of, row_number

BETWEEN_NAMES = ", "
"""Stands between the names of tables where one answer names several."""

_LETTER = re.compile(r"[A-Z]{1,3}")
_PLACE = re.compile(r"(?:(?P<sheet>.*)!)?(?P<letter>[A-Z]{1,3})?(?P<row>\d{1,7})", re.DOTALL)
_HAS_DIGIT = re.compile(r"\d")

Settled = dict[int, ColumnAnswer]
"""What is settled about the columns of one table, by index."""


def tables_named(names: Sequence[str], found: Sequence[Table], grids: Sequence[Grid], layout: Layout) -> list[Table]:
    """Return the tables that a layout names, in the order of the file.

    A name is that of a table; or that of a sheet, for the tables of windows in it; or several names with
    `BETWEEN_NAMES` between them; or a place where headings stand that mean nothing without the layout's columns.

    Raises:
        BadSchedule: there is none of that name; the sentence lists those there are.
    """
    tables: dict[str, Table] = {}
    for name in names:
        named = _named(name, found) or _unheaded(name, grids, layout)
        if not named:
            there = ", ".join(f"“{table.name}”" for table in found) or "none"
            sentence = f"There is no table “{name[:80]}”; there are: {there}"
            raise BadSchedule(sentence, faults=[Fault(field="mapping.tables", value=name[:80], detail=sentence)])
        tables.update((table.name, table) for table in named)
    return sorted(tables.values(), key=lambda table: (table.order, table.block.top, table.reach.start))


def tables_remembered(names: Sequence[str], found: Sequence[Table]) -> list[Table]:
    """Return the tables that a layout of an earlier file names; a title more or less may have moved them."""
    tables: list[Table] = []
    for name in names:
        named = _named(name, found)
        if not named:
            sheet = _folded(name.rpartition("!")[0])
            named = [table for table in found if _folded(table.grid.name) == sheet]
            named = named if len(named) == 1 else []
        tables.extend(table for table in named if table not in tables)
    return tables


def table_of_columns(grids: Sequence[Grid], layout: Layout) -> Table | None:
    """Return the table whose columns a layout settles, though no heading of it is understood.

    Its headings stand on the first line that has those the layout names. A layout of letters alone means the first
    line that is filled in all of them; figures for a size show that it is a row and no headings stand above it.
    """
    keys = [key for key, says in layout.columns.items() if says.meaning]
    for order, grid in enumerate(grids):
        width = len(grid.lines[0]) if grid.lines else 0
        for number, line in enumerate(grid.lines[:SEARCHED_LINES]):
            texts = {_folded(text_of(cell)) for cell in line}
            letters = [column_index(key) for key in keys if _is_letter(key, width) and _folded(key) not in texts]
            headings = [key for key in keys if not (_is_letter(key, width) and _folded(key) not in texts)]
            if not keys or any(_folded(key) not in texts for key in headings) or any(line[at] == "" for at in letters):
                continue
            is_row = not headings and any(
                not isinstance(line[at], str) or _HAS_DIGIT.search(str(line[at])) for at in letters
            )
            return table_at(grid, number - 1 if is_row else number, order=order)
    return None


def columns_settled(layout: Layout, tables: Sequence[Table], *, strictly: bool) -> list[Settled]:
    """Return the settled answers for the columns of each table.

    A key is the letter of a column or its heading, which holds for all tables that have it, or `table:letter`.
    The last counts most and the heading least.

    Args:
        strictly: whether a key that means no column is refused; else it is passed over.

    Raises:
        BadSchedule: a key means no column, or a heading stands over several.
    """
    settled: list[dict[int, tuple[int, ColumnAnswer]]] = [{} for _ in tables]
    places = [_places(table) for table in tables]
    faults = []
    there = _columns_there(tables)
    for key, says in layout.columns.items():
        meant = [
            (number, *one) for number, table in enumerate(tables) for one in _columns_meant(key, table, places[number])
        ]
        headed = [one for one in meant if one[1] in tables[one[0]].block.texts]
        meant = headed or meant
        for number, index, weight in meant:
            if weight >= settled[number].get(index, (0, says))[0]:
                settled[number][index] = (weight, says)
        problem = "" if meant else f"there is no column “{key[:80]}”; there are: {there}"
        for number in range(len(tables)):
            same = [at for where, at, weight in meant if (where, weight) == (number, _HEADING)]
            if len(same) > 1:
                letters = " and ".join(map(column_letter, same))
                problem = f"the columns {letters} are headed “{key[:80]}” alike; name them by letter"
        if problem:
            faults.append(Fault(field=f"mapping.columns.{key}", value=key[:80], detail=problem))
    if faults and strictly:
        raise BadSchedule(f"The mapping cannot be used: {faults[0].detail}.", faults=faults)
    return [{index: says for index, (_, says) in columns.items()} for columns in settled]


_MOST_NAMED = 60
"""So many columns a sentence names."""

_HEADING, _BY_LETTER, _BY_TABLE = 1, 2, 3


def _places(table: Table) -> dict[str, list[int]]:
    """Return the place of each heading of a table."""
    places: dict[str, list[int]] = {}
    for at, text in table.block.texts.items():
        places.setdefault(_folded(text), []).append(at)
    return places


def _columns_meant(key: str, table: Table, places: Mapping[str, list[int]]) -> list[tuple[int, int]]:
    """Return the columns of a table that a key means, and how much it counts."""
    name, _, rest = key.rpartition(":")
    if name and _folded(name) == _folded(table.name) and _LETTER.fullmatch(rest):
        return [(column_index(rest), _BY_TABLE)]
    headed = [(at, _HEADING) for at in places.get(_folded(key), ())]
    width = len(table.grid.lines[0]) if table.grid.lines else 0
    if _is_letter(key, width):
        index = column_index(key)
        if index in table.block.texts or (not headed and (table.columns is None or index in table.columns)):
            return [(index, _BY_LETTER)]
    return headed


def _columns_there(tables: Sequence[Table]) -> str:
    there = {f"“{text}” ({column_letter(at)})": None for table in tables for at, text in table.block.texts.items()}
    more = f" and {len(there) - _MOST_NAMED} more" if len(there) > _MOST_NAMED else ""
    return ", ".join(list(there)[:_MOST_NAMED]) + more or "none with a heading"


def _named(name: str, found: Sequence[Table]) -> list[Table]:
    wanted = _folded(name)
    by_name = {_folded(table.name): table for table in found}
    if wanted in by_name:
        return [by_name[wanted]]
    in_sheet = [table for table in found if _folded(table.grid.name) == wanted]
    if in_sheet:
        return [table for table in in_sheet if table.kind in (Kind.WINDOWS, Kind.UNSAID)] or in_sheet
    return [by_name[one] for one in _taken_apart(wanted, sorted(by_name, key=len, reverse=True))]


def _taken_apart(wanted: str, names: Sequence[str]) -> list[str]:
    """Return the names of which a text consists, with `BETWEEN_NAMES` between them; none if it does not.

    Args:
        names: those that come first are preferred.
    """
    text = f"{wanted}{BETWEEN_NAMES}"
    ends: dict[int, list[tuple[str, int]]] = {}
    begins = [0]
    for at in begins:  # which grows while it is gone through
        if at not in ends:
            parts = ((one, f"{one}{BETWEEN_NAMES}") for one in names)
            ends[at] = [(one, at + len(part)) for one, part in parts if text.startswith(part, at)]
            begins.extend(end for _, end in ends[at])
    next_name: dict[int, tuple[str, int]] = {}
    for at in sorted(ends, reverse=True):
        for one, end in ends[at]:
            if end == len(text) or end in next_name:
                next_name.setdefault(at, (one, end))
    found: list[str] = []
    at = 0
    while at in next_name:
        one, at = next_name[at]
        found.append(one)
    return found


def _unheaded(name: str, grids: Sequence[Grid], layout: Layout) -> list[Table]:
    """Return the table at a place where the layout says what the columns mean, or headings do after all."""
    place = _PLACE.fullmatch(name.strip())
    if not place:
        return []
    for order, grid in enumerate(grids):
        if _folded(grid.name) != _folded(place["sheet"] or "") and (place["sheet"] or len(grids) > 1):
            continue
        numbers = {row_number(grid, line): line for line in range(len(grid.lines))}
        line = numbers.get(int(place["row"]), -1)
        if line < 0 and int(place["row"]) != 0:
            continue
        columns = range(column_index(place["letter"]), len(grid.lines[0])) if place["letter"] else None
        table = table_at(grid, line, columns=columns, order=order)
        [settled] = columns_settled(layout, [table], strictly=False)
        plain = {index: meaning_of(text) for index, text in table.block.texts.items()}
        says = {**plain, **{index: one.meaning for index, one in settled.items()}}
        if is_enough({meaning for meaning in says.values() if meaning}):
            return [table]
    return []


def _is_letter(key: str, width: int) -> bool:
    return _LETTER.fullmatch(key) is not None and column_index(key) < width


def _folded(text: str) -> str:
    return " ".join(text.split()).casefold()


def joined_names(tables: Iterable[Table]) -> str:
    """Return the one answer that names several tables."""
    return BETWEEN_NAMES.join(table.name for table in tables)
