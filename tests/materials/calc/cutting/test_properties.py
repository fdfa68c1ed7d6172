"""What holds for every plan, and that of a few pieces against trying everything; no source needed."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from itertools import count

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.calc.rolls import Remnant, plan_cuts
from materials.errors import NothingToCutFrom, PieceTooLong
from tests.materials.calc.cut_checks import cuts, least_cost, planned, shelf, stock

LENGTHS_IN = st.integers(10, 480).map(lambda quarters: Decimal(quarters) / 4)
TRIMS_IN = st.sampled_from([Decimal(0), Decimal("0.125"), Decimal(2)])
FEW_PIECES = st.lists(LENGTHS_IN, min_size=1, max_size=6).map(lambda lengths_in: cuts(*lengths_in))
FEW_REMNANTS = st.lists(LENGTHS_IN, max_size=3).map(lambda lengths_in: shelf(*lengths_in))
PRICED = st.lists(st.tuples(st.integers(120, 160), st.integers(3, 12)), min_size=1, max_size=3).map(
    lambda kinds: stock(*kinds)
)
ROLLS = st.one_of(st.just(stock(120)), PRICED)


@given(FEW_PIECES, ROLLS, FEW_REMNANTS, TRIMS_IN)
@settings(deadline=None)
def test_few_pieces_cost_what_trying_everything_finds(pieces, roll_lengths, remnants, trim_in):
    plan = planned(pieces, roll_lengths, remnants, trim_in=trim_in)
    assert plan.cost == least_cost(pieces, roll_lengths, remnants, trim_in=trim_in)


@given(FEW_PIECES, FEW_REMNANTS, TRIMS_IN)
@settings(deadline=None)
def test_without_new_rolls_the_remnants_are_enough_or_it_is_said(pieces, remnants, trim_in):
    if least_cost(pieces, [], remnants, trim_in=trim_in) is None:
        with pytest.raises(NothingToCutFrom):
            plan_cuts(pieces, roll_lengths=[], remnants=remnants, trim_in=trim_in)
    else:
        assert planned(pieces, [], remnants, trim_in=trim_in).rolls_new == 0


@given(FEW_PIECES, FEW_REMNANTS, TRIMS_IN)
@settings(deadline=None)
def test_pieces_longer_than_a_roll_are_cut_from_remnants_or_refused(pieces, remnants, trim_in):
    cost = least_cost(pieces, stock(60), remnants, trim_in=trim_in)
    if cost is None:
        with pytest.raises(PieceTooLong):
            plan_cuts(pieces, roll_lengths=stock(60), remnants=remnants, trim_in=trim_in)
    else:
        assert planned(pieces, stock(60), remnants, trim_in=trim_in).cost == cost


FINE_IN = st.one_of(st.just(Decimal(120)), st.decimals("0.5", 120, places=5))


@given(st.lists(FINE_IN, min_size=1, max_size=40), st.lists(FINE_IN, max_size=3), st.decimals(0, 2, places=5))
@settings(deadline=None, max_examples=50)
def test_any_fractions_give_a_whole_plan(lengths_in, remnants_in, trim_in):
    planned(cuts(*lengths_in), stock(120), shelf(*remnants_in), trim_in=trim_in, is_over=after(times=5))


def after(*, times: int) -> Callable[[], bool]:
    """Return what says that the time is over once it was asked so many times."""
    asked = count()
    return lambda: next(asked) >= times


@given(st.lists(FINE_IN, min_size=1, max_size=6), st.lists(FINE_IN, max_size=2), st.decimals(0, 2, places=5))
@settings(deadline=None, max_examples=50)
def test_rounded_lengths_claim_no_more_than_trying_everything_finds(lengths_in, remnants_in, trim_in):
    pieces, remnants = cuts(*lengths_in), shelf(*remnants_in)
    plan = planned(pieces, stock(120), remnants, trim_in=trim_in)
    assert plan.cost_lower_bound <= least_cost(pieces, stock(120), remnants, trim_in=trim_in)


@given(FEW_PIECES, ROLLS, FEW_REMNANTS, TRIMS_IN, st.randoms(use_true_random=False))
@settings(deadline=None)
def test_the_same_input_gives_the_same_plan_in_any_order(pieces, roll_lengths, remnants, trim_in, chance):
    shuffled = [chance.sample(values, len(values)) for values in (pieces, roll_lengths, remnants)]
    plan = plan_cuts(pieces, roll_lengths=roll_lengths, remnants=remnants, trim_in=trim_in)
    assert plan_cuts(shuffled[0], roll_lengths=shuffled[1], remnants=shuffled[2], trim_in=trim_in) == plan


@given(FEW_PIECES, ROLLS, FEW_REMNANTS, TRIMS_IN, LENGTHS_IN)
@settings(deadline=None)
def test_a_remnant_more_never_costs_more(pieces, roll_lengths, remnants, trim_in, length_in):
    with_it = planned(pieces, roll_lengths, [*remnants, Remnant(length_in, "one more")], trim_in=trim_in)
    assert with_it.cost <= planned(pieces, roll_lengths, remnants, trim_in=trim_in).cost


@given(FEW_PIECES, ROLLS, FEW_REMNANTS, TRIMS_IN)
@settings(deadline=None)
def test_a_longer_trim_never_costs_less(pieces, roll_lengths, remnants, trim_in):
    plan = planned(pieces, roll_lengths, remnants, trim_in=trim_in)
    longer = planned(pieces, roll_lengths, remnants, trim_in=trim_in + Decimal("0.25"))
    assert longer.cost >= plan.cost


@given(FEW_PIECES, ROLLS, FEW_REMNANTS, TRIMS_IN)
@settings(deadline=None)
def test_a_search_cut_short_at_once_is_still_sound(pieces, roll_lengths, remnants, trim_in):
    plan = planned(pieces, roll_lengths, remnants, trim_in=trim_in, is_over=lambda: True)
    assert plan.cost_lower_bound <= least_cost(pieces, roll_lengths, remnants, trim_in=trim_in)
