"""Roll cuts of invented days and of bin-packing instances, against bounds, plainer ways to cut and set times."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from time import perf_counter

from config.bench import cut_days, cut_instances
from config.bench.cut_days import CutDay
from config.bench.cut_instances import Instance
from config.bench.cut_references import (
    best_fit_decreasing,
    first_fit_decreasing,
    kept,
    packing_bound,
    require_feasible,
    scrap_in,
    volume_bound,
)
from config.bench.timing import Row
from materials.calc.roll_lengths import RollLength
from materials.calc.rolls import Cut, CutPlan, plan_cuts

DAYS_A_FAMILY, PRICED_DAYS, STRIPS, INSTANCES_A_KIND = 20, 40, 2_000, 2
DAY_S, BIG_DAY_S, LIMIT_S = 0.05, 1.0, 2.0
LATE = 1.05
"""A search told that its time is over takes some of it to stop."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """A day's plan, and how long it took."""

    day: CutDay
    plan: CutPlan
    seconds: float

    @property
    def is_at_volume_bound(self) -> bool:
        return self.plan.cost == volume_bound(self.day)

    @property
    def lefts_in(self) -> list[Decimal]:
        return [roll.left_in for roll in self.plan.rolls]


@dataclass(frozen=True, slots=True, kw_only=True)
class Packed:
    """An instance's packing beside the fewest bins that it can take."""

    bins: int
    fewest: int
    is_known: bool
    first_fit_bins: int
    seconds: float


def days_at_the_bound_row() -> Row:
    """Count the days on which no plan opens fewer rolls."""
    return _at_the_bound("days of roll cuts at the bound", _days(), aim=1)


def slowest_day_row() -> Row:
    """Measure the slowest of the same days."""
    return _time("slowest of the same days", _days(), goal_s=DAY_S)


def scrap_row() -> Row:
    """Measure what is left of the rolls of the same days and too short to keep."""
    done = _days()
    return Row(
        name="scrap of the same days",
        reference="best-fit decreasing, remnants first",
        ours=float(sum(scrap_in(one.lefts_in) for one in done)),
        theirs=float(sum(scrap_in(best_fit_decreasing(one.day)) for one in done)),
        aim=0.05,
        unit="in",
    )


def returned_row() -> Row:
    """Count the remnants returned on the day that returns the most beyond best-fit decreasing."""
    more = [kept(one.lefts_in) - kept(best_fit_decreasing(one.day)) for one in _days()]
    return Row(
        name="remnants returned beyond it, worst day",
        reference=f"one; {sum(more) / len(more):+.2f} in the mean",
        ours=max(more),
        aim=1,
        unit="remnants",
    )


def big_day_row() -> Row:
    """Measure a day of 2,000 strips."""
    return _time(f"roll cuts of {STRIPS:,} strips", [_planned(cut_days.big_day(STRIPS))], goal_s=BIG_DAY_S)


def priced_days_row() -> Row:
    """Count the days with three priced roll lengths on which no plan costs less."""
    done = [_planned(day) for day in cut_days.priced_days(PRICED_DAYS)]
    return _at_the_bound("days of three roll lengths at the bound", done, aim=39 / 40)


def packing_row() -> Row:
    """Count the bin-packing instances packed into the fewest bins; where that is not known, it counts as missed."""
    done = _packings()
    unknown, plain = sum(not one.is_known for one in done), sum(one.first_fit_bins == one.fewest for one in done)
    return Row(
        name=f"bin packings at the optimum, {INSTANCES_A_KIND} a kind",
        reference=f"all; {unknown} of unknown optimum; first-fit decreasing {plain}",
        ours=sum(one.bins == one.fewest for one in done),
        theirs=len(done),
        aim=0.96,
        at_least=True,
        unit="packings",
    )


def worst_packing_row() -> Row:
    """Count the bins that the worst of the same packings takes beyond its optimum, where that is known."""
    known = [one for one in _packings() if one.is_known]
    return Row(
        name="bins beyond the optimum, worst packing",
        reference=f"one; {len(_packings()) - len(known)} of unknown optimum left out",
        ours=max(one.bins - one.fewest for one in known),
        aim=1,
        unit="bins",
    )


def slowest_packing_row() -> Row:
    """Measure the slowest of the same packings."""
    return _time(
        "slowest of the same packings",
        _packings(),
        goal_s=LIMIT_S,
        aim=LATE,
    )


def _at_the_bound(name: str, done: list[Planned], *, aim: float) -> Row:
    plain = sum(one.is_at_volume_bound for one in done)
    return Row(
        name=name,
        reference=f"all; {plain} at the bound of volume, the others by the plan's own",
        ours=sum(one.plan.proven for one in done),
        theirs=len(done),
        aim=aim,
        at_least=True,
        unit="days",
    )


def _time(name: str, done: Iterable[Planned | Packed], *, goal_s: float, aim: float = 1) -> Row:
    return Row(name=name, reference="the goal", ours=max(one.seconds for one in done), theirs=goal_s, aim=aim)


def _days() -> list[Planned]:
    return _days_of(DAYS_A_FAMILY)


@cache
def _days_of(count: int) -> list[Planned]:
    return [_planned(day) for family in cut_days.FAMILIES for day in cut_days.days(family, count)]


def _packings() -> list[Packed]:
    return _packings_of(tuple(cut_instances.KINDS), INSTANCES_A_KIND)


@cache
def _packings_of(kinds: tuple[str, ...], count: int) -> list[Packed]:
    return [_packed(one) for kind in kinds for one in cut_instances.instances(kind, count)]


def _packed(instance: Instance) -> Packed:
    capacity, sizes = instance.capacity, instance.sizes
    done = _planned(
        CutDay(
            pieces=tuple(Cut(Decimal(size), label=str(place)) for place, size in enumerate(sizes)),
            roll_lengths=(RollLength(Decimal(capacity)),),
            remnants=(),
            trim_in=Decimal(0),
        )
    )
    bins = done.plan.rolls_new
    bound = instance.optimum or max(packing_bound(capacity, sizes), done.plan.rolls_lower_bound)
    return Packed(
        bins=bins,
        fewest=bound,
        is_known=instance.optimum is not None or bins == bound,
        first_fit_bins=first_fit_decreasing(capacity, sizes),
        seconds=done.seconds,
    )


def _planned(day: CutDay) -> Planned:
    """Return the plan found within the time limit, checked."""
    start = perf_counter()
    plan = plan_cuts(
        day.pieces,
        roll_lengths=day.roll_lengths,
        remnants=day.remnants,
        trim_in=day.trim_in,
        is_over=over_after(LIMIT_S),
    )
    took_s = perf_counter() - start
    require_feasible(day, plan)
    return Planned(day=day, plan=plan, seconds=took_s)


def over_after(limit_s: float) -> Callable[[], bool]:
    """Return what tells whether so much time has passed from now."""
    end = perf_counter() + limit_s
    return lambda: perf_counter() > end
