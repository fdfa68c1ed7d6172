"""Several people at the same moment, with real threads and connections: the database decides, once."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from typing import Any

import pytest
from django.db import connections

from jobs.errors import Conflict
from jobs.models import CrewDay
from openings import services
from openings.models import Assignment, Hold, InstallRecord
from openings.queries import person_hours
from tests.factories import CrewFactory, PersonFactory, make_openings, tomorrow
from tests.openings.rows import live, make_assigned

pytestmark = pytest.mark.django_db(transaction=True)

ROUNDS = 5


def at_once(*calls: Callable[[], Any]) -> list[Any]:
    """Return what each call returns or raises, all begun at the same moment on connections of their own."""
    barrier = Barrier(len(calls))

    def run(call: Callable[[], Any]) -> Any:
        try:
            barrier.wait(timeout=10)
            return call()
        except Exception as error:
            return error
        finally:
            connections.close_all()

    with ThreadPoolExecutor(len(calls)) as threads:
        return list(threads.map(run, calls))


def giving(opening, crew) -> Callable[[], Any]:
    return lambda: services.assign(opening_ids=[opening.pk], crew_id=crew.pk, on=tomorrow(), by=None)


@pytest.mark.parametrize("crews", [1, 2], ids=["to one crew", "to two crews"])
def test_of_two_who_assign_one_opening_one_wins_and_the_other_is_told(crews):
    first, last = CrewFactory(), CrewFactory()
    for opening in make_openings(ROUNDS):
        outcomes = at_once(giving(opening, first), giving(opening, last if crews == 2 else first))
        (refusal,) = [outcome for outcome in outcomes if isinstance(outcome, Exception)]
        assert isinstance(refusal, Conflict), refusal
        assert "it is assigned to" in refusal.detail
        assert opening.assignments.count() == 1


def test_a_day_is_never_filled_beyond_its_capacity():
    crew, openings = CrewFactory(), make_openings(8)
    room_h = 3 * person_hours(openings[:1])[openings[0].pk]
    CrewDay.objects.create(crew=crew, on=tomorrow(), capacity_person_h=room_h)
    outcomes = at_once(*(giving(opening, crew) for opening in openings))
    refusals = [outcome for outcome in outcomes if isinstance(outcome, Exception)]
    assert [type(refusal) for refusal in refusals] == [Conflict] * 5
    assert sum(Assignment.objects.values_list("person_h", flat=True)) == room_h


def test_overlapping_sets_of_openings_end_without_a_deadlock():
    crew, openings = CrewFactory(people_count=20), make_openings(6)
    ids = [opening.pk for opening in openings]
    calls = [
        lambda ids=ids: services.assign(opening_ids=ids, crew_id=crew.pk, on=tomorrow(), by=None)
        for ids in (ids, ids[::-1], ids[3:] + ids[:3])
    ]
    refusals = [outcome for outcome in at_once(*calls) if isinstance(outcome, Exception)]
    assert [type(refusal) for refusal in refusals] == [Conflict] * 2
    assert Assignment.objects.count() == 6


def test_a_hold_and_an_assignment_never_miss_one_another():
    crew = CrewFactory(people_count=20)
    for opening in make_openings(ROUNDS):
        hold = {"opening_id": opening.pk, "kind": Hold.Kind.ACCESS, "reason": "stairs"}
        held, given = at_once(lambda hold=hold: services.place_hold(**hold, by=None), giving(opening, crew))
        assert isinstance(held, Hold)
        # Whichever came first: either the assignment saw the hold, or it stands and the hold came after.
        assert isinstance(given, Conflict) or held.placed_at >= live(opening).assigned_at


def test_an_install_is_started_once():
    by = PersonFactory()
    for opening in make_assigned(ROUNDS):
        start = {"opening_id": opening.pk, "by": by, "other_day": True}
        outcomes = at_once(*[lambda start=start: services.start_install(**start)] * 2)
        assert sorted(type(outcome).__name__ for outcome in outcomes) == ["Conflict", "InstallRecord"]


def test_an_install_is_not_started_while_it_is_withdrawn():
    by = PersonFactory()
    for opening in make_assigned(ROUNDS):
        assignment, start = live(opening), {"opening_id": opening.pk, "by": by, "other_day": True}
        at_once(
            lambda start=start: services.start_install(**start),
            lambda pk=assignment.pk: services.withdraw(assignment_id=pk, by=by),
        )
        assignment.refresh_from_db()
        assert InstallRecord.objects.filter(opening=opening).exists() is (assignment.withdrawn_at is None)


def moving(opening, crew, on, *, by):
    assignment_id = live(opening).pk
    return lambda: services.move(assignment_ids=[assignment_id], crew_id=crew.pk, on=on, by=by)


def test_an_opening_is_moved_once():
    by, crews = PersonFactory(), CrewFactory.create_batch(2, people_count=20)
    for opening in make_assigned(ROUNDS, crew=CrewFactory(people_count=20)):
        outcomes = at_once(*(moving(opening, crew, tomorrow(), by=by) for crew in crews))
        assert sorted(type(outcome).__name__ for outcome in outcomes) == ["Conflict", "list"]
        assert live(opening).crew_day.crew in crews


def test_days_that_swap_their_openings_wait_for_one_another():
    by, crew, days = PersonFactory(), CrewFactory(people_count=20), [tomorrow(2), tomorrow(3)]
    swapped = [make_assigned(1, crew=crew, on=on)[0] for on in days]
    for _ in range(ROUNDS):
        days.reverse()
        outcomes = at_once(*(moving(opening, crew, on, by=by) for opening, on in zip(swapped, days, strict=True)))
        assert [type(outcome) for outcome in outcomes] == [list, list]
