"""Timing two ways of doing the same, turn by turn, so that a busy machine is busy for both."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

TURNS = 7


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One measurement against its reference, in `unit`; `skipped` says why there is none.

    `aim` is the ratio at most to be had; with `at_least`, where more is better, at least.
    """

    name: str
    reference: str
    ours: float = 0
    theirs: float = 1
    aim: float
    at_least: bool = False
    unit: str = "s"
    skipped: str = ""

    @property
    def ratio(self) -> float:
        return self.ours / self.theirs


def compare(
    *,
    name: str,
    reference: str,
    aim: float,
    ours: Callable[[], object],
    bare: Callable[[], object],
    reset: Callable[[], object] = lambda: None,
    turns: int = TURNS,
) -> Row:
    """Return the row of `ours` against `bare`, the best of several turns on either side; `reset` runs before each."""
    best = {ours: float("inf"), bare: float("inf")}
    for _ in range(turns):
        for work in (ours, bare):
            reset()
            best[work] = min(best[work], seconds(work))
    return Row(name=name, reference=reference, ours=best[ours], theirs=best[bare], aim=aim)


def seconds(work: Callable[[], object]) -> float:
    """Return how long a piece of work takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start
