"""Undoing, whole days and what was seen, over the API."""

from __future__ import annotations

import pytest

from tests.factories import CrewFactory, tomorrow
from tests.openings.api.clients import API
from tests.openings.rows import live, make_assigned

pytestmark = pytest.mark.django_db


def test_a_whole_day_is_moved_by_what_was_seen_and_undone(scheduler):
    crew, other = CrewFactory(people_count=20), CrewFactory(people_count=20)
    openings = make_assigned(2, crew=crew)
    days = scheduler.get(f"{API}/boards/crews/versions/", {"first": str(tomorrow()), "days": 2}).json()
    assert len(days) == 4
    body = {"whole_days": [live(openings[0]).crew_day_id], "crew": other.pk, "on": str(tomorrow(2)), "seen": days}
    stale = [{**day, "version": "0" * 16} for day in days]
    refused = scheduler.post(f"{API}/assignments/move/", {**body, "seen": stale}, format="json")
    assert (refused.status_code, refused.json()["code"]) == (412, "changed-meanwhile")
    moved = scheduler.post(f"{API}/assignments/move/", body, format="json").json()
    assert {one["crew"] for one in moved} == {other.pk}
    (board_act,) = {one["given_by_act"] for one in moved}
    undone = scheduler.post(f"{API}/assignments/undo/", {"board_act": board_act}, format="json")
    assert undone.status_code == 200
    assert {live(one).crew_day.crew for one in openings} == {crew}
    again = scheduler.post(f"{API}/assignments/undo/", {"board_act": board_act}, format="json")
    assert (again.status_code, again.json()["detail"]) == (409, "it was undone already")


def test_moving_nothing_is_refused_by_field(scheduler):
    body = {"crew": CrewFactory().pk, "on": str(tomorrow())}
    refused = scheduler.post(f"{API}/assignments/move/", body, format="json")
    assert refused.status_code == 400
    assert refused.json()["errors"][0]["field"] == "assignments"
