"""The rolls of one product for all crews of a day: who gets which remnant from the warehouse."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import chain

from materials.calc.roll_lengths import RollLength, prices
from materials.calc.rolls import KEEP_IN, NO_TRIM, Cut, CutPlan, Remnant, never, plan_cuts
from materials.calc.sharing.demand import CANNOT, Set
from materials.calc.sharing.search import allot
from materials.calc.sharing.spread import Allotted, spread
from materials.calc.sharing.widths import Widths
from materials.errors import NothingToCutFrom, PieceTooLong
from openings.calc.figures import ceil_ratio

NODES, ROUNDS = 2_000, 3
"""Steps of one search for who gets what, about 0.1 s, and as many searches that use them all up (our choice)."""

SPARE = 300
"""Pieces that are planned anew at most, beside each of the day twice, before the best found is taken (our choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewCuts:
    """What a crew cuts on a day, and the remnants on its truck, which no other crew can have."""

    crew: str
    pieces: tuple[Cut, ...]
    remnants: tuple[Remnant, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class DayPlan:
    """A plan for each crew, and the cost of new rolls below which no plans for the day can go.

    `allotted` are the remnants from the warehouse that each crew cuts from; one nobody cuts from stays there.
    """

    plans: Mapping[str, CutPlan]
    allotted: Mapping[str, tuple[Remnant, ...]]
    rolls_lower_bound: int
    cost_lower_bound: Decimal

    @property
    def rolls_new(self) -> int:
        """How many new rolls are opened by all crews."""
        return sum(plan.rolls_new for plan in self.plans.values())

    @property
    def cost(self) -> Decimal:
        """What the new rolls of all crews cost."""
        return sum((plan.cost for plan in self.plans.values()), Decimal(0))

    @property
    def proven(self) -> bool:
        """Whether no plans for the day cost less, however the remnants are shared out."""
        return self.cost == self.cost_lower_bound

    @property
    def is_cut_short(self) -> bool:
        """Whether the time limit ended the search of a crew's plan."""
        return any(plan.is_cut_short for plan in self.plans.values())


def plan_day(
    crews: Iterable[CrewCuts],
    *,
    roll_lengths: Sequence[RollLength],
    remnants: Iterable[Remnant] = (),
    trim_in: Decimal = NO_TRIM,
    keep_in: Decimal = KEEP_IN,
    is_over: Callable[[], bool] = never,
) -> DayPlan:
    """Return plans that cut every piece of every crew; the order of crews and remnants changes nothing.

    In this order: the new rolls of all crews cost least; the remnants are used. A remnant goes to one crew at most.
    A crew alone gets the plan of `plan_cuts` with all remnants.

    Args:
        crews: each once.
        roll_lengths: in which new rolls come, for all crews alike; see `plan_cuts`.
        remnants: in the warehouse; each goes to one crew or stays.
        trim_in: lost between two cuts and after a cut that does not end the roll, >= 0.
        keep_in: the shortest remnant worth keeping.
        is_over: asked now and then; once true, the best plans so far are returned.

    Raises:
        PieceTooLong: a piece fits on no new roll and no remnant that its crew can have.
        NothingToCutFrom: no length of new rolls is given and the remnants do not hold everything.
        ValueError: two crews have one name.
    """
    stock = tuple(sorted(remnants, key=lambda remnant: (-remnant.length_in, remnant.code)))
    in_order = sorted(crews, key=lambda crew: crew.crew)
    if len({crew.crew for crew in in_order}) < len(in_order):
        raise ValueError("a crew is named twice")

    def cut(crew: CrewCuts, allotted: Iterable[Remnant]) -> CutPlan:
        held = (*crew.remnants, *allotted)
        return plan_cuts(
            crew.pieces,
            roll_lengths=roll_lengths,
            remnants=held,
            trim_in=trim_in,
            keep_in=keep_in,
            is_over=is_over,
        )

    busy = [crew for crew in in_order if crew.pieces]
    if len(busy) > 1 and stock:
        made, least = _Sharing(busy, stock, cut, _widths(busy, stock, roll_lengths, trim_in)).plans(is_over)
        rolls_least = ceil_ratio(least, max(prices(roll_lengths), default=Decimal(0)) or Decimal(1))
    else:
        made = [cut(crew, stock) for crew in busy]
        least = sum((plan.cost_lower_bound for plan in made), Decimal(0))
        rolls_least = sum(plan.rolls_lower_bound for plan in made)
    plans = {crew.crew: cut(crew, ()) for crew in in_order if not crew.pieces}
    plans |= {crew.crew: plan for crew, plan in zip(busy, made, strict=True)}
    return DayPlan(
        plans={crew.crew: plans[crew.crew] for crew in in_order},
        allotted={
            crew.crew: tuple(stock[n] for n in _used(plans[crew.crew], crew, stock, range(len(stock))))
            for crew in in_order
        },
        rolls_lower_bound=rolls_least,
        cost_lower_bound=least,
    )


def _widths(
    crews: Sequence[CrewCuts], stock: Sequence[Remnant], roll_lengths: Sequence[RollLength], trim_in: Decimal
) -> Widths:
    lengths = [remnant.length_in for remnant in chain(stock, *(crew.remnants for crew in crews))]
    lengths += [piece.length_in for crew in crews for piece in crew.pieces]
    return Widths.of(lengths, roll_lengths=roll_lengths, trim_in=trim_in)


def _used(plan: CutPlan, crew: CrewCuts, stock: Sequence[Remnant], allotted: Iterable[int]) -> Allotted:
    """Return which of the remnants allotted to the crew its plan cuts from, where its truck has no such one."""
    cut = Counter(Remnant(roll.length_in, roll.remnant) for roll in plan.rolls if roll.remnant is not None)
    cut -= Counter(crew.remnants)
    used = []
    for n in allotted:
        if cut[stock[n]] > 0:
            cut[stock[n]] -= 1
            used.append(n)
    return tuple(used)


class _Sharing:
    """The plans made so far for the crews of a day.

    Each crew is planned without the warehouse first; then who gets what is searched by lengths alone and planned, and
    where a crew cannot keep what the lengths promised, searched again with that known.
    """

    def __init__(
        self,
        crews: Sequence[CrewCuts],
        stock: Sequence[Remnant],
        cut: Callable[[CrewCuts, Iterable[Remnant]], CutPlan],
        measures: Widths,
    ) -> None:
        self._crews, self._stock, self._cut, self._measures = crews, stock, cut, measures
        self._widths = [measures.width(remnant.length_in) for remnant in stock]
        self._demands = [
            measures.demand(
                [piece.length_in for piece in crew.pieces],
                held_in=[remnant.length_in for remnant in crew.remnants],
                stock=self._widths,
            )
            for crew in crews
        ]
        self._floors: list[list[tuple[Set, int]]] = [[] for _ in crews]
        self._made: dict[tuple[int, Allotted], CutPlan | None] = {}
        self._planned = 0
        self._most = 2 * sum(len(crew.pieces) for crew in crews) + SPARE
        self._refusal: PieceTooLong | NothingToCutFrom | None = None

    def plans(self, is_over: Callable[[], bool]) -> tuple[list[CutPlan], Decimal]:
        """Return a plan for each crew, and what the new rolls of all cost at least."""
        for n, crew in enumerate(self._crews):
            if self._plan(n, ()) is None:
                self._cut(crew, self._stock)
        allotted = self._allot_rest(self._share(is_over), is_over)
        plans = [plan for n, one in enumerate(allotted) if (plan := self._plan(n, one))]
        if len(plans) < len(allotted) and self._refusal:
            raise self._refusal
        return plans, min(self._least(), sum((plan.cost for plan in plans), Decimal(0)))

    def _plan(self, n: int, allotted: Allotted) -> CutPlan | None:
        """Return the crew's plan with the remnants allotted, None where its pieces cannot be cut."""
        if (n, allotted) not in self._made:
            widths = tuple(self._widths[place] for place in allotted)
            try:
                plan = self._cut(self._crews[n], [self._stock[place] for place in allotted])
            except (PieceTooLong, NothingToCutFrom) as refusal:
                plan, self._refusal = None, refusal
            self._floors[n].append((widths, self._measures.units(plan.cost_lower_bound) if plan else CANNOT))
            alone = self._made.get((n, ()))
            self._made[n, allotted] = alone if plan and alone and alone.cost < plan.cost else plan
            self._demands[n].learn(widths, self._cost(n, allotted))
            self._planned += len(self._crews[n].pieces)
        return self._made[n, allotted]

    def _cost(self, n: int, allotted: Allotted) -> int:
        plan = self._plan(n, allotted)
        return self._measures.units(plan.cost) if plan else CANNOT

    def _share(self, is_over: Callable[[], bool]) -> list[Allotted]:
        """Return what to allot to each crew so that all new rolls cost least."""
        best: list[Allotted] = [()] * len(self._crews)
        least = sum(self._cost(n, one) for n, one in enumerate(best))
        allotted = best
        nodes = ROUNDS * NODES
        while least > (promised := allot(self._demands, self._widths, nodes=min(nodes, NODES))).cost:
            planned = self._planned
            nodes -= min(nodes, NODES) - promised.nodes
            allotted = spread(self._demands, self._widths, self._places(promised.given, allotted), kept=allotted)
            cost = sum(self._cost(n, one) for n, one in enumerate(allotted))
            if cost < least:
                best, least = allotted, cost
            if is_over() or self._planned == planned or self._planned > self._most or nodes <= 0:
                break
        return best

    def _allot_rest(self, allotted: list[Allotted], is_over: Callable[[], bool]) -> list[Allotted]:
        """Return what to allot so that remnants that save no roll are used too, each offered to a crew once."""
        allotted = list(allotted)
        offered = {(n, place) for n, one in enumerate(allotted) for place in one}
        while True:
            used = [self._cut_by(n, one) for n, one in enumerate(allotted)]
            more = spread(self._demands, self._widths, used, barred=offered)
            for n in (n for n, one in enumerate(more) if one != used[n]):
                offered |= {(n, place) for place in more[n]}
                if self._is_better(n, more[n], than=allotted[n]):
                    allotted[n] = more[n]
            if more == used or is_over() or self._planned > self._most:
                return allotted

    def _is_better(self, n: int, allotted: Allotted, *, than: Allotted) -> bool:
        if self._cost(n, allotted) != self._cost(n, than):
            return self._cost(n, allotted) < self._cost(n, than)
        return self._held(n, self._cut_by(n, allotted)) > self._held(n, self._cut_by(n, than))

    def _cut_by(self, n: int, allotted: Allotted) -> Allotted:
        plan = self._plan(n, allotted)
        return _used(plan, self._crews[n], self._stock, allotted) if plan else ()

    def _held(self, n: int, allotted: Iterable[int]) -> int:
        """Return how much of the crew's pieces the remnants can hold."""
        return sum(self._demands[n].fill.of(self._widths[place]) for place in allotted)

    def _places(self, widths: Sequence[Set], before: Sequence[Allotted]) -> list[Allotted]:
        """Return remnants of these widths for each crew, those allotted to it before if it may be."""
        free: dict[int, list[int]] = {}
        for place, width in enumerate(self._widths):
            free.setdefault(width, []).append(place)
        allotted: list[Allotted] = []
        for own, wanted in zip(before, widths, strict=True):
            chosen = []
            for width in wanted:
                chosen.append(next((place for place in free[width] if place in own), free[width][0]))
                free[width].remove(chosen[-1])
            allotted.append(tuple(sorted(chosen)))
        return allotted

    def _least(self) -> Decimal:
        """Return what the new rolls of all crews cost at least, from what is proven of each plan alone."""
        demands = [replace(demand, known=known) for demand, known in zip(self._demands, self._floors, strict=True)]
        return self._measures.cost(allot(demands, self._widths, nodes=NODES).at_least)
