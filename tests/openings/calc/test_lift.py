from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.calc.lift import lift_of, setting_team, team_for

weights = st.decimals(min_value=1, max_value=2000, places=2)


# HSE L23: two people 2/3, three people 1/2 of the sum of their limits; 51 lb each, DHHS/NIOSH 94-110.
@pytest.mark.parametrize(
    ("lb", "people"),
    [("51", 1), ("51.01", 2), ("68", 2), ("68.01", 3), ("76.5", 3), ("76.51", None)],
)
def test_team_by_weight(lb, people):
    assert team_for(Decimal(lb)) == people


# At least 2 to install: JELD-WEN JII-90025; two or more above 50 lb: OSHA guidance, secondary.
@pytest.mark.parametrize(
    ("lb", "people", "needs_aid"),
    [("20", 2, False), ("50.5", 2, False), ("68", 2, False), ("70", 3, False), ("77", 3, True)],
)
def test_two_people_at_least_set_a_unit_and_an_aid_carries_what_no_team_may(lb, people, needs_aid):
    lift = lift_of(Decimal(lb))
    assert (lift.people, lift.needs_aid) == (people, needs_aid)


@given(lighter=weights, more=weights)
def test_a_heavier_unit_never_takes_fewer_people(lighter, more):
    assert setting_team(lighter) <= setting_team(lighter + more)


@pytest.mark.parametrize("lb", ["20", "60", "72", "150"])
def test_every_lift_carries_a_reason_a_source_and_a_caution(lb):
    lift = lift_of(Decimal(lb))
    assert lb in lift.reason
    assert "HSE L23" in lift.source
    assert "manufacturer's instructions" in lift.caution
