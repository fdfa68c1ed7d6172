"""A table of a sheet that may be a schedule: its headings, how far it reaches and what it says it lists."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

from openings.schedules.grid import Cell, Grid, Merge, column_letter
from openings.schedules.headings.plain import read_heading
from openings.schedules.layout import Meaning
from openings.schedules.tables.blocks import Block, text_of

_MOST_LINES_TO_TITLE = 8
_MOST_CELLS_OF_TITLE = 2
_LONGEST_TITLE = 120
_TITLE = re.compile(
    r"\b(?:schedules?|windows?|doors?|skylights?|storefronts?|openings?|legend|alternates?|options?|levels?|floors?"
    r"|buildings?|bldg)\b",
    re.IGNORECASE,
)
_CONTINUED = re.compile(r"\b(?:cont|continued|cont'd|page|sheet)\b", re.IGNORECASE)
_APART = re.compile(r"\b(?:alternates?|options?|existing|future|addend(?:um|a)|allowance|demolition)\b", re.IGNORECASE)
_WINDOWS = re.compile(r"\b(?:windows?|glazed openings?|fenestration)\b", re.IGNORECASE)
_DOORS = re.compile(r"\bdoors?\b", re.IGNORECASE)
_OTHERS = re.compile(
    r"\b(?:skylights?|storefronts?|curtain ?walls?|louv(?:er|re)s?|hardware|room finish(?:es)?|fixtures?|lighting"
    r"|equipment|glass types?|glazing types?|borrowed lites?|legend|abbreviations?)\b",
    re.IGNORECASE,
)


class Kind(Enum):
    """What a table says it lists."""

    WINDOWS = "windows"
    DOORS = "doors"
    OTHERS = "something else"
    UNSAID = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table that may be a schedule.

    Args:
        block: its headings; of one without headings the line before its first, and no texts.
        columns: those it may reach over, if others stand beside it.
        last_line: the line after the last that may belong to it; None is the end of the sheet.
        title: what stands above it.
        above: the first of the lines that stand above it and belong to no other table.
        order: which of the sheets it stands in, from 0.
        beside: what is headed on the same lines and belongs to it no more than a legend does.
    """

    grid: Grid
    block: Block
    columns: range | None = None
    last_line: int | None = None
    title: str = ""
    above: int = 0
    order: int = 0
    beside: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """Return its name in a layout, see `TableFound`."""
        letter = "" if self.columns is None else column_letter(self.reach.start)
        where = f"{letter}{row_number(self.grid, self.block.top)}"
        return f"{self.grid.name}!{where}" if self.grid.name else where

    @property
    def reach(self) -> range:
        """Return the columns from its first heading to its last."""
        return range(min(self.block.texts, default=0), max(self.block.texts, default=-1) + 1)

    @property
    def kind(self) -> Kind:
        """Return the kind of things it lists: by its title, else by the heading of its marks, else by its sheet."""
        said = (kind_of(text) for text in (self.title, *self._headings_of_marks(), self.grid.name))
        return next((kind for kind in said if kind is not Kind.UNSAID), Kind.UNSAID)

    def _headings_of_marks(self) -> list[str]:
        texts = self.block.texts.values()
        return [text for text in texts if is_of_doors(text) or meaning_of(text) is Meaning.MARK]

    @property
    def headings(self) -> tuple[tuple[int, str], ...]:
        """Return its headings and their places, so that those of two tables can be compared."""
        return tuple((index, " ".join(text.casefold().split())) for index, text in self.block.texts.items())


def row_number(grid: Grid, line: int) -> int:
    """Return the row number that a person sees for a line counted from 0."""
    return grid.row_numbers[line] if 0 <= line < len(grid.row_numbers) else line + 1


def kind_of(text: str) -> Kind:
    """Return the kind of things a table lists, by a title, a heading or the name of its sheet."""
    if _OTHERS.search(text):
        return Kind.OTHERS
    if _WINDOWS.search(text):
        return Kind.WINDOWS
    return Kind.DOORS if _DOORS.search(text) else Kind.UNSAID


def is_of_doors(heading: str) -> bool:
    """Return whether a heading is that of the marks of doors: Door No., Door."""
    return (
        re.fullmatch(r"doors?(?:\s+(?:no|number|mark|tag|id|#)s?\.?)?\.?", heading.strip(), re.IGNORECASE) is not None
    )


def continues(title: str, earlier: str) -> bool:
    """Return whether a title is that of a table that began under an earlier one."""
    return title.casefold() == earlier.casefold() or _CONTINUED.search(title) is not None


def is_apart(title: str) -> bool:
    """Return whether a title says that a table is not part of the work at hand: an alternate, what exists already."""
    return _APART.search(title) is not None


def title_above(grid: Grid, top: int, columns: range, *, after: int) -> tuple[str, int]:
    """Return the title that stands above a line, and the line where it begins; the line itself if there is none.

    Args:
        after: the line from which on a title may stand.
    """
    plain, begins = "", top
    is_close = True
    for number in range(top - 1, max(after, top - _MOST_LINES_TO_TITLE) - 1, -1):
        texts = [
            text
            for index in columns
            if index < len(grid.lines[number]) and (text := text_of(grid.lines[number][index]))
        ]
        is_title = 0 < len(texts) <= _MOST_CELLS_OF_TITLE and len(texts) == _filled(grid.lines[number], columns)
        if is_title and _TITLE.search(texts[0]) and len(texts[0]) <= _LONGEST_TITLE:
            return texts[0], number
        if is_title and is_close and not plain and len(texts) == 1 and len(texts[0]) <= _LONGEST_TITLE:
            plain, begins = texts[0], number
        is_close = is_close and (is_title or not texts)
        if texts and not is_title:
            break
    return plain, begins


def _filled(line: Sequence[Cell], columns: range) -> int:
    return sum(1 for index in columns if index < len(line) and line[index] != "")


def merges_by_top(grid: Grid) -> Mapping[int, list[Merge]]:
    """Return the blocks of merged cells by their first line."""
    by_top: dict[int, list[Merge]] = defaultdict(list)
    for merge in grid.merges:
        by_top[merge.top].append(merge)
    return by_top


def meaning_of(text: str) -> Meaning | None:
    """Return the meaning of a heading in plain words."""
    heading = read_heading(text)
    return heading.meaning if heading else None
