"""The lines of headings: which belong together, and what each column is headed when they are read as one."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from openings.schedules.grid import Cell, Merge
from openings.schedules.headings.levels import floor_counted
from openings.schedules.headings.plain import (
    LONGEST_HEADING,
    is_foreign,
    is_kind,
    is_subheading,
    plain_text,
    read_heading,
    unit_named,
    words_of,
)
from openings.schedules.layout import Meaning

MOST_LINES_ABOVE = 2
MOST_LINES_BELOW = 2
MOST_COLUMNS = 1_000
"""How far to the right headings are looked for (our choice: schedules have dozens)."""

_LONGEST_HEADING = 60

_COMPLETING = frozenset(
    {"type", "material", "finish", "no", "number", "style", "thickness", "color", "id", "code", "head", "jamb", "sill",
     "detail", "depth", "ea", "each", "level", "clear", "rough", "opening", "qty", "count"}
)  # fmt: skip
"""Words that say too little without the heading above them."""

_UNITLIKE = frozenset({"-", "–", "—", "ea", "ea.", "each", "pcs", "pc", "no", "no.", "nr", "#", "text", "psf", "each."})
_COUNTED = re.compile(r"\b(?:level|floor|storey|story|bldg|building|qty|quantity|count|number)s?\b", re.IGNORECASE)
_IS_TITLE = re.compile(r"\b(?:schedules?|legend)\b", re.IGNORECASE)
_HAS_DIGIT = re.compile(r"\d")


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """The headings of a table.

    Args:
        top: the first line, from 0.
        bottom: the line after the last.
        texts: what each column is headed, by its index; none is empty.
    """

    top: int
    bottom: int
    texts: Mapping[int, str]


def block_at(
    lines: Sequence[list[Cell]], number: int, merges: Mapping[int, Sequence[Merge]], columns: range | None = None
) -> Block:
    """Return the headings whose chief line is the one given, with the lines above and below that complete them.

    Args:
        merges: the blocks of merged cells by their top line.
        columns: those to look at; all if None.
    """
    columns = (columns or range(len(lines[number])))[:MOST_COLUMNS]
    texts = _texts(lines[number], columns)
    bottom = number + 1
    for _ in range(MOST_LINES_BELOW):
        if bottom >= len(lines) or not _completes(lines[bottom], texts, columns):
            break
        texts = _joined(texts, _texts(lines[bottom], columns, counted=texts), merges.get(bottom - 1, ()))
        bottom += 1
    top = number
    while top > max(0, number - MOST_LINES_ABOVE):
        above = _texts(lines[top - 1], columns)
        if not _heads(lines[top - 1], above, texts, merges.get(top - 1, ()), columns):
            break
        if chief := _counted_beneath(lines[number], above, texts, columns):
            texts = chief
        texts = _joined(above, texts, merges.get(top - 1, ()))
        top -= 1
    return Block(top=top, bottom=bottom, texts={index: text for index, text in sorted(texts.items()) if text})


def text_of(cell: Cell) -> str:
    """Return a cell as a heading, or nothing if it is no text."""
    return plain_text(cell) if isinstance(cell, str) else ""


def _texts(line: Sequence[Cell], columns: range, *, counted: Mapping[int, str] | None = None) -> dict[int, str]:
    """Return the texts of a line by column; whole numbers too where the heading above counts floors."""
    found, group = {}, ""
    for index in columns:
        cell = line[index]
        group = (counted or {}).get(index) or group
        if text := text_of(cell):
            found[index] = text if len(text) <= LONGEST_HEADING else f"{text[:LONGEST_HEADING]}…"
        elif counted and is_small_whole(cell) and _COUNTED.search(group):
            found[index] = str(int(cell))  # type: ignore[arg-type]
    return found


def _counted_beneath(
    line: Sequence[Cell], above: Mapping[int, str], texts: Mapping[int, str], columns: range
) -> dict[int, str] | None:
    """Return the texts with the bare numbers of floors that stand beneath a heading such as Quantity per floor."""
    with_numbers = _texts(line, columns, counted=above)
    added = {index: text for index, text in with_numbers.items() if index not in texts}
    return dict(sorted({**texts, **added}.items())) if added else None


def _completes(line: Sequence[Cell], above: Mapping[int, str], columns: range) -> bool:
    """Return whether a line only completes the headings above it: sides, kinds of sizes, units, words of that sort."""
    filled = {index: line[index] for index in columns if line[index] != ""}
    texts = {index: text for index, cell in filled.items() if (text := text_of(cell))}
    numbers = set(filled) - set(texts)
    if any(not is_small_whole(filled[index]) for index in numbers):
        return False
    if not texts:
        return _are_floors([filled[index] for index in sorted(numbers)], sorted(numbers), above)
    if all(unit_named(text) or text.casefold() in _UNITLIKE for text in texts.values()):
        return not numbers and any(map(unit_named, texts.values()))
    counted = {index for index, text in texts.items() if floor_counted(text)} if _counts_floors(above, texts) else set()
    others = [text for index, text in texts.items() if index not in counted]
    if numbers or any(_HAS_DIGIT.search(text) or len(text) > _LONGEST_HEADING for text in others):
        return False
    marks = [index for index, text in above.items() if _meaning(text) is Meaning.MARK]
    if any(index in texts and texts[index].casefold() not in _UNITLIKE for index in marks):
        return False
    return bool(counted) or any(is_subheading(text) or is_kind(text) for text in others)


def _counts_floors(above: Mapping[int, str], under: Mapping[int, str]) -> bool:
    """Return whether floors may stand beneath a heading such as Quantity, that of no column to its right between."""
    first = min((index for index, text in under.items() if floor_counted(text)), default=-1)
    over = [text for index, text in sorted(above.items()) if index <= first]
    return bool(over) and _COUNTED.search(over[-1]) is not None


def _are_floors(numbers: list[Cell], columns: list[int], above: Mapping[int, str]) -> bool:
    """Return whether different numbers stand beneath one heading such as Quantity per floor."""
    heading = above.get(columns[0], "") if columns else ""
    beside = [index for index in columns[1:] if index in above]
    return len(set(numbers)) == len(numbers) > 1 and _COUNTED.search(heading) is not None and not beside


def _heads(
    line: Sequence[Cell],
    above: Mapping[int, str],
    under: Mapping[int, str],
    merges: Sequence[Merge],
    columns: range,
) -> bool:
    """Return whether a line groups the headings beneath it, and is no title and no row."""
    if not above or any(line[index] != "" and index not in above for index in columns):
        return False
    if any(len(text) > _LONGEST_HEADING for text in above.values()):
        return False
    if any(_IS_TITLE.search(text) or (_HAS_DIGIT.search(text) and not floor_counted(text)) for text in above.values()):
        return False
    if any(is_kind(text) or words_of(text) in ("size", "opening size") for text in above.values()):
        return True
    first, count = min(under, default=0), len(under)
    blocks = [m for m in merges if m.right > m.left and m.left in above and m.right - m.left + 1 < count]
    if blocks and (len(above) > 1 or blocks[0].left > first):
        return True
    if (
        sum(_is_better(text, under.get(index, "")) for index, text in above.items()) >= min(2, len(above))
        and len(above) > 1
    ):
        return True
    return len(above) > 1 and all(_is_completing(under.get(index, "")) for index in above if index in under)


def _joined(above: Mapping[int, str], under: Mapping[int, str], merges: Sequence[Merge]) -> dict[int, str]:
    """Return the headings of two lines read together; one that has room reaches over the columns to its right."""
    reach = {index: merge.left for merge in merges for index in range(merge.left, merge.right + 1)}
    texts, group, is_open = {}, "", False
    for index in sorted({*above, *under}):
        own, below = above.get(index, ""), under.get(index, "")
        if own:
            group, is_open = own, True
        elif index in reach and above.get(reach[index]):
            group, is_open = above[reach[index]], True
        elif is_open and not _reaches(group, below):
            is_open = False
        if not below:
            texts[index] = own
        else:
            texts[index] = _together(group, below) if is_open else below
    return texts


def _reaches(group: str, below: str) -> bool:
    """Return whether a heading that is not merged reaches over the one to the right in the line beneath."""
    if is_kind(group) or words_of(group) == "size":
        return is_subheading(below) or is_kind(below)
    return _is_completing(below) or floor_counted(f"{group} {below}") != ""


def _together(group: str, under: str) -> str:
    if unit_named(under):
        return f"{group} ({under.strip('()[]')})"
    if not any(map(str.isalnum, under)) or (under.casefold() in _UNITLIKE and not read_heading(f"{group} {under}")):
        return group
    whole = f"{group} {under}"
    is_plain = read_heading(under) is not None and not _is_completing(under)
    return under if is_plain and read_heading(whole) is None and not floor_counted(whole) else whole


def _is_better(above: str, under: str) -> bool:
    """Return whether two texts one above the other are one heading broken in two, such as Window and No."""
    if not under:
        return False
    whole, alone = _meaning(f"{above} {under}"), _meaning(under)
    return whole is not None and (whole is not alone or _is_completing(under))


def _is_completing(text: str) -> bool:
    return (
        is_subheading(text) or is_kind(text) or words_of(text) in _COMPLETING or (is_foreign(text) and " " not in text)
    )


def _meaning(text: str) -> Meaning | None:
    heading = read_heading(text)
    return heading.meaning if heading else None


def is_small_whole(cell: Cell) -> bool:
    return isinstance(cell, float | int) and not isinstance(cell, bool) and 0 <= cell < 200 and cell == int(cell)
