from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.calc.lift import setting_team, team_for, team_limits_lb, team_reason
from openings.calc.units import METRIC

weights = st.decimals(min_value=1, max_value=2000, places=2)


# HSE L23: two people 2/3, three people 1/2 of the sum of their limits; 51 lb each, DHHS/NIOSH 94-110.
@pytest.mark.parametrize(
    ("lb", "people"),
    [("51", 1), ("51.01", 2), ("68", 2), ("68.01", 3), ("76.5", 3), ("76.51", None)],
)
def test_team_by_weight(lb, people):
    assert team_for(Decimal(lb)) == people


# HSE L23 practice (ccconsulting.uk.com): 25 kg each, 33 kg and 37.5 kg; 16 kg each, 21 kg and 24 kg, cut to whole
# kilograms but for the 37.5. The rule is the same in any measure.
@pytest.mark.parametrize(("one", "two", "three"), [("25", "33", "37.5"), ("16", "21", "24")])
def test_team_limits_from_one_persons_limit(one, two, three):
    limits = dict(team_limits_lb(Decimal(one)))
    assert limits[1] == Decimal(one)
    assert int(limits[2]) == int(two)
    assert limits[3] == Decimal(three)


# HSE L23 with a limit below 51 lb: n = 1 up to p, n = 2 up to 4p/3, n = 3 up to 3p/2.
@pytest.mark.parametrize(
    ("lb", "people"), [("30", 1), ("30.01", 2), ("40", 2), ("40.01", 3), ("45", 3), ("45.01", None)]
)
def test_team_by_weight_with_a_lower_limit(lb, people):
    assert team_for(Decimal(lb), Decimal(30)) == people


# At least 2 to install: JELD-WEN JII-90025; two or more above 50 lb: OSHA guidance, secondary.
@pytest.mark.parametrize(
    ("lb", "people", "needs_aid"),
    [("20", 2, False), ("50.5", 2, False), ("68", 2, False), ("70", 3, False), ("77", 3, True)],
)
def test_two_people_at_least_set_a_unit_and_an_aid_carries_what_no_team_may(lb, people, needs_aid):
    assert setting_team(Decimal(lb)) == (people, needs_aid)


def test_a_lower_limit_for_each_person_takes_more_people():
    # HSE L23: 66 lb is within 68 lb for two at 51 lb each, above the 45 lb of three at 30 lb each.
    assert setting_team(Decimal(66)) == (2, False)
    assert setting_team(Decimal(66), Decimal(30)) == (3, True)


@given(weight=weights, lower=st.decimals(min_value=5, max_value=50, places=2))
def test_a_lower_limit_never_takes_fewer_people(weight, lower):
    assert setting_team(weight) <= setting_team(weight, lower)


@given(lighter=weights, more=weights)
def test_a_heavier_unit_never_takes_fewer_people(lighter, more):
    assert setting_team(lighter) <= setting_team(lighter + more)


@pytest.mark.parametrize(
    ("lb", "person_limit_lb", "said"),
    [
        ("20", "51", "20 lb: 2 people set a unit and support it until it is fastened, however light"),
        ("60", "51", "60 lb: 2 people lift up to 68 lb, where one lifts 51 lb"),
        ("40", "30", "40 lb: 2 people lift up to 40 lb, where one lifts 30 lb"),
        (
            "80",
            "51",
            "80 lb is more than 3 people lift by hand (76.5 lb, where one lifts 51 lb): an aid carries it, 3 people "
            "guide it",
        ),
    ],
)
def test_the_reason_names_the_figures(lb, person_limit_lb, said):
    weight_lb, limit_lb = Decimal(lb), Decimal(person_limit_lb)
    people, needs_aid = setting_team(weight_lb, limit_lb)
    assert team_reason(weight_lb, people=people, needs_aid=needs_aid, person_limit_lb=limit_lb) == said


def test_the_reason_in_metric():
    said = team_reason(Decimal(60), people=2, needs_aid=False, person_limit_lb=Decimal(51), units=METRIC)
    assert said == "27.22 kg: 2 people lift up to 30.84 kg, where one lifts 23.13 kg"
