"""Days that are past, off or overfull, and the openings that this strands."""

from __future__ import annotations

from datetime import UTC, datetime
from decimal import Decimal

import pytest
from django.utils import timezone

from jobs.models import CrewDay
from openings import services
from openings.errors import WouldStrand
from tests.factories import CrewFactory, JobFactory, make_openings, tomorrow
from tests.openings.api.clients import API, problem_of
from tests.openings.rows import finish, left_over, live, make_assigned, start

STRANDED = f"{API}/boards/stranded/"


def listed(client, **query) -> list[dict]:
    return client.get(STRANDED, query).json()


def day_of(opening) -> str:
    return f"{API}/crew-days/{live(opening).crew_day_id}/"


def test_what_is_left_from_earlier_days_is_listed_until_somebody_decides(scheduler):
    crew = CrewFactory(name="Rowan")
    begun, untouched, done = make_openings(3, job=JobFactory(code="weir"))
    left_over(begun, crew, days=4, steps=5)
    left_over(untouched, crew, days=2)
    finish_record = left_over(done, crew, days=2, steps=14).opening.install_record
    finish(finish_record)
    first, second = listed(scheduler)
    assert (first["mark"], first["job"], first["crew_name"], first["on"]) == (
        begun.mark, "weir", "Rowan", str(tomorrow(-4)),
    )  # fmt: skip
    assert (first["why"], first["state"], first["is_begun"], first["steps_recorded"]) == (
        "day is past", "started", True, 5,
    )  # fmt: skip
    assert f"5 of {first['steps_count']} steps recorded" in first["reason"]
    assert 0 < first["left_person_h"] < 4
    assert (second["mark"], second["state"], second["is_begun"], second["left_person_h"]) == (
        untouched.mark, "assigned", False, 4,
    )  # fmt: skip

    board = scheduler.get(f"{API}/boards/crews/", {"first": str(tomorrow(30)), "days": 1}).json()
    assert board["stranded"] == listed(scheduler)
    assert [one["mark"] for one in listed(scheduler, crew=CrewFactory().pk)] == []
    assert [one["mark"] for one in listed(scheduler, job=begun.job_id)] == [begun.mark, untouched.mark]

    assert scheduler.post(f"{API}/assignments/{live(untouched).pk}/withdraw/").status_code == 200
    moved = {"assignments": [live(begun).pk], "crew": crew.pk, "on": str(tomorrow(0))}
    answer = scheduler.post(f"{API}/assignments/move/", moved)
    assert answer.status_code == 201, answer.json()
    assert answer.json()[0]["person_h"] == first["left_person_h"]
    assert listed(scheduler) == []
    assert scheduler.get(f"{API}/openings/{untouched.pk}/").json()["state"] == "ready"


def test_a_day_is_past_when_it_is_past_where_the_job_is(scheduler, monkeypatch):
    # 05:30 UTC on 8 March 2027 is 22:30 the evening before in Denver, UTC-7 (IANA time zone database).
    crew = CrewFactory(people_count=20)
    (denver,) = make_openings(1, job=JobFactory(time_zone="America/Denver"))
    (london,) = make_openings(1, job=JobFactory(time_zone="Europe/London"))
    day = CrewDay.objects.create(crew=crew, on=datetime(2027, 3, 7, tzinfo=UTC).date(), capacity_person_h=100)
    for opening in (denver, london):
        opening.assignments.create(crew_day=day, person_h=4)
    monkeypatch.setattr(timezone, "now", lambda: datetime(2027, 3, 8, 5, 30, tzinfo=UTC))
    assert [one["mark"] for one in listed(scheduler)] == [london.mark]
    monkeypatch.setattr(timezone, "now", lambda: datetime(2027, 3, 8, 7, 30, tzinfo=UTC))
    assert [one["mark"] for one in listed(scheduler)] == [denver.mark, london.mark]


def test_who_sets_a_day_off_is_told_what_that_strands(scheduler):
    crew = CrewFactory(name="Rowan", people_count=20)
    first, second = make_assigned(2, crew=crew)
    finish(start(second))
    answer = scheduler.patch(day_of(first), {"off_reason": "two are sick"})
    assert answer.status_code == 200, answer.json()
    (told,) = answer.json()["stranded"]
    assert (answer.json()["capacity_person_h"], told["mark"], told["why"]) == (0, first.mark, "day is off")
    assert (told["job"], told["on"], told["crew"]) == (first.job.code, str(tomorrow()), crew.pk)
    assert "Rowan is off on" in told["reason"]
    assert "two are sick" in told["reason"]
    assert listed(scheduler) == [told]

    back = scheduler.patch(day_of(first), {"off_reason": ""})
    assert (back.json()["capacity_person_h"], back.json()["stranded"]) == (160, [])


def test_a_capacity_below_what_is_assigned_strands_what_does_not_fit(scheduler):
    openings = make_assigned(3)
    each_h = live(openings[0]).person_h
    start(openings[2])
    answer = scheduler.patch(day_of(openings[0]), {"capacity_person_h": str(2 * each_h)})
    # Begun comes first, then the order of the day: the third and the first fit, the second does not.
    (told,) = answer.json()["stranded"]
    assert (told["mark"], told["why"]) == (openings[1].mark, "day is overfull")
    assert "does not fit" in told["reason"]
    enough = scheduler.patch(day_of(openings[0]), {"capacity_person_h": str(3 * each_h)})
    assert enough.json()["stranded"] == []


def test_a_day_off_with_hours_is_refused_and_stays_as_it_was(scheduler):
    (opening,) = make_assigned()
    refused = scheduler.patch(day_of(opening), {"off_reason": "sick", "capacity_person_h": 8})
    problem_of(refused, 400, "invalid")
    assert scheduler.get(day_of(opening)).json()["off_reason"] == ""


def test_a_new_day_strands_nothing(scheduler):
    made = scheduler.post(f"{API}/crew-days/", {"crew": CrewFactory().pk, "on": "2027-01-04", "off_reason": "funeral"})
    assert (made.status_code, made.json()["stranded"]) == (201, [])


@pytest.mark.parametrize("size", [1, 12])
def test_the_list_takes_as_many_queries_however_many(size, scheduler, django_assert_num_queries):
    crew = CrewFactory()
    for opening in make_openings(size):
        left_over(opening, crew, steps=3)
    with django_assert_num_queries(3):  # zones, assignments, rates
        assert len(listed(scheduler)) == size


def test_a_unit_too_heavy_for_the_crew_is_a_conflict_that_somebody_can_take_on(scheduler):
    (opening,), crew = make_openings(1, weight_lb=400), CrewFactory(name="Cedar", people_count=2)
    asked = {"opening": opening.pk, "crew": crew.pk, "on": str(tomorrow())}
    problem = problem_of(scheduler.post(f"{API}/assignments/", asked), 409, "crew-too-small")
    for figure in (opening.mark, "400 lb", "3 people", "Cedar has 2 people"):
        assert figure in problem["detail"]
    given = scheduler.post(f"{API}/assignments/", asked | {"short_crew_reason": "a crane and its rigger are there"})
    assert given.status_code == 201
    assert given.json()["short_crew_reason"] == "a crane and its rigger are there"
    assert given.json()["short_crew_by"] is not None


def test_an_opening_of_another_day_is_begun_only_where_that_is_said(scheduler):
    ahead, behind = make_assigned(2, on=tomorrow(3))[0], make_openings(1)[0]
    left_over(behind, CrewFactory())
    for opening in (ahead, behind):
        problem = problem_of(scheduler.post(f"{API}/install-records/", {"opening": opening.pk}), 409, "other-day")
        assert opening.mark in problem["detail"]
        assert [fault["field"] for fault in problem["errors"]] == ["other_day"]
        begun = scheduler.post(f"{API}/install-records/", {"opening": opening.pk, "other_day": True})
        assert begun.status_code == 201
    (today,) = make_assigned(on=tomorrow(0))
    assert scheduler.post(f"{API}/install-records/", {"opening": today.pk}).status_code == 201


@pytest.mark.django_db
def test_what_would_strand_is_not_set_before_somebody_is_sure():
    crew = CrewFactory(people_count=20)
    (opening,) = make_assigned(crew=crew)
    day = live(opening).crew_day
    with pytest.raises(WouldStrand, match=opening.mark):
        services.set_crew_day(crew=crew, on=day.on, off_reason="sick", capacity_person_h=None, is_sure=False)
    day.refresh_from_db()
    assert (day.off_reason, day.capacity_person_h) == ("", Decimal(160))
