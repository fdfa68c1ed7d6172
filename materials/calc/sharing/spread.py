"""Who gets the remnants that save nobody a roll."""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence

from materials.calc.sharing.demand import Demand

Allotted = tuple[int, ...]
"""Remnants allotted to a crew: their places in the stock, which is longest first."""


def spread(
    demands: Sequence[Demand],
    stock: Sequence[int],
    allotted: Sequence[Allotted],
    *,
    kept: Sequence[Allotted] = (),
    barred: Container[tuple[int, int]] = (),
) -> list[Allotted]:
    """Return what is allotted to each crew and the remnants nobody has, where a crew can cut from them.

    A crew that was promised a saving with hardly a piece to spare comes first, so that it can be kept; else a remnant
    goes where least of it is left over.

    Args:
        stock: widths.
        kept: what was allotted before; a free remnant stays with its crew.
        barred: crews and remnants that do not go together.
    """
    crews = [_Crew(demand, [stock[place] for place in one]) for demand, one in zip(demands, allotted, strict=True)]
    more = [list(one) for one in allotted]
    for place in _free(len(stock), allotted):
        open_to = [n for n, crew in enumerate(crews) if crew.can_use(stock[place]) and (n, place) not in barred]
        if open_to:
            before = {n for n in open_to if kept and place in kept[n]}
            n = min(before or open_to, key=lambda n: (*crews[n].urgency(stock[place]), n))
            crews[n].take(stock[place])
            more[n].append(place)
    return [tuple(sorted(one)) for one in more]


def _free(count: int, allotted: Sequence[Allotted]) -> Iterable[int]:
    taken = {place for one in allotted for place in one}
    return (place for place in range(count) if place not in taken)


class _Crew:
    """What a crew still cuts from new rolls, and how much its remnants hold beyond what was promised."""

    def __init__(self, demand: Demand, given: Sequence[int]) -> None:
        self._demand = demand
        held = demand.held(given)
        self._on_new = demand.volume - held
        cost = demand.least(tuple(given))
        self._spare = held - demand.needed(cost) if cost < demand.alone else demand.volume

    def can_use(self, width: int) -> bool:
        return self._on_new > 0 and self._demand.fill.of(width) > 0

    def urgency(self, width: int) -> tuple[int, int, int]:
        """Return how early the crew comes, the least first."""
        return (min(self._spare, self._demand.fill.pieces[-1]), -self._demand.fill.of(width), -self._on_new)

    def take(self, width: int) -> None:
        held = self._demand.fill.of(width)
        self._on_new -= held
        self._spare += held
