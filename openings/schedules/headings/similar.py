"""What a heading most likely means that no plain words say: misspelt, cut short, joined, or with words to spare."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from functools import cache, lru_cache
from typing import NamedTuple

from openings.schedules.headings.likeness import likeness
from openings.schedules.headings.plain import (
    DIMENSIONS,
    KINDS,
    Heading,
    is_foreign,
    read_heading,
    without_unit,
    words_of,
)
from openings.schedules.headings.vocabulary import FILLERS, FOREIGN_WORDS, PHRASES
from openings.schedules.layout import Meaning

LIKELY = Decimal("0.85")
POSSIBLE = Decimal("0.6")
MARGIN = Decimal("0.1")
"""From `LIKELY` on and this far above the next a meaning is taken; from `POSSIBLE` on it is asked about."""

_GENERIC = frozenset({"no", "number", "type", "id", "unit", "opening"})
_WEIGHTS = {**dict.fromkeys(FILLERS, 0.2), **dict.fromkeys(_GENERIC, 0.6)}
_LONG_FORMS = {"w": ("width", "wide"), "h": ("height", "high"), "reqd": ("required",)}
_ALIKE = {"weight": "h", "h": "weight"}
"""Words one letter apart in their long form: a slip of the pen in one may be the other."""
_SLIP = 0.05
NOT_PLAIN = 100
"""What the rank of a heading rises by that no plain words say."""
_SIDES = {"w", "h"}
"""A heading that does not say so means neither width nor height."""
_MOST_WORDS = 10
_LONGEST_HEADING = 80
_IN_BRACKETS = re.compile(r"\([^)]*\)|\[[^\]]*\]")


class Guess(NamedTuple):
    """A meaning that a heading may have and how sure that is, from 0 to 1."""

    heading: Heading
    score: Decimal


@lru_cache(maxsize=4096)
def similar_headings(text: str) -> tuple[Guess, ...]:
    """Return the meanings that a heading may have, the likeliest first, one for each meaning.

    >>> similar_headings("Quanity")[0].heading.meaning
    <Meaning.QUANTITY: 'quantity'>
    """
    if len(text) > _LONGEST_HEADING or is_foreign(text):
        return ()
    best: dict[Meaning, Guess] = {}
    unit = without_unit(text.casefold())[1]
    for words, worth in _wordings(text):
        readings = [list(_readings(word)) for word in words]
        for phrase, heading in _phrases().items():
            score = _rounded(_score(readings, phrase) * worth)
            if score >= POSSIBLE and (heading.meaning not in best or score > best[heading.meaning].score):
                likely = replace(heading, unit=unit, confidence=score, rank=heading.rank + NOT_PLAIN)
                best[heading.meaning] = Guess(likely, score)
    return tuple(sorted(best.values(), key=lambda guess: -guess.score))


def _rounded(score: float) -> Decimal:
    """Return a score with two places; only what is plain is quite sure."""
    return Decimal(min(score, 0.99)).quantize(Decimal("0.01"), ROUND_HALF_UP)


def _wordings(text: str) -> Iterator[tuple[list[str], float]]:
    """Yield the words of a heading with their weight: all of them, then without those in brackets."""
    words = _pieces(words_of(text).split())
    if 0 < len(words) <= _MOST_WORDS:
        yield words, 1.0
    without = _pieces(words_of(_IN_BRACKETS.sub(" ", text)).split())
    if 0 < len(without) < min(len(words), _MOST_WORDS) and not FOREIGN_WORDS & set(words):
        yield without, 1 - _SLIP


def _score(readings: list[list[tuple[str, float]]], phrase: tuple[str, ...]) -> float:
    """Return how much of the weight of a heading and a phrase is in words they share, from 0 to 1."""
    wanted = list(phrase)
    shared = total = 0.0
    for reading in readings:
        word, sure = max(
            ((word, sure) for word, sure in reading if word in wanted), key=lambda one: one[1], default=("", 0.0)
        )
        if word:
            wanted.remove(word)
            shared += sure * _weight(word)
            total += _weight(word)
        elif reading[0][0] in FOREIGN_WORDS:
            return 0.0
        else:
            total += _weight(reading[0][0])
    if _SIDES & set(wanted):
        return 0.0
    return 2 * shared / (total + sum(map(_weight, phrase)))


def _weight(word: str) -> float:
    return _WEIGHTS.get(word, 1.0)


def _readings(word: str) -> Iterator[tuple[str, float]]:
    """Yield the known words that a word may stand for, the likeliest first; itself if there is none."""
    known = _known()
    if word in known.values():
        yield word, 1.0
        return
    best: dict[str, float] = {}
    for spelt, meant in known.items():
        sure = likeness(word, spelt)
        if sure > best.get(meant, 0.0):
            best[meant] = sure
    found = sorted(best.items(), key=lambda one: -one[1])[:3]
    found.extend((_ALIKE[meant], sure - _SLIP) for meant, sure in found[:1] if meant in _ALIKE)
    yield from found or [(word, 1.0)]


def _pieces(words: list[str]) -> list[str]:
    """Return the words, those written together taken apart where that gives known words only."""
    known = _known()
    found: list[str] = []
    for word in words:
        parts = () if word in known or word in known.values() or len(word) < 5 else _split(word)
        found.extend(known[part] for part in parts)
        if not parts:
            found.append(word)
    return found


@lru_cache(maxsize=1024)
def _split(word: str) -> tuple[str, ...]:
    known = _known()
    for end in range(len(word), 1, -1):
        if word[:end] in known:
            if end == len(word):
                return (word,)
            if rest := _split(word[end:]):
                return (word[:end], *rest)
    return ()


@cache
def _known() -> dict[str, str]:
    """Return every word that headings are made of, by its spelling: what `words_of` makes of it."""
    words = {word for phrase in _phrases() for word in phrase} | FOREIGN_WORDS
    known = {word: word for word in words if len(word) > 1}
    for short, longs in _LONG_FORMS.items():
        known.update(dict.fromkeys(longs, short))
    return known


@cache
def _phrases() -> dict[tuple[str, ...], Heading]:
    """Return the meaning of every known phrase, by its words."""
    plain = [phrase for phrases in PHRASES.values() for phrase in phrases]
    sizes = [f"{kind} {dimension}".strip() for kind in KINDS for dimension in DIMENSIONS]
    return {
        tuple(words_of(phrase).split()): heading for phrase in (*plain, *sizes) if (heading := read_heading(phrase))
    }
