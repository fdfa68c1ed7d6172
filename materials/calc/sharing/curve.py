"""Bounds on what is saved, by what it takes to save it."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from fractions import Fraction
from itertools import accumulate, pairwise

Step = tuple[int, int]
"""How much more it takes, and how much more that saves."""


class Curve:
    """The most that can be saved in any steps, parts of them too."""

    def __init__(self, steps: Iterable[Step]) -> None:
        self._steps = sorted(steps, key=lambda step: Fraction(*step))
        self._taken = list(accumulate((takes for takes, _ in self._steps), initial=0))
        self._saved = list(accumulate((saves for _, saves in self._steps), initial=0))

    def at(self, taken: int) -> int:
        """Return the most that is saved by taking so much, rounded down."""
        whole = bisect_right(self._taken, taken) - 1
        if whole == len(self._steps):
            return self._saved[whole]
        takes, saves = self._steps[whole]
        return self._saved[whole] + saves * (taken - self._taken[whole]) // takes


def steps_of(points: Iterable[Step]) -> list[Step]:
    """Return the steps, dearer and dearer, along the upper hull of what it takes and saves, from nothing on."""
    hull = [(0, 0)]
    for takes, saves in sorted(points):
        if saves <= hull[-1][1]:
            continue
        while len(hull) > 1 and _dearness(hull[-2], hull[-1]) >= _dearness(hull[-2], (takes, saves)):
            hull.pop()
        hull.append((takes, saves))
    return [(right[0] - left[0], right[1] - left[1]) for left, right in pairwise(hull)]


def _dearness(left: Step, right: Step) -> Fraction:
    return Fraction(right[0] - left[0], right[1] - left[1])
