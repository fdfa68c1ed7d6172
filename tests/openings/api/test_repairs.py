"""What breaks of the crews' days and what mends it, over the API."""

from __future__ import annotations

import pytest

from openings import services
from tests.factories import CrewFactory, tomorrow
from tests.openings.api.clients import API, problem_of
from tests.openings.rows import live, make_assigned

pytestmark = pytest.mark.django_db

MOVE_ALL = f"{API}/assignments/move-all/"


def test_an_offer_is_taken_as_one_act_and_undone(scheduler):
    sick, well = CrewFactory(people_count=20), CrewFactory(people_count=20)
    openings = make_assigned(2, crew=sick)
    services.change_crew_day(crew_day_id=live(openings[0]).crew_day_id, off_reason="sick")
    (repair,) = scheduler.get(f"{API}/boards/repairs/").json()
    assert (repair["crew"], repair["on"]) == (sick.pk, str(tomorrow()))
    assert [one["mark"] for one in repair["breaks"]] == [one.mark for one in openings]
    assert scheduler.get(f"{API}/boards/repairs/", {"job": openings[0].job_id + 1}).json() == []
    (offer,) = (one for one in repair["offers"] if one["way"] == "same day, other crews")
    assert offer["left"] == []
    moved = scheduler.post(MOVE_ALL, {"moves": offer["moves"]}, format="json")
    assert moved.status_code == 201, moved.json()
    assert {one["crew"] for one in moved.json()} == {well.pk}
    (board_act,) = {one["given_by_act"] for one in moved.json()}
    assert scheduler.get(f"{API}/boards/repairs/").json() == []
    scheduler.post(f"{API}/assignments/undo/", {"board_act": board_act}, format="json")
    assert {live(one).crew_day.crew for one in openings} == {sick}


@pytest.mark.parametrize(
    ("moves", "said"),
    [([], "moves"), ([{"crew": 1, "on": "soon", "assignments": [1]}], "moves.0.on"), ([{}], "moves.0.crew")],
)
def test_moves_that_say_nothing_are_refused_by_field(scheduler, moves, said):
    problem = problem_of(scheduler.post(MOVE_ALL, {"moves": moves}, format="json"), 400, "invalid")
    assert said in [fault["field"] for fault in problem["errors"]]


def test_an_assignment_goes_to_one_day_only(scheduler):
    assignment = live(make_assigned()[0])
    moves = [{"crew": CrewFactory().pk, "on": str(tomorrow(2)), "assignments": [assignment.pk]} for _ in range(2)]
    refused = scheduler.post(MOVE_ALL, {"moves": moves}, format="json")
    assert (refused.status_code, live(assignment.opening)) == (400, assignment)
