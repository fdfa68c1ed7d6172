"""The verdict on a lift never gets less careful as the lift gets harder: within the reach, at its edge and beyond.

Limits and conditions: DHHS/NIOSH 94-110 (rev. 9/2021) p. 5-7 and table 5. Teams: HSE L23.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from openings.calc.lifting_equation import Condition, Coupling, Hands, LiftTask, Mode, assess, edge_limit_lb
from tests.openings.calc.lifting_equation.made import hands, lift, package_inspection, press_stock, supply_rolls

NEAR = Decimal("0.0001")

EDGES = {
    "reach": [Decimal(10), Decimal(25)],
    "height": [Decimal(0), Decimal(30), Decimal(70)],
    "travel": [Decimal(10), Decimal(70)],
    "angle": [Decimal(135)],
    "pace": [Decimal(text) for text in ("0.1", "0.2", "8", "9", "10", "11", "12", "13", "15")],
    "hours": [Decimal(1), Decimal(2), Decimal(8)],
}
"""Where a rule of the equation begins or ends."""


def around(name: str, least: str, most: str) -> st.SearchStrategy[Decimal]:
    """Figures from anywhere, and from both sides of each edge as often."""
    edges = [edge + off for edge in EDGES[name] for off in (-NEAR, Decimal(0), NEAR)]
    anywhere = st.decimals(min_value=Decimal(least), max_value=Decimal(most), places=3)
    return st.one_of(anywhere, st.sampled_from([edge for edge in edges if Decimal(least) <= edge]))


REACH, HEIGHT, TRAVEL = around("reach", "0", "60"), around("height", "-20", "120"), around("travel", "0", "140")
ANGLE, PACE, HOURS = around("angle", "0", "270"), around("pace", "0", "40"), around("hours", "0.01", "24")
LOAD = st.decimals(min_value=0, max_value=200, places=2)
GRIPS = [Coupling.GOOD, Coupling.FAIR, Coupling.POOR]
CONDITIONS = st.frozensets(st.sampled_from(list(Condition)), max_size=3)

HANDS = st.builds(Hands, horizontal_in=REACH, vertical_in=HEIGHT, asymmetry_deg=ANGLE, coupling=st.sampled_from(GRIPS))
LIFTS = st.builds(
    LiftTask,
    load_lb=LOAD,
    origin=HANDS,
    destination=st.none() | HANDS,
    travel_in=TRAVEL,
    lifts_per_min=PACE,
    duration_h=HOURS,
    mode=st.sampled_from(list(Mode)),
    conditions=CONDITIONS,
)


def careful(task: LiftTask) -> tuple[int, bool, bool]:
    """People, aid, and whether an aid or a decision is asked for."""
    found = assess(task)
    return found.people, found.needs_aid, found.needs_aid or found.needs_decision


def assert_never_less_careful(easier: LiftTask, harder: LiftTask) -> None:
    before, after = careful(easier), careful(harder)
    assert all(one <= other for one, other in zip(before, after, strict=True)), (before, after)


@given(task=LIFTS, name=st.sampled_from(["load_lb", "travel_in", "lifts_per_min", "duration_h"]), data=st.data())
def test_more_load_travel_pace_or_time_is_never_less_careful(task, name, data):
    figures = {"load_lb": LOAD, "travel_in": TRAVEL, "lifts_per_min": PACE, "duration_h": HOURS}[name]
    less, more = sorted((getattr(task, name), data.draw(figures)))
    assert_never_less_careful(replace(task, **{name: less}), replace(task, **{name: more}))


def at_end(task: LiftTask, end: str, **change: object) -> LiftTask:
    return replace(task, **{end: replace(getattr(task, end) or task.origin, **change)})


@given(
    task=LIFTS,
    end=st.sampled_from(["origin", "destination"]),
    name=st.sampled_from(["horizontal_in", "asymmetry_deg"]),
    data=st.data(),
)
def test_a_longer_reach_or_a_wider_turn_is_never_less_careful(task, end, name, data):
    figures = {"horizontal_in": REACH, "asymmetry_deg": ANGLE}[name]
    less, more = sorted((data.draw(figures), data.draw(figures)))
    assert_never_less_careful(at_end(task, end, **{name: less}), at_end(task, end, **{name: more}))


# Travel is given: where it followed from the hands, hands farther from 30 in could travel less, which is easier.
@given(task=LIFTS, end=st.sampled_from(["origin", "destination"]), is_up=st.booleans(), data=st.data())
def test_hands_farther_from_30_in_are_never_less_careful(task, end, is_up, data):
    off = st.one_of(
        st.decimals(min_value=0, max_value=90, places=3),
        st.sampled_from(
            [Decimal(edge) + near for edge in (0, 30, 40) for near in (-NEAR, 0, NEAR) if edge or near >= 0]
        ),
    )
    less, more = sorted((data.draw(off), data.draw(off)))
    sign = 1 if is_up else -1
    easier, harder = (at_end(task, end, vertical_in=30 + sign * one) for one in (less, more))
    assert_never_less_careful(easier, harder)


@given(task=LIFTS, end=st.sampled_from(["origin", "destination"]))
def test_a_worse_grip_is_never_less_careful(task, end):
    good, fair, poor = (at_end(task, end, coupling=grip) for grip in GRIPS)
    assert_never_less_careful(good, fair)
    assert_never_less_careful(fair, poor)


@given(task=LIFTS, condition=st.sampled_from(list(Condition)))
def test_a_stated_condition_is_never_less_careful_and_always_asks(task, condition):
    stated = replace(task, conditions=task.conditions | {condition})
    assert_never_less_careful(task, stated)
    assert assess(stated).needs_decision


@given(task=LIFTS)
def test_an_end_that_counts_too_is_never_less_careful(task):
    assert_never_less_careful(
        replace(task, destination=None), replace(task, destination=task.destination or task.origin)
    )


# 30 lb at 25 in with 8 lifts a minute, and the like: each in reach at its edge, and out of it just beyond.
BEYOND = [
    pytest.param({"origin": hands(25)}, {"origin": hands("25.01")}, id="reach"),
    pytest.param({"origin": hands(20, 70)}, {"origin": hands(20, "70.01")}, id="hands too high"),
    pytest.param({"origin": hands(20, 0)}, {"origin": hands(20, "-0.01")}, id="hands too low"),
    pytest.param(
        {"origin": hands(15), "destination": hands(20, 70), "travel": "40"},
        {"origin": hands(15), "destination": hands(20, "70.01"), "travel": "40"},
        id="set down too high",
    ),
    pytest.param({"origin": hands(20), "travel": "70"}, {"origin": hands(20), "travel": "70.01"}, id="travel"),
    pytest.param({"origin": hands(15, angle=135)}, {"origin": hands(15, angle="135.01")}, id="asymmetry"),
    pytest.param({"pace": "12"}, {"pace": "15.01"}, id="pace"),
    pytest.param({"pace": "6", "hours": "8"}, {"pace": "6", "hours": "8.01"}, id="duration"),
    *(
        pytest.param({"origin": hands(20)}, {"origin": hands(20), "conditions": frozenset({one})}, id=one)
        for one in Condition
    ),
]


@pytest.mark.parametrize(("within", "beyond"), BEYOND)
@pytest.mark.parametrize("load", ["5", "20", "30", "60"])
def test_beyond_an_edge_the_answer_asks_for_an_aid_or_a_decision_and_for_no_fewer_people(within, beyond, load):
    at_edge, past = assess(lift(load, **within)), assess(lift(load, **beyond))
    assert (at_edge.needs_decision, at_edge.decision) == (False, "")
    assert past.needs_decision
    assert past.people >= at_edge.people
    assert past.needs_aid >= at_edge.needs_aid
    assert past.limits[0] in past.decision
    for asked in ("let an aid carry the load", "competent person decide, by name"):
        assert asked in past.decision
        assert asked in past.reason
    assert (past.rwl_lb, past.li) == (None, None)


def test_thirty_pounds_just_above_70_in_take_what_they_take_at_70_in():
    # 94-110 p. 1 and 7, by hand: 51 × 10/14.3 × (1 − .0075 × 40) × (.82 + 1.8/40) × 1 = 21.6 lb; HSE L23: two lift
    # 28.8 lb and three 32.4 lb.
    at_edge, past = (assess(lift("30", origin=hands("14.3", height), travel="40")) for height in ("70", "70.01"))
    assert (at_edge.people, at_edge.needs_aid, at_edge.needs_decision) == (3, False, False)
    assert (past.people, past.needs_aid, past.needs_decision) == (3, False, True)


@pytest.mark.parametrize("example_task", [press_stock, supply_rolls, package_inspection])
def test_within_its_reach_one_person_counts_for_the_rwl(example_task):
    # Worked examples 1, 2 and 4 of 94-110 ch. 3.
    found = assess(example_task(Mode.FORMULA))
    assert found.person_limit_lb == found.rwl_lb
    assert not found.needs_decision


@pytest.mark.parametrize("example_task", [press_stock, supply_rolls, package_inspection])
def test_rounding_as_the_manual_prints_does_not_change_who_lifts(example_task):
    printed, exact = (assess(example_task(mode)) for mode in (Mode.PRINTED, Mode.FORMULA))
    assert (printed.people, printed.needs_aid) == (exact.people, exact.needs_aid)


@given(task=LIFTS)
@example(task=lift("10", conditions=frozenset({Condition.TEAM_LIFT})))
def test_one_persons_limit_is_above_nothing_and_at_most_51_lb(task):
    assert 0 < edge_limit_lb(task) <= 51


def test_a_lift_by_a_team_is_by_two_at_least():
    assert assess(lift("10", conditions=frozenset({Condition.TEAM_LIFT}))).people == 2
