"""The mail that tells notices: all that is due in one letter."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from jobs.calc.notice import SAID, EventKind
from jobs.calc.say import counted

MOST_LINES: Final = 60
"""So many notices are told in one letter (our choice); the others are counted and stand on the page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """One notice: what kind of event it tells of, and what happened."""

    kind: EventKind
    said: str


def subject_of(told: Sequence[Told]) -> str:
    """Return what a letter is called.

    >>> subject_of([Told(kind=EventKind.NO_SHEET, said="None.")])
    'Weatherlap: No pull sheet at the cut-off'
    >>> subject_of([Told(kind=EventKind.NO_SHEET, said="None."), Told(kind=EventKind.STRANDED, said="Two.")])
    'Weatherlap: 2 notices'
    """
    kinds = {one.kind for one in told}
    return f"Weatherlap: {SAID[kinds.pop()] if len(kinds) == 1 else counted(len(told), 'notice')}"


def text_of(told: Sequence[Told], *, page: str) -> str:
    """Return the text of a letter: the notices by kind, in the order in which kinds first come.

    Args:
        page: address of the page of one's notices; empty where the service does not know its own address.
    """
    first = {one.kind: at for at, one in reversed(list(enumerate(told)))}
    shown = sorted(told[:MOST_LINES], key=lambda one: first[one.kind])
    parts = [_part(kind, those) for kind, those in groupby(shown, key=lambda one: one.kind)]
    if more := len(told) - len(shown):
        parts.append(f"And {counted(more, 'more notice')}, on your page of notices.")
    where = f": {page}" if page else " on the page Your notices"
    return "\n\n".join([*parts, f"Choose what you are told, and how{where}"]) + "\n"


def _part(kind: EventKind, told: Iterable[Told]) -> str:
    return "\n".join([SAID[kind], *(f"- {one.said}" for one in told)])
