"""The least cost of new rolls as an integer program over the ways to cut a roll, for a solver from outside."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from materials.calc.roll_lengths import RollLength
from materials.calc.rolls import NO_TRIM, Cut, Remnant
from tests.materials.calc.cut_checks import price_of

Pattern = tuple[int, ...]


def solved(
    pieces: Sequence[Cut],
    roll_lengths: Sequence[RollLength],
    remnants: Sequence[Remnant] = (),
    *,
    trim_in: Decimal = NO_TRIM,
    is_whole: bool = True,
) -> float | None:
    """Return the least cost of new rolls, or with `is_whole` false that of fractions of rolls; None if they won't do.

    Every pattern of every length is a column: how often it is cut, a remnant at most once; every size is demanded so
    often or more.

    Source:
        The pattern model of Gilmore and Gomory (1961), all columns at once; solved by HiGHS by way of SciPy.
    """
    demands = Counter(cut.length_in for cut in pieces)
    sizes_in = sorted(demands, reverse=True)
    columns, prices = [], []
    rows: list[list[int]] = []
    wholes = [(kind.length_in, price_of(kind.length_in, roll_lengths), None) for kind in roll_lengths]
    wholes += [(remnant.length_in, Decimal(0), place) for place, remnant in enumerate(remnants)]
    for length_in, price, place in wholes:
        for pattern in fullest(sizes_in, [demands[size] for size in sizes_in], length_in + trim_in, trim_in):
            columns.append(pattern)
            prices.append(float(price))
            rows.append([int(place == other) for other in range(len(remnants))])
    if not columns:
        return None
    held = np.array(columns).T
    constraints = [LinearConstraint(held, lb=[demands[size] for size in sizes_in])]
    if remnants:
        constraints.append(LinearConstraint(np.array(rows).T, ub=1))
    answer = milp(prices, constraints=constraints, integrality=int(is_whole), bounds=Bounds(lb=0))
    return answer.fun if answer.success else None


def fullest(
    sizes_in: Sequence[Decimal], counts: Sequence[int], room_in: Decimal, trim_in: Decimal
) -> Iterator[Pattern]:
    """Yield the ways to cut a roll, of the last size always as many as fit."""
    if not sizes_in:
        yield ()
        return
    size_in = sizes_in[0] + trim_in
    most = min(counts[0], int(room_in / size_in))
    for count in range(most if len(sizes_in) == 1 else 0, most + 1):
        for rest in fullest(sizes_in[1:], counts[1:], room_in - count * size_in, trim_in):
            yield (count, *rest)
