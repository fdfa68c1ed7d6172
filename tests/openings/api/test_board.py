"""The crew board as JSON: its own statement says the same as the queries that the rest of the service uses."""

from __future__ import annotations

import itertools
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from openings import services
from openings.models import Assignment, InstallRecord, Opening, State
from openings.queries import opening_counts
from tests.factories import CrewFactory, JobFactory, PersonFactory, tomorrow
from tests.openings.api.clients import API
from tests.openings.rows import live, make_assigned, measure, start

BOARD = f"{API}/boards/crews/"


def board(client, **query) -> dict:
    shown = client.get(BOARD, {"first": str(tomorrow()), **query}).json()
    shown["rows"] = [dict(zip(shown["columns"], row, strict=True)) for row in shown["openings"]]
    return shown


def test_the_board_and_the_queries_agree_on_the_state_of_every_opening(scheduler):
    """Every combination of void, held and record, assigned: the statement of the board has the rule once more."""
    now, by = timezone.now(), PersonFactory()
    combinations = list(itertools.product([True, False], [True, False], [None, "started", "done"]))
    for opening, (is_void, is_held, record) in zip(make_assigned(len(combinations)), combinations, strict=True):
        opening.holds.create(kind="access", reason="stairs", released_at=now, released_by=by)
        if is_held:
            opening.holds.create(kind="access", reason="stairs")
        if record:
            done = {"done_at": now, "done_by": by} if record == "done" else {}
            crew = live(opening).crew_day.crew
            InstallRecord.objects.create(opening=opening, crew=crew, started_by=by, started_at=now, **done)
        Opening.objects.filter(pk=opening.pk).update(is_void=is_void, is_finished=is_void or record == "done")

    expected = dict(Opening.objects.with_state().values_list("pk", "state"))
    assert {row["opening"]: row["state"] for row in board(scheduler)["rows"]} == expected
    assert set(expected.values()) == set(State.ALL) - {State.READY}
    found = {pk: state for state in State.ALL for pk in Opening.objects.in_state(state).values_list("pk", flat=True)}
    assert found == expected
    assert opening_counts() == {state: list(expected.values()).count(state) for state in State.ALL}
    listed = scheduler.get(f"{API}/openings/?page_size=500").json()["results"]
    assert {opening["id"]: opening["state"] for opening in listed} == expected


def test_the_board_says_who_is_where_with_numbers(scheduler):
    crew = CrewFactory(name="Crew Alder", people_count=3, shift_h=Decimal("7.5"))
    job = JobFactory(code="weir")
    (opening,) = make_assigned(crew=crew, job=job, ro_width_in=Decimal("36.03125"), floor="2")
    CrewFactory(name="Crew Birch").days.create(on=tomorrow(2), capacity_person_h=0, off_reason="funeral")
    shown = board(scheduler, days=3)
    assert shown["days"] == [str(tomorrow(ahead)) for ahead in (1, 2, 3)]
    assert [one["name"] for one in shown["crews"]] == ["Crew Alder", "Crew Birch"]
    assert shown["jobs"] == [{"id": job.pk, "code": "weir", "name": job.name}]
    first, second = shown["crew_days"]
    (row,) = shown["rows"]
    assert row == {
        "assignment": live(opening).pk, "crew_day": first["id"], "opening": opening.pk, "mark": opening.mark,
        "job": job.pk, "floor": "2", "ro_width_in": 36.03125, "ro_height_in": 54,
        "built_ro_width_in": None, "built_ro_height_in": None, "person_h": float(live(opening).person_h),
        "state": "assigned",
    }  # fmt: skip
    assert (first["capacity_person_h"], first["assigned_person_h"]) == (22.5, row["person_h"])
    assert (second["off_reason"], second["assigned_person_h"]) == ("funeral", 0)


def test_the_board_shows_a_size_as_built_beside_the_drawn_one(scheduler):
    (opening,) = make_assigned()
    accepted = services.accept_measurement(measurement_id=measure(opening, "36.125", "54").pk, by=PersonFactory())
    (row,) = board(scheduler)["rows"]
    assert (row["ro_width_in"], row["built_ro_width_in"], row["built_ro_height_in"]) == (36, 36.125, 54)
    assert accepted.opening_id == row["opening"]
    # An inch is 25.4 mm: NIST Handbook 44, appendix C.
    assert board(scheduler, units="metric")["rows"][0]["built_ro_width_mm"] == 917.575


def test_what_is_withdrawn_or_on_another_day_is_not_on_the_board(scheduler):
    (gone,), (later,) = make_assigned(), make_assigned(on=tomorrow(9))
    Assignment.objects.filter(opening=gone).update(withdrawn_at=timezone.now(), withdrawn_by=PersonFactory())
    assert board(scheduler)["rows"] == []
    assert [row["opening"] for row in board(scheduler, first=str(tomorrow(9)), days=1)["rows"]] == [later.pk]


def test_an_empty_board_is_an_empty_list(scheduler):
    shown = board(scheduler)
    assert [shown[key] for key in ("crews", "jobs", "crew_days", "openings")] == [[], [], [], []]


@pytest.mark.parametrize("size", [1, 30])
def test_the_board_takes_three_queries(size, scheduler, django_assert_num_queries):
    for opening in make_assigned(size):
        if opening.pk % 2:
            start(opening)
    with django_assert_num_queries(3):  # zones, stranded; the board
        assert len(board(scheduler)["rows"]) == size


def test_the_board_begins_with_the_day_that_is_not_over_anywhere(scheduler, monkeypatch):
    # 03:00 UTC on 2 June 2027 is still 1 June in Honolulu, UTC-10, and in Denver, UTC-6 (IANA time zone database).
    monkeypatch.setattr(timezone, "now", lambda: datetime(2027, 6, 2, 3, tzinfo=UTC))
    for time_zone in ("Europe/London", "Pacific/Honolulu"):
        JobFactory(time_zone=time_zone)
    days = [date.fromisoformat(day) for day in scheduler.get(BOARD).json()["days"]]
    assert days == [date(2027, 6, 1) + timedelta(days=n) for n in range(5)]
