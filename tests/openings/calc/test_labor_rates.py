from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from openings.calc.labor_rates import (
    MOST_PERSON_H,
    RATE_NAMES,
    STARTING_RATES,
    Access,
    Factor,
    LaborRates,
    Rate,
    Task,
    rates_from,
)
from openings.errors import BadRate


def test_stored_rows_correct_their_rates_alone():
    rates = rates_from({"strap": (Decimal("0.09"), "own records, 40 openings")})
    assert rates.strap == Rate(Task.STRAP, Decimal("0.09"), "strap", "own records, 40 openings")
    assert replace(rates, strap=STARTING_RATES.strap) == STARTING_RATES
    assert rates_from({}) == STARTING_RATES


def test_every_task_has_a_rate_that_can_be_corrected():
    assert {getattr(STARTING_RATES, name).task for name in RATE_NAMES} == set(Task)


def test_rows_that_cannot_be_are_refused_each_by_name():
    rows = {"strap": Decimal(0), "pan": Decimal("100.01"), "glazing": Decimal(1), "seal": Decimal(MOST_PERSON_H)}
    with pytest.raises(BadRate, match="there is no rate glazing") as refused:
        rates_from({name: (person_h, "own records") for name, person_h in rows.items()})
    assert [fault.field for fault in refused.value.faults] == ["strap", "pan", "glazing"]
    assert refused.value.code == "bad-rate"


@pytest.mark.parametrize(
    ("make", "field"),
    [
        (lambda: Rate(Task.SET, Decimal(-1), "person"), "person_h"),
        (lambda: LaborRates(storey_pct=Decimal(-1)), "storey_pct"),
        (lambda: LaborRates(access_factors=(Factor(Access.LADDER, Decimal(0)),)), "ladder"),
        (lambda: LaborRates(access_factors=(Factor(Access.CLEAR, Decimal("0.9")),)), "clear"),
    ],
    ids=["rate", "storey", "factor", "what others are measured by"],
)
def test_rates_that_cannot_be_are_refused_by_name(make, field):
    with pytest.raises(BadRate) as refused:
        make()
    assert [fault.field for fault in refused.value.faults] == [field]
