"""Which lines of a sheet may be headings, found without looking at every cell."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator, Sequence
from itertools import islice

from openings.schedules.grid import Cell
from openings.schedules.headings.levels import floor_counted
from openings.schedules.headings.plain import has_known_word, is_kind, is_subheading
from openings.schedules.layout import SIZES, Meaning
from openings.schedules.tables.blocks import MOST_COLUMNS, MOST_LINES_ABOVE, is_small_whole, text_of
from openings.schedules.tables.table import is_of_doors, meaning_of

SEARCHED_LINES = 200
"""How far down headings are looked for that no plain words name."""

_LINES_AT_ONCE = 2_000
_LONGEST_HEADING = 60
_MOST_GUESSED_LINES, _MOST_GUESSED_TEXTS = 40, 200
_MOST_DIFFERENT, _MOST_TEXTS = 500_000, 50_000
"""How many different texts are looked at, and how many that may be headings (our choice: schedules have hundreds)."""
_PER_FLOOR = re.compile(r"\b(?:per|by|level|floor|storey|story|building|bldg)s?\b", re.IGNORECASE)
_HAS_DIGIT = re.compile(r"\d")


def known_texts(lines: Sequence[list[Cell]]) -> set[str]:
    """Return the different texts of a sheet that may be headings in plain words."""
    different = islice(_different_texts(lines), _MOST_DIFFERENT)
    texts = (text for text in different if has_known_word(text) and not _HAS_DIGIT.search(text))
    return set(islice(texts, _MOST_TEXTS))


def lines_with(lines: Sequence[list[Cell]], texts: Collection[str], is_wanted: Callable[[str], bool]) -> Iterator[int]:
    """Yield the lines that hold such a heading and, there or next to them, one of a size.

    Args:
        texts: the texts of the sheet that may be headings.
    """
    sizes = {text for text in texts if _is_size(text_of(text))}
    wanted = {text for text in texts if is_wanted(text_of(text))} if sizes else set()
    if wanted:
        near = {
            number + step
            for number, line in enumerate(lines)
            if not sizes.isdisjoint(line)
            for step in range(-MOST_LINES_ABOVE, MOST_LINES_ABOVE + 1)
        }
        yield from (
            number for number in sorted(near) if 0 <= number < len(lines) and not wanted.isdisjoint(lines[number])
        )


def _different_texts(lines: Sequence[list[Cell]]) -> Iterator[str]:
    rest = iter(lines)
    while some := list(islice(rest, _LINES_AT_ONCE)):
        for cell in set[Cell]().union(*some):
            if isinstance(cell, str) and 0 < len(cell) <= _LONGEST_HEADING:
                yield cell


def lines_like_headings(lines: Sequence[list[Cell]]) -> Iterator[int]:
    count = 0
    for number, line in enumerate(lines[:SEARCHED_LINES]):
        texts = [text for cell in line[:MOST_COLUMNS] if (text := text_of(cell)) and len(text) <= _LONGEST_HEADING]
        if 1 < len(texts) <= _MOST_GUESSED_TEXTS and not looks_like_rows(line[:MOST_COLUMNS]):
            count += 1
            yield number
        if count == _MOST_GUESSED_LINES:
            return


def looks_like_rows(cells: Sequence[Cell], above: Sequence[Cell] = ()) -> bool:
    """Return whether figures stand in more than a quarter of the filled cells, as in no line of headings.

    Only numbers of floors do, beneath a heading such as Quantity per floor.
    """
    are_floors = any(isinstance(cell, str) and _PER_FLOOR.search(cell) for cell in above)
    filled = [cell for cell in cells if cell != "" and not (are_floors and is_small_whole(cell))]
    figures = sum(1 for cell in filled if not isinstance(cell, str) or (cell[0].isdigit() and not floor_counted(cell)))
    return figures * 4 > len(filled)


def is_mark(text: str) -> bool:
    return meaning_of(text) is Meaning.MARK or is_of_doors(text)


def _is_size(text: str) -> bool:
    return meaning_of(text) in SIZES or is_subheading(text) or is_kind(text)
