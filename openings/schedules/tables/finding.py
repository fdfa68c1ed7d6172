"""Finding the tables of a sheet: beneath titles, one below or beside the other, their headings plain or not."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from itertools import islice

from openings.schedules.grid import Grid
from openings.schedules.headings.levels import floor_within
from openings.schedules.tables.blocks import MOST_COLUMNS, Block, block_at
from openings.schedules.tables.enough import has_enough, has_enough_with_type, has_likely, is_type
from openings.schedules.tables.heading_lines import (
    SEARCHED_LINES,
    is_mark,
    known_texts,
    lines_like_headings,
    lines_with,
    looks_like_rows,
)
from openings.schedules.tables.table import Kind, Table, continues, is_apart, kind_of, merges_by_top, title_above

_MOST_SIDE_BY_SIDE = 8
_MOST_TABLES = 100
_MOST_LINES = 5_000
"""How many lines of headings are looked at: as many pages as that has no schedule (our choice, as the one above)."""

_Test = Callable[[Iterable[str]], bool]


def tables_in(grid: Grid, *, order: int = 0) -> list[Table]:
    """Return the tables of a sheet whose headings name marks and sizes, from top to bottom.

    Headings in plain words are found however far down they stand. Where these name no windows, those among the first
    `SEARCHED_LINES` that look like such headings are added, or else sizes beside types.
    """
    search = _Search(grid, order)
    texts = known_texts(grid.lines)
    search.go(lines_with(grid.lines, texts, is_mark), has_enough)
    if not search.has_windows:
        search.go(lines_like_headings(grid.lines), has_likely)
    if not search.has_windows:
        search.go(lines_with(grid.lines, texts, is_type), has_enough_with_type)
    return search.ended()


def table_at(grid: Grid, line: int, *, columns: range | None = None, order: int = 0) -> Table:
    """Return the table whose headings are said to begin on a line; -1 says that it has none."""
    if line < 0:
        return Table(grid=grid, block=Block(top=-1, bottom=0, texts={}), order=order)
    block = block_at(grid.lines, line, merges_by_top(grid), columns)
    if block.top < line:
        block = replace(block_at(grid.lines, line, {}, columns), top=line)
    title, _ = title_above(grid, line, columns or range(len(grid.lines[line])), after=0)
    return Table(grid=grid, block=block, columns=columns, title=title, order=order)


class _Search:
    """Gathers the tables of one sheet, line by line."""

    def __init__(self, grid: Grid, order: int) -> None:
        self._grid, self._order = grid, order
        self._merges = merges_by_top(grid)
        self._found: list[Table] = []

    @property
    def has_windows(self) -> bool:
        return any(table.kind in (Kind.WINDOWS, Kind.UNSAID) for table in self._found)

    def go(self, numbers: Iterable[int], is_enough: _Test) -> None:
        for number in islice(numbers, _MOST_LINES):
            if len(self._found) < _MOST_TABLES and not any(
                table.block.top <= number < table.block.bottom for table in self._found
            ):
                for columns in self._regions(number):
                    if self._take(number, columns, is_enough):
                        break

    def ended(self) -> list[Table]:
        """Return the tables from top to bottom, each up to the next beneath it."""
        tables = sorted(self._found, key=lambda table: (table.block.top, table.reach.start))
        return [
            replace(table, last_line=min((below.above for below in tables if _is_below(below, table)), default=None))
            for table in tables
        ]

    def _regions(self, number: int) -> Iterator[range | None]:
        """Yield the columns in which headings may stand on a line: all, or those beside the tables above."""
        yield None
        above = [table.reach for table in self._found if table.block.bottom <= number]
        if above:
            yield range(max(reach.stop for reach in above), len(self._grid.lines[number]))
            yield range(min(reach.start for reach in above))

    def _take(self, number: int, columns: range | None, is_enough: _Test) -> bool:
        """Keep the tables whose headings stand on a line, and return whether there is one."""
        line = self._grid.lines[number]
        above = self._grid.lines[number - 1] if number else []
        if looks_like_rows([line[index] for index in (columns or range(len(line)))[:MOST_COLUMNS]], above):
            return False
        block = block_at(self._grid.lines, number, self._merges, columns)
        spans = _side_by_side(block, is_enough)
        if not spans and not is_enough(block.texts.values()):
            return False
        if not spans and (chief := self._without_legend(block, is_enough)):
            others = tuple(text for index, text in block.texts.items() if index not in chief)
            self._keep(_part(block, chief), chief, beside=others)
            return True
        for span in (*spans, *([] if spans else [columns])):
            self._keep(_part(block, span), span)
        if columns is not None:
            beside = range(columns.start) if columns.start else range(columns.stop, len(line))
            self._found = [
                replace(table, columns=table.columns or beside) if _lies_in(table.reach, beside) else table
                for table in self._found
            ]
        return True

    def _without_legend(self, block: Block, is_enough: _Test) -> range | None:
        """Return the columns of the table if headings beside it have rows of their own, as those of a legend do."""
        runs = _runs(block)
        chief = [run for run in runs if is_enough([block.texts[index] for index in run])]
        if len(chief) != 1 or len(runs) == 1:
            return None
        lines = self._grid.lines[block.bottom : block.bottom + SEARCHED_LINES]
        lonely = [line for line in lines if all(line[index] == "" for index in chief[0])]
        own = [run for run in runs if any(line[index] != "" for line in lonely for index in run)]
        right, left = (
            [run.start for run in own if run.start > chief[0].start],
            [run.stop for run in own if run.start < chief[0].start],
        )
        return range(max(left, default=0), min(right, default=len(self._grid.lines[block.top]))) if own else None

    def _keep(self, block: Block, columns: range | None, *, beside: tuple[str, ...] = ()) -> None:
        reach = columns or range(len(self._grid.lines[block.top]))
        own = range(min(block.texts), max(block.texts) + 1)
        above = [table for table in self._found if _overlap(table.reach, own)]
        after = max((table.block.bottom for table in above), default=0)
        title, begins = title_above(self._grid, block.top, reach, after=after)
        table = Table(
            grid=self._grid,
            block=block,
            columns=columns,
            title=title,
            above=begins,
            order=self._order,
            beside=beside,
        )
        if not above or not _goes_on(above[-1], table):
            self._found.append(table)


def _is_below(table: Table, other: Table) -> bool:
    return table.block.top > other.block.top and _overlap(table.reach, other.reach)


def _overlap(reach: range, other: range) -> bool:
    return max(reach.start, other.start) < min(reach.stop, other.stop)


def _lies_in(reach: range, columns: range) -> bool:
    return columns.start <= reach.start and reach.stop <= columns.stop


def _goes_on(table: Table, later: Table) -> bool:
    """Return whether the same headings stand there again because the table runs over a page or a floor."""
    if table.headings != later.headings:
        return False
    title, kind = later.title, kind_of(later.title)
    if is_apart(title) or kind not in (table.kind, Kind.UNSAID, *([Kind.WINDOWS] if not table.kind.value else [])):
        return False
    if not title or continues(title, table.title):
        return True
    return kind is Kind.UNSAID and (floor_within(title) != "" or later.above == later.block.top)


def _part(block: Block, columns: range | None) -> Block:
    if columns is None:
        return block
    return replace(block, texts={index: text for index, text in block.texts.items() if index in columns})


def _runs(block: Block) -> list[range]:
    """Return the columns with headings, as far as one stands beside the other."""
    runs: list[range] = []
    for index in block.texts:
        if runs and index == runs[-1].stop:
            runs[-1] = range(runs[-1].start, index + 1)
        else:
            runs.append(range(index, index + 1))
    return runs


def _side_by_side(block: Block, is_enough: _Test) -> list[range]:
    """Return the columns of each table on a line, if there are several."""
    texts = block.texts
    first = min(texts, default=0)
    again = [index for index in texts if texts[index].casefold() == texts[first].casefold()]
    repeated = [range(start, stop) for start, stop in zip(again, [*again[1:], max(texts, default=0) + 1], strict=True)]
    for spans in (_runs(block), repeated):
        whole = [span for span in spans if is_enough([texts[index] for index in span if index in texts])]
        if 1 < len(whole) <= _MOST_SIDE_BY_SIDE:
            return whole
    return []
