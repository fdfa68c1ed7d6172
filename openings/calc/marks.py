"""Marks of openings that are alike: the next ones of a schedule mark, and those that count on from a given one."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from itertools import count as counting
from itertools import islice

_NUMBER = re.compile(r"\d+$")
FEWEST_PLACES = 2


def numbered(mark: str, number: int, places: int = FEWEST_PLACES) -> str:
    """Return the mark of one of several openings of a schedule mark.

    >>> numbered("W3", 4), numbered("W3", 4, 3)
    ('W3-04', 'W3-004')
    """
    return f"{mark}-{number:0{places}}"


def following_marks(schedule_mark: str, *, taken: Collection[str], count: int) -> list[str]:
    """Return marks for so many more openings of a schedule mark, after the highest number that is taken.

    >>> following_marks("W3", taken=["W3-01", "W3-02", "W4"], count=2)
    ['W3-03', 'W3-04']
    >>> following_marks("W7", taken=["W7"], count=1)
    ['W7-02']

    Args:
        taken: marks of the job.
        count: how many, at least 1.
    """
    before = re.compile(rf"{re.escape(schedule_mark)}-(\d+)", re.IGNORECASE)
    numbers = [found[1] for mark in taken if (found := before.fullmatch(mark))]
    first = max((int(number) for number in numbers), default=1) + 1
    places = max((len(number) for number in numbers), default=FEWEST_PLACES)
    return [numbered(schedule_mark, number, places) for number in range(first, first + count)]


def marks_from(first: str, *, count: int) -> list[str]:
    """Return so many marks from a given one on, each a number higher.

    >>> marks_from("W3-09", count=3), marks_from("101", count=2), marks_from("Lobby", count=2)
    (['W3-09', 'W3-10', 'W3-11'], ['101', '102'], ['Lobby', 'Lobby-02'])
    """
    return list(islice(_from(first), count))


def _from(first: str) -> Iterator[str]:
    number = _NUMBER.search(first)
    if number is None:
        yield first
        yield from (numbered(first, place) for place in counting(2))
        return
    stem, places = first[: number.start()], len(number[0])
    yield from (f"{stem}{place:0{places}}" for place in counting(int(number[0])))
