"""Timing two ways of doing the same, turn by turn, so that a busy machine is busy for both."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

TURNS = 7


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One measurement: the best of several turns on either side."""

    name: str
    reference: str
    ours_s: float
    reference_s: float
    aim: float

    @property
    def ratio(self) -> float:
        return self.ours_s / self.reference_s


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
    """Return the row of `ours` against `bare`; `reset` runs, untimed, before each."""
    best = {ours: float("inf"), bare: float("inf")}
    for _ in range(turns):
        for work in (ours, bare):
            reset()
            start = time.perf_counter()
            work()
            best[work] = min(best[work], time.perf_counter() - start)
    return Row(name=name, reference=reference, ours_s=best[ours], reference_s=best[bare], aim=aim)
