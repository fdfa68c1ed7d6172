"""Whether time and memory of the computations grow in step with the openings."""

from __future__ import annotations

import tracemalloc
from collections.abc import Sequence

from config.bench.draw import Pair, calculate, mixed_pairs
from config.bench.timing import Row, seconds
from materials.calc.draw import draw_of
from openings.calc.labor import labor_of

FEW, TIMES = 10_000, 10
TURNS = 3

EXPONENT = 1.05
AIM = round(TIMES ** (EXPONENT - 1), 3)
"""So much more than ten times as much is an exponent of 1.05."""


def time_growth_row() -> Row:
    """Measure draw, labor and lift of ten times as many openings against ten times the time."""
    few, many = mixed_pairs(FEW), mixed_pairs(FEW * TIMES)
    return Row(
        name=f"time for {FEW * TIMES:,} openings",
        reference=f"{TIMES} × the time for {FEW:,} (aim: exponent {EXPONENT})",
        ours=min(seconds(lambda: calculate(many)) for _ in range(TURNS)),
        theirs=TIMES * min(seconds(lambda: calculate(few)) for _ in range(TURNS)),
        aim=AIM,
    )


def memory_growth_row() -> Row:
    """Measure the memory that all lines of draw and labor take, for ten times as many openings."""
    return Row(
        name=f"memory of {FEW * TIMES:,} openings' lines",
        reference=f"{TIMES} × the memory of {FEW:,} (aim: exponent {EXPONENT})",
        ours=_megabytes(mixed_pairs(FEW * TIMES)),
        theirs=TIMES * _megabytes(mixed_pairs(FEW)),
        aim=AIM,
        unit="MB",
    )


def _megabytes(pairs: Sequence[Pair]) -> float:
    """Return the peak of keeping every line."""
    tracemalloc.start()
    try:
        _kept = [(draw_of(*pair), labor_of(*pair)) for pair in pairs]
        return tracemalloc.get_traced_memory()[1] / 1e6
    finally:
        tracemalloc.stop()
