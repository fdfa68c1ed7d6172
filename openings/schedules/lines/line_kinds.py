"""Telling the lines of a table that are openings from totals, floors, remarks and notes."""

from __future__ import annotations

import re
from collections.abc import Sequence
from enum import Enum, auto

from openings.schedules.grid import Cell, Grid
from openings.schedules.headings.of_table import Headings
from openings.schedules.layout import PAIRS, Meaning
from openings.schedules.lines.cells import is_blank


class Kind(Enum):
    """What a line beneath the headings is."""

    OPENING = auto()
    FLOOR = auto()
    GROUP = auto()
    TOTAL = auto()
    CONTINUED = auto()
    NOTES = auto()
    PASSED = auto()
    NOTHING = auto()


_TOTAL = re.compile(
    r"(?:grand |sub[ -]?)?(?:totals?|sum)\b|\d{1,6} (?:windows?|openings?|units?) (?:in )?(?:total|all)\b",
    re.IGNORECASE,
)
_TOTAL_OF = re.compile(r".{1,60}\b(?:sub[ -]?)?totals?\b[ :.\d]*", re.IGNORECASE)
_CLOSING = re.compile(r"(.+): ?\d+")
_FLOOR = re.compile(
    r"\b(?:floor|level|lvl|storey|story|basement|cellar|mezzanine|attic|roof|penthouse|building|bldg|wing|tower|block"
    r"|apartment|suite|elevation|facade|façade|phase|zone)s?\b",
    re.IGNORECASE,
)
_GROUP = re.compile(
    r"\b(?:windows?|doors?|skylights?|types?|units?|series|fixed|casements?|awnings?|hoppers?|sliders?|sliding|hung"
    r"|schedule|continued|cont'd)\b",
    re.IGNORECASE,
)
_NOTES = re.compile(
    r"(?:(?:general |window |schedule )?(?:notes?|legend|remarks?|key|abbreviations?)|general)\b|[*•†]|\d+[.)](?:\s|$)",
    re.IGNORECASE,
)
_UNUSED = re.compile(
    r"\W*(?:not used|unused|void(?:ed)?|deleted?|omit(?:ted)?|reserved|not in contract)\W*", re.IGNORECASE
)
_PAGE = re.compile(r"(?:page|sheet) \d+(?: (?:of|/) ?\d+)?", re.IGNORECASE)
_LONGEST_HEADING = 40
_HEADING_LINES = 3
_LONGEST_LETTER_MARK = 2


class LineKinds:
    """Sorts the lines of one table, one after the other.

    `after_blank` and the calls of `took` say what came before; a line is judged by it.
    """

    def __init__(self, grid: Grid, headings: Headings) -> None:
        columns = headings.columns
        self.mark = columns[Meaning.MARK].index
        self.sizes = [columns[meaning].index for pair in PAIRS for meaning in pair if meaning in columns]
        self._quantity = columns[Meaning.QUANTITY].index if Meaning.QUANTITY in columns else None
        self._remarks = columns[Meaning.REMARKS].index if Meaning.REMARKS in columns else None
        counted = [column.index for column in headings.counts]
        self._numbers = {*counted, *([] if self._quantity is None else [self._quantity])}
        self._read = {column.index for column in columns.values()} | self._numbers
        self._wide = {(merge.top, merge.left) for merge in grid.merges if merge.right > merge.left}
        above = grid.lines[max(0, headings.first_line - _HEADING_LINES) : headings.first_line]
        self._heads = {(index, text) for line in above for index, cell in enumerate(line) if (text := _folded(cell))}
        self._mark_heading = columns[Meaning.MARK].text.casefold()
        self.doubtful = {cell for cell in {line[self.mark] for line in grid.lines} if self._is_doubtful(cell)}
        self.is_in_notes = False
        self.after_blank = False
        self._last = Kind.NOTHING
        self._group_from = 0

    def took(self, kind: Kind, *, count: int) -> None:
        """Note the kind of a line and the openings counted up to it."""
        self._last = kind
        self.after_blank = kind is Kind.NOTHING
        if kind in (Kind.FLOOR, Kind.GROUP, Kind.TOTAL):
            self._group_from = count
        if kind in (Kind.OPENING, Kind.FLOOR, Kind.NOTES):
            self.is_in_notes = kind is Kind.NOTES

    def kind_of(self, line: list[Cell], index: int, *, above: Sequence[list[Cell]]) -> Kind:
        """Return the kind of a line.

        Args:
            index: of the line in its sheet, from 0.
            above: the openings before it.
        """
        filled = {index for index, cell in enumerate(line) if not is_blank(cell)}
        texts = texts_of(line)
        if all(isinstance(line[at], str) for at in filled) and not any(map(_has_word, texts)):
            return Kind.NOTHING
        if filled and all((at, _folded(line[at])) in self._heads for at in filled):
            return Kind.PASSED
        if not self._read & filled:
            return Kind.PASSED
        has_size = not filled.isdisjoint(self.sizes)
        is_no_size = not has_size or len(filled) == 1
        if any(_TOTAL.match(text) for text in texts) and (is_no_size or _TOTAL.match(_folded(line[self.mark]))):
            return Kind.TOTAL
        if texts and not has_size and _TOTAL_OF.fullmatch(texts[0]) and len(texts) == 1:
            return Kind.TOTAL
        if len(filled) == 1 and texts:
            return self._alone(texts[0], at=filled.pop(), index=index, has_openings=len(above) > self._group_from)
        if filled & self._read <= self._numbers and self._adds_up(line, filled & self._read, above):
            return Kind.TOTAL
        if _folded(line[self.mark]) in self._mark_heading and (self.mark, _folded(line[self.mark])) in self._heads:
            return Kind.PASSED
        if not has_size and _NOTES.match(_folded(line[self.mark])):
            return Kind.NOTES
        if not has_size and any(map(_UNUSED.fullmatch, texts)):
            return Kind.PASSED
        if self.is_in_notes:
            return Kind.OPENING if self._is_complete(line) else Kind.PASSED
        return Kind.NOTES if self.after_blank and self._is_foreign(line) else Kind.OPENING

    def _alone(self, text: str, *, at: int, index: int, has_openings: bool) -> Kind:
        """Return the kind of a line by its only cell."""
        if _CLOSING.fullmatch(text) and has_openings:
            return Kind.TOTAL
        if _PAGE.fullmatch(text):
            return Kind.PASSED
        if at == self._remarks and self._last in (Kind.OPENING, Kind.CONTINUED):
            return Kind.CONTINUED
        if _NOTES.match(text):
            return Kind.NOTES
        is_heading = _FLOOR.search(text) or (index, at) in self._wide
        if _GROUP.search(text) and not _FLOOR.search(text) and len(text) <= _LONGEST_HEADING:
            return Kind.GROUP
        if is_heading and len(text) <= _LONGEST_HEADING:
            return Kind.FLOOR
        return Kind.PASSED if is_heading or self.is_in_notes or len(text) > _LONGEST_HEADING else Kind.OPENING

    def _adds_up(self, line: list[Cell], columns: set[int], above: Sequence[list[Cell]]) -> bool:
        """Return whether a line of numbers alone is the sum of the openings above, or of their last group."""
        return any(
            all(_number(line[at]) == sum(_number(opening[at]) or 0 for opening in openings) for at in columns)
            for openings in (above, above[self._group_from :])
            if openings
        )

    def _is_complete(self, line: list[Cell]) -> bool:
        """Return whether a line amid notes has a mark, a size and, if at all, a quantity in figures."""
        sizes = [line[at] for at in self.sizes if not is_blank(line[at])]
        counted = self._quantity is None or is_blank(line[self._quantity]) or _number(line[self._quantity]) is not None
        return not is_blank(line[self.mark]) and counted and bool(sizes) and not _has_no_digit(sizes[0])

    def _is_foreign(self, line: list[Cell]) -> bool:
        """Return whether words stand where an opening has figures: the headings of something else."""
        if self._quantity is None:
            is_word = _has_no_digit(line[self.mark]) and len(_folded(line[self.mark])) > _LONGEST_LETTER_MARK
        else:
            is_word = _has_no_digit(line[self._quantity])
        return is_word and _has_no_digit(line[self.sizes[0]])

    def _is_doubtful(self, cell: Cell) -> bool:
        """Return whether a mark may be no mark: a heading again, a total, a mere dash, the number of a note."""
        if not isinstance(cell, str) or (cell.isalnum() and not cell.isalpha()):
            return False
        text = _folded(cell)
        return text in self._mark_heading or "total" in text or not _has_word(text)


def texts_of(line: list[Cell]) -> list[str]:
    """Return the texts of a line, each with single spaces."""
    return [text for cell in line if isinstance(cell, str) and (text := " ".join(cell.split()))]


def heading_in(line: list[Cell]) -> str:
    """Return the text of a line that heads those beneath it, without a count behind it."""
    text = texts_of(line)[0]
    closing = _CLOSING.fullmatch(text)
    return closing[1] if closing else text


def _folded(cell: Cell) -> str:
    return " ".join(cell.split()).casefold() if isinstance(cell, str) else ""


def _has_word(text: str) -> bool:
    return any(map(str.isalnum, text))


def _has_no_digit(cell: Cell) -> bool:
    return isinstance(cell, str) and any(map(str.isalpha, cell)) and not any(map(str.isdigit, cell))


def _number(cell: Cell) -> int | None:
    if isinstance(cell, str):
        return int(cell) if cell.strip().isdecimal() else None
    return int(cell) if isinstance(cell, float | int) and cell == int(cell) else None
