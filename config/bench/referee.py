"""Small days handed whole to a solver that shares nothing with the plan: is there one that costs less?"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from decimal import Decimal
from importlib import import_module
from importlib.util import find_spec
from math import inf
from typing import Any

from config.bench.cut_days import CutDay
from config.bench.cut_references import prices, require_feasible
from config.bench.timing import Row
from materials.calc.roll_lengths import RollLength
from materials.calc.rolls import Cut, Remnant, plan_cuts
from openings.calc.figures import ceil_ratio

PACKAGE = "scipy"
DAYS = 12
STRIPS = 12

Sized = tuple[Decimal, Decimal]
Line = tuple[list[Decimal], float, float]
"""Factors of the unknowns, and the least and the most that their sum may be."""

TIMBERS = CutDay(
    pieces=tuple(
        Cut(Decimal(length_in), label=f"timber {place}")
        for place, length_in in enumerate(("43.125", "48.875", "44.5", "44.5", "44.5"))
    ),
    roll_lengths=tuple(
        RollLength(Decimal(length_in), price=Decimal(price))
        for length_in, price in ((96, "20.57"), (120, "29.97"), (144, "37.27"))
    ),
    remnants=(),
    trim_in=Decimal(0),
)
"""Three stock lengths with prices; 57.84 by exhaustion, one of 96 in and one of 144 in."""


def referee_row() -> Row:
    """Count the small days on which an assignment model of whole numbers finds nothing cheaper than the plan."""
    name, reference, aim = "small days without a cheaper plan", f"all, by {PACKAGE} on an assignment model", 1
    if find_spec(PACKAGE) is None:
        return Row(name=name, reference=reference, aim=aim, at_least=True, skipped=f"{PACKAGE} is not installed")
    days = [TIMBERS, *small_days(DAYS)]
    agreed = sum(_planned_cost(day) == least_cost(day) for day in days)
    return Row(name=name, reference=reference, ours=agreed, theirs=len(days), aim=aim, at_least=True, unit="days")


def small_days(count: int) -> list[CutDay]:
    """Return so many days of a dozen strips in half feet: one roll length in turn with three that have prices."""
    return [_small_day(random.Random(f"small {place}"), priced=place % 2 == 1) for place in range(count)]  # noqa: S311


def _small_day(chance: random.Random, *, priced: bool) -> CutDay:
    kinds = [RollLength(Decimal(300))]
    if priced:
        kinds = [RollLength(Decimal(feet * 12), price=Decimal(chance.randint(18, 24) * feet)) for feet in (20, 25, 30)]
    return CutDay(
        pieces=tuple(
            Cut(Decimal(chance.randint(5, 20) * 6), label=f"W{number} strip") for number in range(1, STRIPS + 1)
        ),
        roll_lengths=tuple(kinds),
        remnants=tuple(Remnant(Decimal(chance.randint(6, 20) * 6), code=f"R{place}") for place in range(2)),
    )


def _planned_cost(day: CutDay) -> Decimal:
    plan = plan_cuts(day.pieces, roll_lengths=day.roll_lengths, remnants=day.remnants, trim_in=day.trim_in)
    require_feasible(day, plan)
    return plan.cost


def least_cost(day: CutDay) -> Decimal:
    """Return what the new rolls of a day cost at least: which strip comes from which roll, left to the solver.

    Source:
        The assignment model of L. V. Kantorovich, Mathematical methods of organizing and planning production
        (1939; Management Science 6, 1960). A strip takes its length and a trim, a roll holds its length and one trim.
    """
    optimize: Any = import_module(f"{PACKAGE}.optimize")
    rolls = [(remnant.length_in, Decimal(0)) for remnant in day.remnants]
    for length_in, price in prices(day):
        rolls += [(length_in, price)] * _most_rolls(day, length_in)
    costs = [price for _, price in rolls] + [Decimal(0)] * len(rolls) * len(day.pieces)
    lines = [*_held(day, rolls), *_cut_once(day, rolls), *_in_turn(day, rolls)]
    answer = optimize.milp(
        [float(cost) for cost in costs],
        integrality=1,
        bounds=optimize.Bounds(0, 1),
        constraints=optimize.LinearConstraint(
            [[float(factor) for factor in line] for line, _, _ in lines],
            [least for _, least, _ in lines],
            [most for _, _, most in lines],
        ),
        options={"mip_rel_gap": 0},
    )
    if not answer.success:
        raise RuntimeError(f"the referee gave up: {answer.message}")
    return sum((cost for cost, value in zip(costs, answer.x, strict=True) if round(value)), Decimal(0))


def _held(day: CutDay, rolls: Sequence[Sized]) -> Iterator[Line]:
    """Yield for each roll that its strips are no longer than itself, or nothing where it stays shut."""
    needed_in = [cut.length_in + day.trim_in for cut in day.pieces]
    for place, (length_in, _) in enumerate(rolls):
        line = _nothing(day, rolls)
        line[place] = -(length_in + day.trim_in)
        start = len(rolls) + place * len(needed_in)
        line[start : start + len(needed_in)] = needed_in
        yield line, -inf, 0


def _cut_once(day: CutDay, rolls: Sequence[Sized]) -> Iterator[Line]:
    """Yield for each strip that one roll gives it."""
    for place in range(len(day.pieces)):
        line = _nothing(day, rolls)
        line[len(rolls) + place :: len(day.pieces)] = [Decimal(1)] * len(rolls)
        yield line, 1, 1


def _in_turn(day: CutDay, rolls: Sequence[Sized]) -> Iterator[Line]:
    """Yield that new rolls of one length are opened in turn: plans that differ in no more than that are one plan."""
    for place in range(len(day.remnants) + 1, len(rolls)):
        if rolls[place] == rolls[place - 1]:
            line = _nothing(day, rolls)
            line[place - 1 : place + 1] = [Decimal(-1), Decimal(1)]
            yield line, -inf, 0


def _nothing(day: CutDay, rolls: Sequence[Sized]) -> list[Decimal]:
    """Return a factor of 0 for whether each roll is opened, and for each strip's coming from each roll."""
    return [Decimal(0)] * len(rolls) * (1 + len(day.pieces))


def _most_rolls(day: CutDay, length_in: Decimal) -> int:
    """Return how many rolls first-fit needs at most: all but the last are more than half full."""
    total_in = sum((cut.length_in + day.trim_in for cut in day.pieces), Decimal(0))
    return ceil_ratio(2 * total_in, length_in) + 1
