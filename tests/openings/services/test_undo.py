"""Undoing as one what was done as one, and refusing where something changed since."""

from __future__ import annotations

import pytest

from jobs.errors import ChangedMeanwhile, Conflict, NotFound
from jobs.models import CrewDay
from openings import services
from openings.models import BoardAct, Hold
from openings.queries import SeenDay, stranded, versions_by_day
from tests.factories import CrewFactory, PersonFactory, make_openings, tomorrow
from tests.openings.rows import finish, left_over, live, make_assigned, start

pytestmark = pytest.mark.django_db


def move_all(openings, crew, on=None, **values) -> BoardAct:
    ids = [live(one).pk for one in openings]
    given = services.move(assignment_ids=ids, crew_id=crew.pk, on=on or tomorrow(2), by=PersonFactory(), **values)
    (act,) = {one.given_in for one in given}
    return act


def test_what_was_moved_together_goes_back_together_and_forth_again():
    first, second, by = CrewFactory(people_count=20), CrewFactory(people_count=20), PersonFactory()
    openings = make_assigned(3, crew=first)
    hours = {one.pk: live(one).person_h for one in openings}
    act = move_all(openings, second)
    undone = services.undo(act_id=act.pk, by=by)
    assert {(live(one).crew_day.crew, live(one).crew_day.on) for one in openings} == {(first, tomorrow())}
    assert {one.pk: live(one).person_h for one in openings} == hours
    assert {live(one).assigned_by for one in openings} == {by}
    services.undo(act_id=undone.pk, by=by)
    assert {(live(one).crew_day.crew, live(one).crew_day.on) for one in openings} == {(second, tomorrow(2))}


def test_what_was_assigned_is_ready_again_and_what_was_unassigned_is_assigned_again():
    (opening,), by = make_assigned(), PersonFactory()
    given = live(opening)
    services.withdraw(assignment_id=given.pk, by=by)
    given.refresh_from_db()
    back = services.undo(act_id=given.taken_in_id, by=by)
    assert live(opening).crew_day == given.crew_day
    services.undo(act_id=back.pk, by=by)
    assert not opening.assignments.live().exists()
    (other,) = make_assigned()
    services.undo(act_id=live(other).given_in_id, by=by)
    assert not other.assignments.live().exists()


def test_a_stranded_opening_goes_back_to_its_past_day_and_is_stranded_again():
    (opening,) = make_openings(1)
    old = left_over(opening, CrewFactory(), steps=2)
    CrewDay.objects.filter(pk=old.crew_day_id).update(capacity_person_h=1)  # and overfull
    act = move_all([opening], CrewFactory())
    services.undo(act_id=act.pk, by=PersonFactory())
    assert [one.assignment for one in stranded()] == [live(opening)]


def _hold(opening):
    services.place_hold(opening_id=opening.pk, kind=Hold.Kind.ACCESS, reason="stairs", by=None)


def _move_on(opening):
    move_all([opening], CrewFactory(people_count=20), on=tomorrow(5))


def _set_day(opening):
    first = opening.assignments.order_by("pk").first()
    services.change_crew_day(crew_day_id=first.crew_day_id, capacity_person_h=100)


def _fill_day(opening):
    first = opening.assignments.order_by("pk").first()
    CrewDay.objects.filter(pk=first.crew_day_id).update(capacity_person_h=first.person_h)
    BoardAct.objects.filter(taken=first).update(at=CrewDay.objects.get(pk=first.crew_day_id).updated_at)
    make_assigned(1, crew=first.crew_day.crew)


@pytest.mark.parametrize(
    ("meanwhile", "said"),
    [
        (_hold, "is on hold: access"),
        (_move_on, "was assigned, moved or unassigned again since"),
        (lambda one: start(one), "work on .* was recorded since"),
        (lambda one: finish(start(one)), "work on .* was recorded since"),
        (_set_day, "was changed since"),
        (_fill_day, "labor hours free"),
    ],
    ids=["held", "moved on", "begun", "complete", "day set", "hours taken"],
)
def test_what_changed_since_is_not_undone(meanwhile, said):
    untouched, changed = make_assigned(2, crew=CrewFactory(people_count=20))
    act = move_all([untouched, changed], CrewFactory(people_count=20))
    meanwhile(changed)
    with pytest.raises(Conflict, match=said):
        services.undo(act_id=act.pk, by=PersonFactory())
    assert live(untouched).crew_day.on == tomorrow(2)


def test_an_act_is_undone_once_and_only_if_there_is_one():
    act = move_all(make_assigned(), CrewFactory())
    services.undo(act_id=act.pk, by=PersonFactory())
    with pytest.raises(Conflict, match="undone already"):
        services.undo(act_id=act.pk, by=PersonFactory())
    with pytest.raises(NotFound):
        services.undo(act_id=10**9, by=PersonFactory())


def test_a_whole_day_goes_but_for_what_is_complete():
    crew, other = CrewFactory(people_count=20), CrewFactory(people_count=20)
    done, first, second = make_assigned(3, crew=crew)
    finish(start(done))
    day = live(first).crew_day_id
    services.move(whole_days=[day], crew_id=other.pk, on=tomorrow(), by=PersonFactory())
    assert {live(one).crew_day.crew for one in (first, second)} == {other}
    assert live(done).crew_day.crew == crew


def test_nobody_overwrites_what_somebody_else_did_to_the_day():
    crew, other, by = CrewFactory(people_count=20), CrewFactory(people_count=20), PersonFactory(first_name="Dana")
    first, second = make_assigned(2, crew=crew)
    seen = [
        SeenDay(crew_id=crew_id, on=on, version=version)
        for (crew_id, on), version in versions_by_day(first=tomorrow(), days=3).items()
    ]
    services.move(assignment_ids=[live(first).pk], crew_id=other.pk, on=tomorrow(), by=by, seen=seen)
    with pytest.raises(ChangedMeanwhile, match=rf"{crew} on .* changed after you looked \(last change by Dana\)"):
        services.move(assignment_ids=[live(second).pk], crew_id=other.pk, on=tomorrow(2), by=by, seen=seen)
    for verb in (
        lambda: services.unassign(assignment_ids=[live(second).pk], by=by, seen=seen),
        lambda: services.assign(
            opening_ids=[make_openings(1)[0].pk], crew_id=other.pk, on=tomorrow(), by=by, seen=seen
        ),
    ):
        with pytest.raises(ChangedMeanwhile):
            verb()
    assert live(second).crew_day.crew == crew
