"""Which new rolls might do; what is expected is worked by hand or by counting all combinations."""

from __future__ import annotations

from itertools import islice, product, takewhile

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.calc.cutting.supply import MOST_MIXED, Choice, Kind, Need, choices, least_cost


def of(*rooms: int, cost: int) -> Choice:
    return Choice(cost, sum(rooms), rooms)


@pytest.mark.parametrize(
    ("kinds", "needs", "first"),
    [
        pytest.param([Kind(100, 1)], [Need(0, 250, 0)], [of(100, 100, 100, cost=3)], id="by volume"),
        pytest.param([Kind(100, 1)], [Need(0, 90, 2)], [of(100, 100, cost=2)], id="by count"),
        pytest.param(
            [Kind(50, 6), Kind(100, 10)],
            [Need(0, 140, 0)],
            [of(50, 100, cost=16), of(50, 50, 50, cost=18), of(100, 100, cost=20)],
            id="the cheapest first",
        ),
        # A piece of more than 50 needs a long one.
        pytest.param(
            [Kind(50, 1), Kind(100, 10)], [Need(0, 100, 0), Need(50, 60, 1)], [of(100, cost=10)], id="long pieces"
        ),
        pytest.param([Kind(100, 7)], [Need(0, 0, 0)], [of(cost=0), of(100, cost=7)], id="nothing is needed"),
    ],
)
def test_choices(kinds, needs, first):
    assert list(islice(choices(kinds, needs), len(first))) == first
    assert least_cost(kinds, needs) == first[0].cost


def test_of_very_many_rolls_the_first_are_of_the_kind_cheapest_by_the_inch():
    kinds, needs = [Kind(100, 10), Kind(60, 7)], [Need(0, 10_000, 100)]
    first = next(choices(kinds, needs))
    assert (first.cost, first.room) == (1000, 10_000)
    assert first.rooms.count(100) >= 100 - MOST_MIXED
    assert least_cost(kinds, needs) == 1000


KINDS = st.dictionaries(st.integers(5, 30), st.integers(1, 9), min_size=1, max_size=3).map(
    lambda prices: [Kind(room, price) for room, price in prices.items()]
)


@given(KINDS, st.integers(0, 90), st.integers(0, 4), st.data())
def test_every_choice_up_to_a_cost_comes_once_and_in_order(kinds, volume, rolls, data):
    above = data.draw(st.sampled_from([0, *(kind.room for kind in kinds)][:-1] or [0]))
    needs = [Need(0, volume, rolls)]
    if max(kinds).room > above:
        needs.append(Need(above, volume // 2, 1))
    limit = least_cost(kinds, needs) + 10
    found = list(takewhile(lambda choice: choice.cost <= limit, choices(kinds, needs)))
    assert [choice.cost for choice in found] == sorted(choice.cost for choice in found)
    assert sorted(choice.rooms for choice in found) == sorted(meeting(kinds, needs, limit))
    assert all(choice.room == sum(choice.rooms) for choice in found)


def meeting(kinds: list[Kind], needs: list[Need], limit: int) -> list[tuple[int, ...]]:
    """Return all combinations of rolls that cost no more than a limit and meet the needs."""
    found = []
    for counts in product(*(range(limit // kind.price + 1) for kind in kinds)):
        rolls = [kind for kind, count in zip(kinds, counts, strict=True) for _ in range(count)]
        serving = [[kind.room for kind in rolls if kind.room > need.above] for need in needs]
        if sum(kind.price for kind in rolls) <= limit and all(
            sum(rooms) >= need.volume and len(rooms) >= need.rolls for need, rooms in zip(needs, serving, strict=True)
        ):
            found.append(tuple(sorted(kind.room for kind in rolls)))
    return found
