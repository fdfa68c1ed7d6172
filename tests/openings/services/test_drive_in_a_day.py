"""A crew that serves two sites drives between them, and that counts in its day."""

from __future__ import annotations

from decimal import Decimal

import pytest

from jobs.errors import BadInput, Conflict
from jobs.models import CrewDay
from jobs.services import enter_drives
from openings import services
from openings.calc.mending import CrewMove
from openings.models import Assignment, BoardAct
from openings.queries import person_hours, stranded
from tests.factories import CrewFactory, JobFactory, PersonFactory, make_openings, tomorrow
from tests.openings.rows import live, make_assigned

pytestmark = pytest.mark.django_db


@pytest.fixture
def two_sites():
    near, far = make_openings(1, job=JobFactory()), make_openings(1, job=JobFactory())
    enter_drives(site_id=near[0].job_id, minutes={far[0].job_id: 30})
    return near[0], far[0]


def day_of(openings, crew, *, more_person_h: str) -> CrewDay:
    hours = sum(person_hours(openings).values(), Decimal(0)) + Decimal(more_person_h)
    return CrewDay.objects.create(crew=crew, on=tomorrow(), capacity_person_h=hours)


def test_the_drive_takes_the_hours_of_everybody_in_the_truck(two_sites):
    crew = CrewFactory(people_count=2)
    day_of(two_sites, crew, more_person_h="0.99")
    with pytest.raises(Conflict, match="1 of them for the drive between the sites"):
        services.assign(opening_ids=[one.pk for one in two_sites], crew_id=crew.pk, on=tomorrow(), by=PersonFactory())
    assert not Assignment.objects.exists()
    CrewDay.objects.update(capacity_person_h=sum(person_hours(two_sites).values(), Decimal(1)))
    services.assign(opening_ids=[one.pk for one in two_sites], crew_id=crew.pk, on=tomorrow(), by=PersonFactory())
    assert not stranded()


def test_a_drive_that_turns_out_longer_strands_what_fits_no_more(two_sites):
    near, far = two_sites
    crew = CrewFactory(people_count=2)
    day_of(two_sites, crew, more_person_h="1")
    services.assign(opening_ids=[near.pk, far.pk], crew_id=crew.pk, on=tomorrow(), by=PersonFactory())
    enter_drives(site_id=near.job_id, minutes={far.job_id: 45})
    assert [one.assignment.opening for one in stranded()] == [far]


def test_two_crews_change_places_in_one_act():
    first, second, by = CrewFactory(people_count=20), CrewFactory(people_count=20), PersonFactory()
    (one,), (other,) = make_assigned(crew=first), make_assigned(crew=second)
    CrewDay.objects.update(capacity_person_h=max(person_hours([one, other]).values()))
    services.move_all(
        moves=[
            CrewMove(crew_id=second.pk, on=tomorrow(), assignment_ids=(live(one).pk,)),
            CrewMove(crew_id=first.pk, on=tomorrow(), assignment_ids=(live(other).pk,)),
        ],
        by=by,
    )
    assert (live(one).crew_day.crew, live(other).crew_day.crew) == (second, first)
    act = BoardAct.objects.filter(kind=BoardAct.Kind.MOVE).get()
    services.undo(act_id=act.pk, by=by)
    assert (live(one).crew_day.crew, live(other).crew_day.crew) == (first, second)


def test_of_several_moves_all_are_done_or_none():
    first, second, by = CrewFactory(people_count=20), CrewFactory(people_count=20), PersonFactory()
    one, other = make_assigned(2, crew=first)
    CrewDay.objects.create(crew=second, on=tomorrow(), capacity_person_h=0, off_reason="sick")
    fits = CrewMove(crew_id=first.pk, on=tomorrow(2), assignment_ids=(live(one).pk,))
    with pytest.raises(Conflict, match="is off"):
        services.move_all(
            moves=[fits, CrewMove(crew_id=second.pk, on=tomorrow(), assignment_ids=(live(other).pk,))], by=by
        )
    assert {live(one).crew_day.on, live(other).crew_day.on} == {tomorrow()}
    with pytest.raises(BadInput, match="once"):
        services.move_all(moves=[fits, fits], by=by)
