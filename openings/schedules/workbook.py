"""An .xlsx workbook → the rows of its window schedule.

Values come from calamine, which is fast but does not tell a formula without a saved value or an error from an
empty cell, nor hidden rows from others; those are looked up in the sheet's own XML.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import cast
from xml.etree import ElementTree

from python_calamine import CalamineError, CalamineSheet, CalamineWorkbook

from openings.errors import BadSchedule
from openings.schedules.cobie import cobie_grid, is_cobie
from openings.schedules.file.archive import Archive, pack
from openings.schedules.file.extent import MAX_CELLS, check_extent
from openings.schedules.file.invisible import INVISIBLE, left_out, may_hold_invisible
from openings.schedules.file.kinds import WORKBOOK
from openings.schedules.file.repeated import check_repeated
from openings.schedules.grid import Cell, Grid, Merge, Unread, column_index
from openings.schedules.layout import Layout
from openings.schedules.reading import read_grids
from openings.schedules.rows import ScheduleRead

_DAMAGED = "The workbook cannot be read; open it in a spreadsheet program, save it again as .xlsx and upload that."
_COBIE = "cobie"
_MAX_BOOK_BYTES = 1_000_000
"""The list of sheets and named ranges; as a tree it takes up to a hundred times as much memory."""
_OTHER_ZIPS = {
    "xl/workbook.bin": "The file is a binary .xlsb workbook; save it as .xlsx.",
    "content.xml": "The file is an .ods workbook or another open document; save the schedule as .xlsx.",
    "Index/Document.iwa": "The file is a .numbers workbook; export it as .xlsx.",
    "word/document.xml": "The file is a text document; save the schedule as .xlsx or .csv.",
    "ppt/presentation.xml": "The file is a presentation; save the schedule as .xlsx or .csv.",
}
_BOOK, _BOOK_RELATIONS = "xl/workbook.xml", "xl/_rels/workbook.xml.rels"
_STRINGS = re.compile(rb"(<(?:[^<>\s:]*:)?sst\b)[^<>]*")
_PREFIX = re.compile(rb"<(\w+):worksheet\b")
_ROW = re.compile(rb"<row\b([^<>]{0,500})>")
_NUMBER = re.compile(rb"""\sr\s*=\s*["'](\d{1,7})["']""")
_HIDDEN = re.compile(rb"""\bhidden\s*=\s*["'](?:1|true)["']""")
_COLUMNS = re.compile(rb"<col\b([^<>]{0,500})>")
_SPAN = re.compile(rb"""\b(min|max)\s*=\s*["'](\d{1,7})["']""")
# Bounded, so that no crafted tag makes a search take the square of its length.
_ERROR_CELL = re.compile(rb'<c\b(?=[^<>]{0,200}\bt="e")[^<>]{0,200}?\br="([A-Z]{1,3})([1-9]\d{0,6})"')
_EMPTY_FORMULA = re.compile(
    rb'<c\b(?![^<>]{0,200}\bt="str")[^<>]{0,200}?\br="([A-Z]{1,3})([1-9]\d{0,6})"[^<>]{0,200}>\s{0,50}'
    rb"<f\b(?:[^<>]{0,500}/>|[^<>]{0,500}>[^<]*</f>)\s{0,50}(?:<v\s?/>|<v>\s{0,50}</v>)?\s{0,50}</c>"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tab:
    name: str
    part: str
    is_hidden: bool


def read_workbook(content: bytes, *, settled: Layout, remembered: Mapping[str, Layout]) -> ScheduleRead:
    """Return the window schedule of a workbook, be it one of COBie or any other.

    Raises:
        BadSchedule: the file is no workbook, is too large once unpacked, carries macros, or holds no window schedule.
    """
    (grids, notes), kind = grids_of(content), WORKBOOK
    if is_cobie([grid.name for grid in grids]):
        grids, kind = [cobie_grid(grids)], _COBIE
    return read_grids(grids, settled=settled, remembered=remembered, kind=kind, notes=notes)


def grids_of(content: bytes) -> tuple[list[Grid], tuple[str, ...]]:
    """Return the sheets of a workbook that are not hidden, and what is noted about the others.

    Raises:
        BadSchedule: the file is no workbook, is too large once unpacked, or carries macros.
    """
    archive = Archive(content)
    _check_is_plain_workbook(archive)
    tabs = _tabs(archive)
    notes = tuple(f"The hidden sheet “{tab.name}” was not read." for tab in tabs if tab.is_hidden)
    return _grids(archive, [tab for tab in tabs if not tab.is_hidden]), notes


def _check_is_plain_workbook(archive: Archive) -> None:
    """Return if the archive is an .xlsx workbook without macros.

    Raises:
        BadSchedule: it is not; the sentence says what it is instead.
    """
    names = archive.names
    if any(name.lower().endswith("vbaproject.bin") or "/macrosheets/" in name.lower() for name in names) or any(
        sign in archive.read("[Content_Types].xml") for sign in (b"macroEnabled", b"vbaProject", b"macrosheet")
    ):
        raise BadSchedule("The workbook carries macros; save it as a plain .xlsx without them.")
    if _BOOK in names:
        return
    for name, problem in _OTHER_ZIPS.items():
        if name in names:
            raise BadSchedule(problem)
    within = next((name for name in sorted(names) if name.lower().endswith((".xlsx", ".csv", ".ifc"))), "")
    if within:
        raise BadSchedule(f"The file is a zip that holds “{within[-80:]}”; unpack it and upload that alone.")
    raise BadSchedule("The file is a zip but no .xlsx workbook; save the schedule as .xlsx or .csv.")


def _tabs(archive: Archive) -> list[_Tab]:
    """Return the sheets that hold cells, in the order of the workbook."""
    parts = _targets(archive, "worksheet")
    found = []
    for sheet in _xml(archive, _BOOK).iterfind("{*}sheets/{*}sheet"):
        relation = next((value for key, value in sheet.items() if key.endswith("}id")), "")
        if part := parts.get(relation):
            is_hidden = sheet.get("state", "visible") != "visible"
            found.append(_Tab(name=sheet.get("name", ""), part=part, is_hidden=is_hidden))
    if len({tab.part for tab in found}) < len(found) or len({tab.name for tab in found}) < len(found):
        raise BadSchedule(_DAMAGED)
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
    xml = archive.read(name)
    if len(xml) > _MAX_BOOK_BYTES:
        raise BadSchedule(_DAMAGED)
    try:
        # The archive refuses parts that declare entities.
        return ElementTree.fromstring(xml)  # noqa: S314
    except (ElementTree.ParseError, ValueError, LookupError) as error:
        raise BadSchedule(_DAMAGED) from error


def _grids(archive: Archive, tabs: list[_Tab]) -> list[Grid]:
    names = ["_rels/.rels", _BOOK, _BOOK_RELATIONS, *(tab.part for tab in tabs)]
    shared = list(_targets(archive, "sharedStrings").values())
    names.extend([*shared, *_targets(archive, "styles").values()])
    parts = {name: _without_counts(part) for name in names if (part := archive.read(name))}
    sheets = {tab.part: _without_prefix(parts.get(tab.part, b"")) for tab in tabs}
    for tab in tabs:
        check_extent(sheets[tab.part], name=tab.name)
    for name in {*shared, "xl/sharedStrings.xml"}:  # the last is where calamine looks, whatever the relations say
        check_repeated(sheets.values(), parts.get(name, b""))
    may_hide = any(map(may_hold_invisible, parts.values()))
    packed = pack(parts)
    del parts
    grids: list[Grid] = []
    try:
        with CalamineWorkbook.from_filelike(packed) as book:
            for tab in tabs:
                grids.append(_grid(book.get_sheet_by_name(tab.name), sheets[tab.part], may_hide=may_hide))
                _require_room_for_all(grids)
    except (CalamineError, ValueError, OSError, OverflowError) as error:
        raise BadSchedule(_DAMAGED) from error
    except BaseException as error:
        # A panic of the reader has a class that cannot be imported, and is no Exception.
        if type(error).__name__ != "PanicException":
            raise
        raise BadSchedule(_DAMAGED) from error
    return grids


def _require_room_for_all(grids: list[Grid]) -> None:
    if sum(len(grid.lines) * len(grid.lines[0]) for grid in grids if grid.lines) > MAX_CELLS:
        raise BadSchedule(
            f"The sheets of the workbook have more than {MAX_CELLS:,} cells together; copy the schedule alone into a "
            "new workbook and upload that."
        )


def _without_counts(xml: bytes) -> bytes:
    """Return shared strings that do not say how many they are: calamine would make room for as many at once."""
    return _STRINGS.sub(rb"\1", xml) if b"uniqueCount" in xml else xml


def _without_prefix(xml: bytes) -> bytes:
    """Return the XML of a sheet with bare tag names, as most programs write them."""
    prefix = _PREFIX.search(xml, 0, 2000)
    return xml.replace(prefix[1] + b":", b"") if prefix else xml


def _grid(sheet: CalamineSheet, xml: bytes, *, may_hide: bool) -> Grid:
    lines = _lines(sheet)
    invisible = _leave_out_invisible(lines) if may_hide else set()
    if unread := dict(_unread(xml)):
        _mark(lines, unread)
    merges = tuple(
        Merge(top=top, left=left, bottom=bottom, right=right)
        for (top, left), (bottom, right) in sheet.merged_cell_ranges or []
    )
    _check_merges(merges, lines, name=sheet.name)
    return Grid(
        lines=lines,
        name=sheet.name,
        merges=merges,
        notes=(left_out(invisible),) if invisible else (),
        hidden_rows=tuple(_hidden_rows(xml)),
        hidden_columns=tuple(_hidden_columns(xml)),
    )


def _lines(sheet: CalamineSheet) -> list[list[Cell]]:
    """Return the cells from A1 on; a text that stands in many is kept once, however often it is pointed to."""
    known: dict[Cell, Cell] = {}
    left: list[Cell] = [""] * (sheet.start[1] if sheet.start else 0)
    return [
        left + [known.setdefault(cell, cell) if type(cell) is str else cell for cell in row]
        for row in cast(Iterator[list[Cell]], sheet.iter_rows())
    ]


def _leave_out_invisible(lines: list[list[Cell]]) -> set[str]:
    """Take the letters that nobody sees out of the cells, and return them."""
    found: set[str] = set()
    for line in lines:
        for column, cell in enumerate(line):
            if isinstance(cell, str) and not cell.isascii() and (hidden := INVISIBLE.findall(cell)):
                found.update(hidden)
                line[column] = INVISIBLE.sub("", cell)
    return found


def _check_merges(merges: tuple[Merge, ...], lines: list[list[Cell]], *, name: str) -> None:
    """Return if the blocks of merged cells all fit in the sheet without one overlapping another.

    Raises:
        BadSchedule: together they cover more cells than there are.
    """
    height, width = len(lines), len(lines[0]) if lines else 0
    covered = sum(
        max(0, min(merge.bottom, height - 1) - merge.top + 1) * max(0, min(merge.right, width - 1) - merge.left + 1)
        for merge in merges
    )
    if covered > height * width:
        raise BadSchedule(f"In the sheet “{name}” blocks of merged cells lie over each other. {_DAMAGED}")


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
    after = 0
    for attributes in _COLUMNS.findall(xml, 0, max(0, xml.find(b"<sheetData"))):
        if _HIDDEN.search(attributes):
            span = {side: int(number) for side, number in _SPAN.findall(attributes)}
            last = min(span.get(b"max", 0), 16_384)
            yield from range(max(span.get(b"min", 1) - 1, after), last)
            after = max(after, last)
