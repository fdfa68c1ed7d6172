"""Moving what is assigned to another day, and carrying on what was begun."""

from __future__ import annotations

from decimal import Decimal

import pytest

from jobs.errors import BadInput, Conflict, DayIsPast, DayOff, NotAllowed, NotFound
from jobs.models import CrewDay
from openings import services
from openings.models import Assignment, Hold, InstallRecord
from openings.queries import hours_left, person_hours, stranded
from tests.factories import CrewFactory, PersonFactory, make_openings, tomorrow
from tests.openings.rows import finish, left_over, live, make_assigned, start

pytestmark = pytest.mark.django_db


def move(*assignments: Assignment, crew, on=None, **values):
    values.setdefault("by", PersonFactory())
    return services.move(
        assignment_ids=[assignment.pk for assignment in assignments], crew_id=crew.pk, on=on or tomorrow(), **values
    )


def test_what_was_not_begun_goes_whole_to_another_crew_and_day():
    crew, other, by = CrewFactory(people_count=20), CrewFactory(), PersonFactory()
    (opening,) = make_assigned(crew=crew)
    old = live(opening)
    (new,) = move(old, crew=other, on=tomorrow(3), by=by)
    old.refresh_from_db()
    assert (new.crew_day.crew, new.crew_day.on, new.person_h) == (other, tomorrow(3), old.person_h)
    assert (old.withdrawn_by, new.assigned_by, live(opening)) == (by, by, new)


def test_what_was_begun_is_carried_on_with_what_is_left_of_it():
    crew, (opening,) = CrewFactory(), make_openings(1)
    old = left_over(opening, crew, steps=5)
    whole = person_hours([opening])[opening.pk]
    (new,) = move(old, crew=CrewFactory(), on=tomorrow(0))
    left = hours_left([opening], experience="professional")[opening.pk]
    assert new.person_h == left.person_h
    assert 0 < new.person_h < whole
    record = InstallRecord.objects.get(opening=opening)
    assert (record.crew, record.steps.count(), record.done_at) == (crew, 5, None)


def test_the_crew_that_has_it_now_records_and_no_other():
    first, second, (opening,) = CrewFactory(), CrewFactory(), make_openings(1)
    old = left_over(opening, first, steps=1)
    by_first, by_second = (PersonFactory(role="crew_lead", crew=crew) for crew in (first, second))
    record = InstallRecord.objects.get(opening=opening)
    services.record_step(record_id=record.pk, step="sill-strip", by=by_first)
    move(old, crew=second, on=tomorrow(0))
    with pytest.raises(NotAllowed):
        services.record_hours(record_id=record.pk, person="Ines", on=tomorrow(0), person_h=Decimal(2), by=by_first)
    services.record_hours(record_id=record.pk, person="Ines", on=tomorrow(0), person_h=Decimal(2), by=by_second)
    record.refresh_from_db()
    assert record.crew == first


def test_all_are_moved_or_none():
    crew = CrewFactory(people_count=20)
    free, held = make_assigned(2, crew=crew)
    services.place_hold(opening_id=held.pk, kind=Hold.Kind.ACCESS, reason="stairs", by=None)
    with pytest.raises(Conflict, match=f"{held} is on hold: access"):
        move(live(free), live(held), crew=CrewFactory(), on=tomorrow(2))
    assert live(free).crew_day.crew == live(held).crew_day.crew == crew


def test_a_day_without_room_takes_nothing_and_says_both_figures():
    (opening,), other = make_assigned(), CrewFactory()
    CrewDay.objects.create(crew=other, on=tomorrow(), capacity_person_h=1)
    with pytest.raises(Conflict, match=r"has 1 of 1 labor hours free; 1 opening would take"):
        move(live(opening), crew=other)
    assert live(opening).crew_day.crew != other


def test_what_cannot_be_moved_is_said():
    crew = CrewFactory(people_count=20)
    same, done, gone = make_assigned(3, crew=crew)
    finish(start(done))
    withdrawn = live(gone)
    services.withdraw(assignment_id=withdrawn.pk, by=PersonFactory())
    for assignment, said in (
        (live(same), "already"), (live(done), "been complete since"), (withdrawn, "is unassigned already"),
    ):  # fmt: skip
        with pytest.raises(Conflict, match=said):
            move(assignment, crew=crew)


def test_nowhere_and_nothing_are_refused():
    (opening,), crew, day_off = make_assigned(), CrewFactory(), CrewFactory()
    CrewDay.objects.create(crew=day_off, on=tomorrow(), capacity_person_h=0, off_reason="funeral")
    given, by = live(opening), PersonFactory()
    with pytest.raises(DayOff, match="funeral"):
        move(given, crew=day_off)
    with pytest.raises(DayIsPast):
        move(given, crew=crew, on=tomorrow(-2))
    with pytest.raises(BadInput):
        move(crew=crew)
    for ids, crew_id in (([10**30], crew.pk), ([given.pk], 10**30)):
        with pytest.raises(NotFound):
            services.move(assignment_ids=ids, crew_id=crew_id, on=tomorrow(), by=by)
    assert live(opening) == given


def test_one_begun_is_offered_to_be_carried_on_and_not_withdrawn():
    (opening,) = make_openings(1)
    given = left_over(opening, CrewFactory(), steps=2)
    with pytest.raises(Conflict, match="carry it on"):
        services.withdraw(assignment_id=given.pk, by=PersonFactory())


def test_what_is_moved_is_stranded_no_more():
    opening, other = make_openings(2)
    crew = CrewFactory()
    first, second = left_over(opening, crew, steps=3), left_over(other, crew)
    assert [one.assignment for one in stranded()] == [first, second]
    move(first, second, crew=CrewFactory(people_count=20), on=tomorrow(0))
    assert stranded() == []
