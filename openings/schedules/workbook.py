"""An .xlsx workbook → the rows of its window schedule.

Values come from calamine, which is fast but does not tell a formula without a saved value or an error from an
empty cell, nor hidden rows from others; those are looked up in the sheet's own XML.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import cast
from xml.etree import ElementTree

from python_calamine import CalamineError, CalamineSheet, CalamineWorkbook

from openings.errors import BadSchedule
from openings.schedules.archive import Archive, pack
from openings.schedules.extent import MAX_CELLS, check_extent
from openings.schedules.grid import Cell, Grid, Merge, Unread, column_index
from openings.schedules.headings import find_headings
from openings.schedules.rows import ScheduleRead
from openings.schedules.table import read_table

_DAMAGED = "The workbook cannot be read; open it in a spreadsheet program, save it again as .xlsx and send that."
_BOOK, _BOOK_RELATIONS = "xl/workbook.xml", "xl/_rels/workbook.xml.rels"
_PREFIX = re.compile(rb"<(\w+):worksheet\b")
_ROW = re.compile(rb"<row\b([^>]*)>")
_NUMBER = re.compile(rb"""\sr\s*=\s*["'](\d{1,7})["']""")
_HIDDEN = re.compile(rb"""\bhidden\s*=\s*["'](?:1|true)["']""")
_COLUMNS = re.compile(rb"<col\b([^>]*)>")
_SPAN = re.compile(rb"""\b(min|max)\s*=\s*["'](\d{1,7})["']""")
_ERROR_CELL = re.compile(rb'<c\b(?=[^>]*\bt="e")[^>]*\br="([A-Z]{1,3})(\d{1,7})"')
_EMPTY_FORMULA = re.compile(
    rb'<c\b(?![^>]*\bt="str")[^>]*\br="([A-Z]{1,3})(\d{1,7})"[^>]*>\s*'
    rb"<f\b(?:[^>]*/>|[^>]*>[^<]*</f>)\s*(?:<v\s*/>|<v>\s*</v>)?\s*</c>"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tab:
    name: str
    part: str
    is_hidden: bool


def read_workbook(content: bytes) -> ScheduleRead:
    """Return the window schedule of a workbook.

    Raises:
        BadSchedule: the file is no workbook, is too large once unpacked, carries macros, or holds no sheet
            with the headings of a schedule, or two of them.
    """
    archive = Archive(content)
    if _BOOK not in archive.names:
        raise BadSchedule("The file is a zip but no .xlsx workbook; save the schedule as .xlsx or .csv.")
    if "xl/vbaProject.bin" in archive.names or b"macroEnabled" in archive.read("[Content_Types].xml"):
        raise BadSchedule("The workbook carries macros; save it as a plain .xlsx without them.")
    tabs = _tabs(archive)
    shown = [tab for tab in tabs if not tab.is_hidden]
    notes = tuple(f"The hidden sheet “{tab.name}” was not read." for tab in tabs if tab.is_hidden)
    return read_table(_schedule_of(_grids(archive, shown), notes=notes))


def _tabs(archive: Archive) -> list[_Tab]:
    """Return the sheets that hold cells, in the order of the workbook."""
    parts = _targets(archive, "worksheet")
    found = []
    for sheet in _xml(archive, _BOOK).iterfind("{*}sheets/{*}sheet"):
        relation = next((value for key, value in sheet.items() if key.endswith("}id")), "")
        if part := parts.get(relation):
            is_hidden = sheet.get("state", "visible") != "visible"
            found.append(_Tab(name=sheet.get("name", ""), part=part, is_hidden=is_hidden))
    return found


def _targets(archive: Archive, kind: str) -> dict[str, str]:
    """Return the names of the workbook's parts of one kind, by the id of their relation."""
    targets = {
        relation.get("Id", ""): relation.get("Target", "")
        for relation in _xml(archive, _BOOK_RELATIONS)
        if relation.get("Type", "").endswith(f"/{kind}")
    }
    return {key: target[1:] if target.startswith("/") else f"xl/{target}" for key, target in targets.items()}


def _xml(archive: Archive, name: str) -> ElementTree.Element:
    try:
        # The archive refuses parts that declare entities.
        return ElementTree.fromstring(archive.read(name))  # noqa: S314
    except ElementTree.ParseError as error:
        raise BadSchedule(_DAMAGED) from error


def _grids(archive: Archive, tabs: list[_Tab]) -> list[Grid]:
    names = ["_rels/.rels", _BOOK, _BOOK_RELATIONS, *(tab.part for tab in tabs)]
    for kind in ("sharedStrings", "styles"):
        names.extend(_targets(archive, kind).values())
    parts = {name: part for name in names if (part := archive.read(name))}
    sheets = {tab.part: _without_prefix(parts.get(tab.part, b"")) for tab in tabs}
    for tab in tabs:
        check_extent(sheets[tab.part], name=tab.name)
    try:
        with CalamineWorkbook.from_filelike(pack(parts)) as book:
            return [_grid(book.get_sheet_by_name(tab.name), sheets[tab.part]) for tab in tabs]
    except (CalamineError, ValueError, OSError) as error:
        raise BadSchedule(_DAMAGED) from error


def _without_prefix(xml: bytes) -> bytes:
    """Return the XML of a sheet with bare tag names, as most programs write them."""
    prefix = _PREFIX.search(xml, 0, 2000)
    return xml.replace(prefix[1] + b":", b"") if prefix else xml


def _grid(sheet: CalamineSheet, xml: bytes) -> Grid:
    lines = cast(list[list[Cell]], sheet.to_python(skip_empty_area=False))
    if unread := dict(_unread(xml)):
        _mark(lines, unread)
    merges = tuple(
        Merge(top=top, left=left, bottom=bottom, right=right)
        for (top, left), (bottom, right) in sheet.merged_cell_ranges or []
    )
    return Grid(
        lines=lines,
        name=sheet.name,
        merges=merges,
        hidden_rows=tuple(_hidden_rows(xml)),
        hidden_columns=tuple(_hidden_columns(xml)),
    )


def _unread(xml: bytes) -> Iterator[tuple[tuple[int, int], Unread]]:
    """Yield the cells, by row and column from 0, that hold an error or a formula without a value."""
    for kind, sign, pattern in (
        (Unread.ERROR, b't="e"', _ERROR_CELL),
        (Unread.FORMULA, b"<f", _EMPTY_FORMULA),
    ):
        if sign in xml:
            for letters, row in pattern.findall(xml):
                yield (int(row) - 1, column_index(letters.decode())), kind


def _mark(lines: list[list[Cell]], unread: dict[tuple[int, int], Unread]) -> None:
    """Put the marks of unread cells in; those beyond the last value were cut off and are laid out again."""
    width = max(len(lines[0]) if lines else 0, 1 + max(column for _, column in unread))
    height = max(len(lines), 1 + max(row for row, _ in unread))
    if height * width > MAX_CELLS:
        raise BadSchedule(_DAMAGED)
    lines.extend([] for _ in range(height - len(lines)))
    for line in lines:
        line.extend([""] * (width - len(line)))
    for (row, column), kind in unread.items():
        lines[row][column] = kind


def _hidden_rows(xml: bytes) -> Iterator[int]:
    for attributes in _ROW.findall(xml) if b"hidden" in xml else ():
        if _HIDDEN.search(attributes) and (number := _NUMBER.search(attributes)):
            yield int(number[1]) - 1


def _hidden_columns(xml: bytes) -> Iterator[int]:
    for attributes in _COLUMNS.findall(xml, 0, xml.find(b"<sheetData")):
        if _HIDDEN.search(attributes):
            span = {side: int(number) for side, number in _SPAN.findall(attributes)}
            yield from range(span.get(b"min", 1) - 1, min(span.get(b"max", 0), 16_384))


def _schedule_of(grids: list[Grid], *, notes: tuple[str, ...]) -> Grid:
    """Return the one sheet that is a window schedule, with notes on the others."""
    found = [grid for grid in grids if find_headings(grid)]
    chosen = [grid for grid in found if "window" in grid.name.casefold()] if len(found) > 1 else found or grids
    if found and len(chosen) != 1:
        names = ", ".join(f"“{grid.name}”" for grid in chosen or found)
        raise BadSchedule(
            f"The sheets {names} all have the headings of a schedule; send one file for each, or name "
            "the one to read “Windows”."
        )
    if not chosen:
        raise BadSchedule("The workbook has no visible sheet with cells.")
    unread = [f"The sheet “{grid.name}” was not read." for grid in grids if grid is not chosen[0] and grid.lines]
    return replace(chosen[0], notes=(*notes, *unread))
