from __future__ import annotations

import random
from collections import Counter
from decimal import Decimal
from functools import cache
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.calc import day_cuts
from materials.calc.day_cuts import CrewCuts, DayPlan, plan_day
from materials.calc.roll_lengths import RollLength
from materials.calc.rolls import Cut, Remnant, plan_cuts
from materials.errors import NothingToCutFrom, PieceTooLong

# Every expected figure is worked by hand from the lengths given, or by trying everything (`least_by_trying`): who may
# have which remnant is our rule, no source.
ROLLS = (RollLength(Decimal(100)),)


def crew(name: str, *lengths: int, truck: tuple[int, ...] = ()) -> CrewCuts:
    return CrewCuts(
        crew=name,
        pieces=tuple(Cut(Decimal(length), f"{name}{n}") for n, length in enumerate(lengths)),
        remnants=tuple(Remnant(Decimal(length), f"{name}-truck-{n}") for n, length in enumerate(truck)),
    )


def shelf(*lengths: int) -> list[Remnant]:
    return [Remnant(Decimal(length), f"shelf-{n}") for n, length in enumerate(lengths)]


def assert_sound(day: DayPlan, crews, remnants, *, trim_in=Decimal(0)):
    """Every piece once, no roll over its length, no remnant twice or off another's truck, none allotted unused."""
    assert list(day.plans) == list(day.allotted) == sorted(one.crew for one in crews)
    assert day.cost_lower_bound <= day.cost
    assert day.rolls_lower_bound <= day.rolls_new
    allotted = Counter(remnant for allotted_to in day.allotted.values() for remnant in allotted_to)
    assert allotted <= Counter(remnants)
    for one in crews:
        rolls = day.plans[one.crew].rolls
        assert Counter(cut for roll in rolls for cut in roll.cuts) == Counter(one.pieces)
        for roll in rolls:
            taken = sum((cut.length_in + trim_in for cut in roll.cuts), Decimal(0))
            assert roll.cuts
            assert taken <= roll.length_in + trim_in
        cut_up = Counter(Remnant(roll.length_in, roll.remnant) for roll in rolls if roll.remnant is not None)
        allotted_to = Counter(day.allotted[one.crew])
        assert allotted_to <= cut_up
        assert cut_up - allotted_to <= Counter(one.remnants)


@pytest.mark.parametrize(
    ("crews", "remnants", "rolls", "allotted_to"),
    [
        pytest.param(
            # 90 + 60 is more than a roll for either crew; with the remnant one of them takes a roll less, not both.
            [crew("A", 90, 60), crew("B", 90, 60)],
            [60],
            {"A": 1, "B": 2},
            {"A": [60], "B": []},
            id="one remnant saves one crew a roll",
        ),
        pytest.param(
            # A takes a roll with or without it; B's 130 in take two rolls without it and one with it: 70 + 30 and 30.
            [crew("A", 60, 30), crew("B", 70, 30, 30)],
            [30],
            {"A": 1, "B": 1},
            {"A": [], "B": [30]},
            id="a remnant goes where it saves a roll",
        ),
        pytest.param(
            # The same, but it lies on A's truck: B cannot have it, and A cuts its 30 from it.
            [crew("A", 60, 30, truck=(30,)), crew("B", 70, 30, 30)],
            [],
            {"A": 1, "B": 2},
            {"A": [], "B": []},
            id="a remnant on a truck stays on it",
        ),
        pytest.param(
            # A could use either, B only the 60: so A makes do with the 35 and both take a roll.
            [crew("A", 80, 30), crew("B", 80, 60)],
            [60, 35],
            {"A": 1, "B": 1},
            {"A": [35], "B": [60]},
            id="the longer one is left to the crew that needs it",
        ),
        pytest.param(
            # B needs both 20s beside its roll (100 + 20 + 20), A the 50 (70 + 50): nobody takes a second roll.
            [crew("A", 70, 50), crew("B", 60, 40, 20, 20)],
            [20, 50, 20],
            {"A": 1, "B": 1},
            {"A": [50], "B": [20, 20]},
            id="two together save a roll",
        ),
        pytest.param(
            # By length both 50s together would save A two of three rolls, since each holds its 50; but there is one
            # 50 only, and 80 and 70 take a roll each. B takes a roll anyway. So three rolls is least.
            [crew("A", 80, 50, 70), crew("B", 90)],
            [50, 50],
            {"A": 2, "B": 1},
            {"A": [50], "B": []},
            id="what lengths promise and pieces do not keep",
        ),
        pytest.param(
            # 120 in is longer than a roll: only the remnant of 130 will do, and B, whom it would save a roll, does
            # without.
            [crew("A", 120), crew("B", 90, 90)],
            [130],
            {"A": 0, "B": 2},
            {"A": [130], "B": []},
            id="a piece longer than a roll has the first claim",
        ),
        pytest.param(
            # No piece is as short as 20 in.
            [crew("A", 30, 40), crew("B", 50)],
            [20],
            {"A": 1, "B": 1},
            {"A": [], "B": []},
            id="a remnant too short for all stays on the shelf",
        ),
    ],
)
def test_who_gets_what(crews, remnants, rolls, allotted_to):
    day = plan_day(crews, roll_lengths=ROLLS, remnants=shelf(*remnants))
    assert {name: plan.rolls_new for name, plan in day.plans.items()} == rolls
    assert {name: sorted(one.length_in for one in taken) for name, taken in day.allotted.items()} == allotted_to
    assert (day.proven, day.rolls_new, day.rolls_lower_bound) == (True, sum(rolls.values()), sum(rolls.values()))
    assert_sound(day, crews, shelf(*remnants))


def test_a_remnant_that_saves_nobody_a_roll_is_cut_up_by_one_crew():
    # Either crew takes one roll, with the remnant of 45 or without; one cuts its 40 from it.
    crews = [crew("A", 40, 30), crew("B", 40, 30)]
    day = plan_day(crews, roll_lengths=ROLLS, remnants=shelf(45))
    assert (day.rolls_new, sum(map(len, day.allotted.values()))) == (2, 1)


def test_a_remnant_goes_where_it_saves_the_dearer_roll():
    # Beside the remnant of 90, A saves a roll of 50 for 6 or B one of 100 for 10: what is left to pay is 6.
    prices = (RollLength(Decimal(50), Decimal(6)), RollLength(Decimal(100), Decimal(10)))
    day = plan_day([crew("A", 50), crew("B", 90)], roll_lengths=prices, remnants=shelf(90))
    assert (day.cost, day.cost_lower_bound, day.proven) == (6, 6, True)
    assert [remnant.length_in for remnant in day.allotted["B"]] == [90]


def test_a_trim_counts_on_remnants_too():
    # 30 + 1 + 29 = 60 ends the remnant, 30 + 1 + 30 does not fit it.
    trim_in = Decimal(1)
    day = plan_day([crew("A", 99, 30, 29), crew("B", 99)], roll_lengths=ROLLS, remnants=shelf(60), trim_in=trim_in)
    assert day.rolls_new == 2
    day = plan_day([crew("A", 99, 30, 30), crew("B", 99)], roll_lengths=ROLLS, remnants=shelf(60), trim_in=trim_in)
    assert day.rolls_new == 3


def test_thirds_of_an_inch_do_not_weaken_the_bound():
    # Three times 33.33333 in end a remnant of 100 in (but for a hundred-thousandth): one crew's only roll is saved.
    third = Decimal("33.33333")
    crews = [CrewCuts(crew=name, pieces=tuple(Cut(third, f"{name}{n}") for n in range(3))) for name in "AB"]
    day = plan_day(crews, roll_lengths=(RollLength(Decimal(900)),), remnants=shelf(100))
    assert (day.rolls_new, day.proven) == (1, True)


def test_two_crews_that_both_need_one_remnant_are_refused_by_name():
    with pytest.raises(PieceTooLong, match=r"[AB]0 needs 10' 0"):
        plan_day([crew("A", 120), crew("B", 120)], roll_lengths=ROLLS, remnants=shelf(130))
    with pytest.raises(PieceTooLong, match="A0 needs 11' 8\""):
        plan_day([crew("A", 140), crew("B", 50)], roll_lengths=ROLLS, remnants=shelf(130))


def test_without_new_rolls_the_remnants_are_shared_out_or_the_day_refused():
    crews = [crew("A", 40, 30), crew("B", 60, 20)]
    day = plan_day(crews, roll_lengths=(), remnants=shelf(70, 80))
    assert (day.rolls_new, day.proven) == (0, True)
    assert_sound(day, crews, shelf(70, 80))
    with pytest.raises(NothingToCutFrom):
        plan_day(crews, roll_lengths=(), remnants=shelf(70, 70))


def test_a_crew_alone_gets_the_plan_of_plan_cuts():
    one = crew("A", 70, 60, 50, 40, 40, 30, 20, truck=(45,))
    day = plan_day([one, crew("B")], roll_lengths=ROLLS, remnants=shelf(65, 25))
    remnants = [*one.remnants, *shelf(65, 25)]
    assert day.plans["A"] == plan_cuts(one.pieces, roll_lengths=ROLLS, remnants=remnants)
    assert day.plans["B"].rolls == day.allotted["B"] == ()


def test_no_crew_cuts_nothing():
    day = plan_day([], roll_lengths=ROLLS, remnants=shelf(50))
    assert (day.plans, day.rolls_new, day.proven) == ({}, 0, True)


def test_a_crew_named_twice_is_refused():
    with pytest.raises(ValueError, match="twice"):
        plan_day([crew("A", 50), crew("A", 60)], roll_lengths=ROLLS)


def test_when_the_time_is_over_at_once_the_plans_still_hold():
    crews = [crew("A", 60, 60), crew("B", 60, 60, truck=(30,))]
    assert_sound(
        plan_day(crews, roll_lengths=ROLLS, remnants=shelf(60, 70), is_over=lambda: True), crews, shelf(60, 70)
    )


lengths = st.integers(5, 100)
small_days = st.lists(
    st.tuples(st.lists(lengths, max_size=5), st.lists(lengths, max_size=1)), min_size=2, max_size=3
).map(lambda day: [crew("ABC"[n], *pieces, truck=tuple(truck)) for n, (pieces, truck) in enumerate(day)])


@given(crews=small_days, on_shelf=st.lists(lengths, max_size=3), trim_in=st.sampled_from([0, 1, 7]))
@settings(deadline=None)
def test_no_way_to_share_the_remnants_costs_less(crews, on_shelf, trim_in):
    day = plan_day(crews, roll_lengths=ROLLS, remnants=shelf(*on_shelf), trim_in=Decimal(trim_in))
    assert (day.cost, day.proven) == (least_by_trying(crews, on_shelf, {100: 1}, trim_in), True)
    assert_sound(day, crews, shelf(*on_shelf), trim_in=Decimal(trim_in))


@given(crews=small_days, on_shelf=st.lists(lengths, max_size=3), short=st.integers(1, 6), long=st.integers(4, 12))
@settings(deadline=None)
def test_no_way_to_share_the_remnants_costs_less_where_rolls_have_prices(crews, on_shelf, short, long):
    prices = {60: short, 100: long}
    rolls = [RollLength(Decimal(length), Decimal(price)) for length, price in prices.items()]
    day = plan_day(crews, roll_lengths=rolls, remnants=shelf(*on_shelf))
    least = least_by_trying(crews, on_shelf, prices, 0)
    assert day.cost_lower_bound <= least
    assert day.cost == least
    assert_sound(day, crews, shelf(*on_shelf))


@given(crews=small_days, on_shelf=st.lists(lengths, max_size=4), order=st.randoms(use_true_random=False))
@settings(deadline=None)
def test_the_order_of_crews_and_remnants_changes_nothing(crews, on_shelf, order):
    remnants = shelf(*on_shelf)
    day = plan_day(crews, roll_lengths=ROLLS, remnants=remnants)
    order.shuffle(crews)
    order.shuffle(remnants)
    assert plan_day(crews, roll_lengths=ROLLS, remnants=remnants) == day


def test_remnants_of_one_length_and_code_are_told_apart_by_their_number():
    # Two remnants that nothing tells apart: each crew takes one, and no crew both.
    crews, remnants = [crew("A", 90, 60), crew("B", 90, 60)], [Remnant(Decimal(60), "R")] * 2
    day = plan_day(crews, roll_lengths=ROLLS, remnants=remnants)
    assert (day.rolls_new, [len(allotted_to) for allotted_to in day.allotted.values()]) == (2, [1, 1])


def test_a_full_day_takes_three_plans_a_crew_at_most(monkeypatch):
    chance = random.Random(4)
    crews = [
        CrewCuts(
            crew=f"crew {n:02}",
            pieces=tuple(Cut(Decimal(chance.randint(480, 1920)) / 16, f"{n}-{m}") for m in range(100)),
            remnants=tuple(Remnant(Decimal(chance.randint(400, 2000)) / 16, f"{n}-truck-{m}") for m in range(2)),
        )
        for n in range(15)
    ]
    remnants = [Remnant(Decimal(chance.randint(400, 6000)) / 16, f"shelf {n}") for n in range(40)]
    planned = Counter()

    def counted(pieces, **stock):
        planned[pieces[0].label] += 1
        return plan_cuts(pieces, **stock)

    monkeypatch.setattr(day_cuts, "plan_cuts", counted)
    rolls = [RollLength(Decimal(900))]
    day = plan_day(crews, roll_lengths=rolls, remnants=remnants, trim_in=Decimal("0.125"))
    assert_sound(day, crews, remnants, trim_in=Decimal("0.125"))
    assert planned.total() <= 3 * len(crews)
    # Alone, a crew takes up to a roll more; all remnants together are worth some of them.
    alone = [
        plan_cuts(one.pieces, roll_lengths=rolls, remnants=one.remnants, trim_in=Decimal("0.125")) for one in crews
    ]
    assert day.rolls_new < sum(plan.rolls_new for plan in alone)
    assert day.rolls_new - day.rolls_lower_bound <= 1


def least_by_trying(crews, on_shelf, prices, trim):
    """Return the least cost of new rolls, every way to share out the remnants tried, and every way to cut."""

    @cache
    def cost(n, allotted_to):
        one = crews[n]
        pieces = sorted((int(piece.length_in) + trim for piece in one.pieces), reverse=True)
        held = [int(remnant.length_in) + trim for remnant in one.remnants] + [length + trim for length in allotted_to]
        return cheapest(tuple(pieces), tuple(sorted(held)))

    @cache
    def cheapest(pieces, free):
        if not pieces:
            return 0
        longest, *rest = pieces
        best = []
        for room in {room for room in free if room >= longest}:
            left = list(free)
            left.remove(room)
            best.append(cheapest(tuple(rest), tuple(sorted((*left, room - longest)))))
        for length, price in prices.items():
            if length + trim >= longest:
                best.append(price + cheapest(tuple(rest), tuple(sorted((*free, length + trim - longest)))))
        return min(best)

    def shared(owners):
        return sum(
            cost(n, tuple(sorted(length for length, owner in zip(on_shelf, owners, strict=True) if owner == n)))
            for n in range(len(crews))
        )

    return min(map(shared, product(range(len(crews) + 1), repeat=len(on_shelf))))
