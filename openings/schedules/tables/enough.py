"""Whether headings are enough to make a schedule: they must name a mark and a size."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from openings.schedules.headings.plain import words_of
from openings.schedules.headings.similar import similar_headings
from openings.schedules.layout import PAIRS, Meaning
from openings.schedules.tables.table import is_of_doors, meaning_of

_TYPES = frozenset({"type", "window type", "unit type", "opening type", "type name", "family and type"})


def has_enough(texts: Iterable[str]) -> bool:
    """Return whether headings in plain words name a mark and a size."""
    texts = list(texts)
    meanings = {meaning for text in texts if (meaning := meaning_of(text))}
    return _is_table(meanings | ({Meaning.MARK} if any(map(is_of_doors, texts)) else set()))


def has_enough_with_type(texts: Iterable[str]) -> bool:
    """Return whether headings in plain words name a size beside types, which may stand for marks."""
    texts = list(texts)
    return any(map(is_type, texts)) and _is_table({Meaning.MARK, *(m for text in texts if (m := meaning_of(text)))})


def is_enough(meanings: set[Meaning]) -> bool:
    """Return whether what is read of a table makes a schedule: a mark and a size."""
    has_size = any({width, height} <= meanings or size in meanings for width, height, size in PAIRS)
    return Meaning.MARK in meanings and has_size


def _is_table(meanings: set[Meaning]) -> bool:
    """Return whether a table may have headings of these meanings; width and height may be of two kinds."""
    widths, heights, sizes = map(set, zip(*PAIRS, strict=True))
    return Meaning.MARK in meanings and bool(sizes & meanings or (widths & meanings and heights & meanings))


def is_type(text: str) -> bool:
    return words_of(text) in _TYPES


def has_likely(texts: Iterable[str]) -> bool:
    return _is_table({meaning for text in texts for meaning in _likely_meanings(text)})


def _likely_meanings(text: str) -> Iterator[Meaning]:
    if meaning := meaning_of(text):
        yield meaning
    else:
        yield from (guess.heading.meaning for guess in similar_headings(text))
