from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from config.bench import cut_days, cut_instances, cuts, referee, timing
from config.bench.cut_days import CutDay
from config.bench.cut_references import (
    best_fit_decreasing,
    first_fit_decreasing,
    kept,
    packing_bound,
    require_feasible,
    scrap_in,
    volume_bound,
)
from config.management.commands import bench
from materials.calc.roll_lengths import RollLength
from materials.calc.rolls import Cut, CutPlan, Remnant, Roll


def a_day(*lengths_in: str, remnants_in: tuple[str, ...] = (), rolls_in: tuple[str, ...] = ("100",)) -> CutDay:
    return CutDay(
        pieces=tuple(Cut(Decimal(length_in), f"P{place}") for place, length_in in enumerate(lengths_in)),
        roll_lengths=tuple(RollLength(Decimal(length_in)) for length_in in rolls_in),
        remnants=tuple(Remnant(Decimal(length_in), f"R{place}") for place, length_in in enumerate(remnants_in)),
        trim_in=Decimal("0.5"),
    )


@pytest.mark.parametrize(
    ("family", "strips", "roll_in"),
    [
        ("75-ft rolls", 160, 900),
        ("75-ft rolls, few sizes", 160, 900),
        ("25-ft rolls", 160, 300),
        ("40 strips", 40, 900),
        ("400 strips", 400, 900),
    ],
)
def test_each_family_of_days_has_its_strips_and_rolls(family, strips, roll_in):
    for day in cut_days.days(family, 3):
        assert len(day.pieces) == strips
        assert [kind.length_in for kind in day.roll_lengths] == [roll_in]
        assert all(30 <= cut.length_in <= 120 and cut.length_in * 16 % 1 == 0 for cut in day.pieces)
        assert len({remnant.code for remnant in day.remnants}) == len(day.remnants) <= 5
        assert day.trim_in == Decimal("0.125")
    assert cut_days.days(family, 3)[:2] == cut_days.days(family, 2)


def test_a_hundred_days_are_planned_in_five_families():
    assert len(cut_days.FAMILIES) * cuts.DAYS_A_FAMILY == 100


def test_a_day_of_units_repeats_a_few_lengths():
    (day,) = cut_days.days("75-ft rolls, few sizes", 1)
    assert len({cut.length_in for cut in day.pieces}) <= 3 * 8


def test_priced_rolls_are_cheaper_a_foot_the_longer_they_are():
    for day in cut_days.priced_days(5):
        rates = [kind.price / kind.length_in for kind in day.roll_lengths]
        assert rates == sorted(rates, reverse=True)
        assert [kind.length_in for kind in day.roll_lengths] == [300, 600, 900]


@pytest.mark.parametrize("name", cut_instances.KINDS)
def test_instances_are_the_same_each_time_and_fit_their_bins(name):
    made = cut_instances.instances(name, 2)
    assert made == cut_instances.instances(name, 2)
    assert made[0].sizes != made[1].sizes
    for one in made:
        assert all(0 < size <= one.capacity for size in one.sizes)
        assert one.optimum is None or packing_bound(one.capacity, one.sizes) <= one.optimum
        assert cut_instances.KINDS[name].source


@pytest.mark.parametrize(
    "name", [name for name in cut_instances.KINDS if name.startswith(("triplets", "perfect", "eleven", "loose"))]
)
def test_bins_of_perfect_packings_are_full(name):
    for one in cut_instances.instances(name, 5):
        assert sum(one.sizes) == one.capacity * one.optimum


# E. Falkenauer (1996), A. Scholl, R. Klein, C. Juergens (1997), P. Schwerin, G. Waescher (1997); from memory
@pytest.mark.parametrize(
    ("name", "count", "capacity", "least", "most"),
    [
        ("uniform 120", 120, 150, 20, 100),
        ("uniform 1000", 1000, 150, 20, 100),
        ("triplets 249", 249, 1000, 250, 490),
        ("narrow 150-200, 100", 100, 1000, 150, 200),
        ("narrow 120-200, 120", 120, 1000, 120, 200),
        ("hard", 200, 100_000, 20_000, 35_000),
    ],
)
def test_a_kind_keeps_to_its_published_numbers(name, count, capacity, least, most):
    for one in cut_instances.instances(name, 3):
        assert (len(one.sizes), one.capacity) == (count, capacity)
        assert least <= min(one.sizes) <= max(one.sizes) <= most


def test_first_fit_decreasing_takes_eleven_bins_for_nine():
    """D. S. Johnson (1973): 11/9 of the optimum is the worst that first-fit decreasing comes to."""
    for one in cut_instances.instances("eleven ninths", 3):
        assert first_fit_decreasing(one.capacity, one.sizes) * 9 == one.optimum * 11


def test_first_fit_takes_ten_bins_for_six_of_sevenths_in_rising_order():
    """D. S. Johnson (1973): 1/7, 1/3 and 1/2, each a little over."""
    for one in cut_instances.instances("sevenths", 3):
        bins = [one.capacity]
        for size in sorted(one.sizes):
            place = next((place for place, room in enumerate(bins) if room >= size), None)
            if place is None:
                bins.append(one.capacity - size)
            else:
                bins[place] -= size
        assert len(bins) * 6 == one.optimum * 10


# S. Martello, P. Toth, Knapsack Problems (1990): L2; sizes and figures our own arithmetic [D]
@pytest.mark.parametrize(
    ("capacity", "sizes", "least"),
    [(100, [60, 60, 60], 3), (100, [50, 50, 1], 2), (100, [70, 60, 50, 33, 33, 33, 11, 7, 3], 4), (100, [99, 2, 2], 2)],
    ids=["no two share a bin", "volume", "mixed", "small beside large"],
)
def test_the_bound_of_packings(capacity, sizes, least):
    assert packing_bound(capacity, sizes) == least


# Our own arithmetic [D]: 100-in rolls, half an inch of trim
@pytest.mark.parametrize(
    ("day", "lefts_in"),
    [
        (a_day("60", "39.5"), ["0"]),
        (a_day("60", "39.75"), ["39.5", "59.75"]),
        (a_day("60", "40", "30", remnants_in=("41", "80")), ["0.5", "19.5", "69.5"]),
        (a_day("60", rolls_in=("80", "100")), ["39.5"]),
    ],
    ids=["trim between two cuts", "a trim too many", "remnants first, the least room", "the longest roll"],
)
def test_best_fit_decreasing(day, lefts_in):
    assert sorted(best_fit_decreasing(day)) == sorted(map(Decimal, lefts_in))


def test_scrap_is_what_is_too_short_to_keep():
    lefts_in = [Decimal(24), Decimal("23.5"), Decimal(0), Decimal(60)]
    assert (scrap_in(lefts_in), kept(lefts_in)) == (Decimal("23.5"), 2)


# Our own arithmetic [D]
@pytest.mark.parametrize(
    ("day", "cost"),
    [
        (a_day(*["49.75"] * 4), 2),
        (a_day(*["49.75"] * 5), 3),
        (a_day(*["49.75"] * 5, remnants_in=("49.75",)), 2),
        (a_day(*["49.75"] * 5, remnants_in=("49",)), 3),
        (replace(referee.TIMBERS), Decimal("57.84")),
    ],
    ids=["exactly full", "one more", "a remnant", "a remnant too short for any", "three priced lengths"],
)
def test_the_bound_of_volume(day, cost):
    assert volume_bound(day) == cost


def a_plan(*rolls: Roll, cost: int = 1) -> CutPlan:
    return CutPlan(rolls=rolls, rolls_lower_bound=1, cost=Decimal(cost), cost_lower_bound=Decimal(1))


def test_a_plan_that_cannot_be_cut_stops_the_measurement():
    day = a_day("60", "39.5", remnants_in=("100",))
    roll = Roll(length_in=Decimal(100), remnant=None, cuts=day.pieces, left_in=Decimal(0), is_kept=False)
    require_feasible(day, a_plan(roll))
    for wrong in (
        a_plan(replace(roll, cuts=day.pieces[:1], left_in=Decimal("39.5"))),
        a_plan(replace(roll, left_in=Decimal("0.5"))),
        a_plan(replace(roll, length_in=Decimal(99))),
        a_plan(replace(roll, remnant="R7")),
        a_plan(roll, roll),
        a_plan(roll, cost=2),
    ):
        with pytest.raises(RuntimeError, match="2 strips"):
            require_feasible(day, wrong)


@pytest.fixture
def few(monkeypatch):
    """A day a family, an instance a kind, and the time of none."""
    monkeypatch.setattr(cuts, "DAYS_A_FAMILY", 1)
    monkeypatch.setattr(cuts, "PRICED_DAYS", 1)
    monkeypatch.setattr(cuts, "STRIPS", 30)
    monkeypatch.setattr(cuts, "INSTANCES_A_KIND", 1)
    monkeypatch.setattr(cut_instances, "KINDS", {"uniform 120": cut_instances.KINDS["uniform 120"]})


@pytest.mark.usefixtures("few")
def test_rows_count_days_and_packings():
    assert cuts.days_at_the_bound_row().theirs == 5
    assert cuts.priced_days_row().theirs == 1
    assert cuts.packing_row().theirs == 1
    assert cuts.big_day_row().name == "roll cuts of 30 strips"
    assert cuts.scrap_row().theirs > 0


def test_a_packing_is_counted_against_what_its_construction_tells():
    one = cut_instances.Instance(name="a", capacity=10, sizes=(5, 5, 5, 5), optimum=2)
    done = cuts._packed(one)
    assert (done.fewest, done.is_known, done.first_fit_bins) == (2, True, 2)


def test_time_is_over_once_it_has_passed():
    assert cuts.over_after(-1)()
    assert not cuts.over_after(60)()


def test_the_referee_is_skipped_where_its_package_is_missing(monkeypatch):
    monkeypatch.setattr(referee, "find_spec", lambda name: None)
    assert referee.referee_row().skipped == "scipy is not installed"


def test_the_referee_finds_the_optimum_of_the_timbers():
    """Three stock lengths with prices: 57.84 by exhaustion."""
    pytest.importorskip("scipy")
    assert referee.least_cost(referee.TIMBERS) == Decimal("57.84")


def test_an_aim_may_be_the_least_to_be_had():
    row = timing.Row(name="a", reference="b", ours=39, theirs=40, aim=0.96, at_least=True, unit="days")
    assert "(aim at least 0.96)" in bench._as_table([row])
    assert '"at_least": true' in bench._as_json([row])


def test_small_days_are_the_same_each_time():
    assert referee.small_days(3) == referee.small_days(3)
    assert all(len(day.pieces) == 12 for day in referee.small_days(3))
