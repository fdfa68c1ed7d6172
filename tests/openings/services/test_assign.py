"""Giving openings to a crew for a day: what fits, what is refused and with which figures."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from django.utils import timezone

from jobs.errors import BadInput, Conflict, DayIsPast, DayOff, NotFound
from jobs.models import CrewDay
from openings import services
from openings.calc.figures import brief
from openings.models import Assignment, Hold
from openings.queries import person_hours
from tests.factories import CrewFactory, JobFactory, PersonFactory, make_openings, tomorrow
from tests.openings.rows import finish, live, make_assigned, start

pytestmark = pytest.mark.django_db

SATURDAY = date(2027, 3, 20)  # ISO 8601 week 11, day 6


def assign(*openings, crew, on=None):
    return services.assign(
        opening_ids=[opening.pk for opening in openings], crew_id=crew.pk, on=on or tomorrow(), by=None
    )


def at(monkeypatch, instant: datetime) -> None:
    monkeypatch.setattr(timezone, "now", lambda: instant)


def test_a_day_is_filled_to_its_last_hour_and_not_beyond():
    first, second = make_openings(2)
    each_h = person_hours([first])[first.pk]
    crew = CrewFactory()
    CrewDay.objects.create(crew=crew, on=tomorrow(), capacity_person_h=2 * each_h - Decimal("0.01"))
    assign(first, crew=crew)
    with pytest.raises(Conflict) as refused:
        assign(second, crew=crew)
    free = each_h - Decimal("0.01")
    assert f"{brief(free)} of {brief(2 * each_h - Decimal('0.01'))} labor hours free" in refused.value.detail
    assert f"1 opening would take {each_h:.2f}" in refused.value.detail

    CrewDay.objects.update(capacity_person_h=2 * each_h)
    assert assign(second, crew=crew)[0].person_h == each_h


def test_the_first_assignment_makes_the_day_with_people_times_shift():
    crew = CrewFactory(people_count=3, shift_h=Decimal("7.5"))
    (assignment,) = assign(*make_openings(1), crew=crew)
    assert assignment.crew_day.capacity_person_h == Decimal("22.5")


def held(opening):
    services.place_hold(opening_id=opening.pk, kind=Hold.Kind.WEATHER, reason="wind", by=None)


def void(opening):
    services.void_opening(opening_id=opening.pk)


def assigned(opening):
    assign(opening, crew=CrewFactory(name="Crew Elm"))


def started(opening):
    assigned(opening)
    start(opening)


def done(opening):
    assigned(opening)
    finish(start(opening))


@pytest.mark.parametrize(
    ("stand", "said"),
    [
        (held, "on hold: weather"),
        (void, "is void"),
        (assigned, "cannot be given to a crew: it is assigned to Crew Elm on "),
        (started, "cannot be given to a crew: it is assigned to Crew Elm on "),
        (done, "cannot be given to a crew: its install has been complete since "),
    ],
    ids=["on hold", "void", "assigned", "started", "done"],
)
def test_an_opening_that_is_not_ready_is_refused_and_nothing_is_assigned_with_it(stand, said):
    ready, other = make_openings(2)
    stand(other)
    with pytest.raises(Conflict, match=f"{other.mark} (is )?{said}"):
        assign(ready, other, crew=CrewFactory())
    assert not ready.assignments.exists()


def test_several_that_are_not_ready_are_all_named():
    first, second = make_openings(2)
    held(first)
    void(second)
    with pytest.raises(Conflict) as refused:
        assign(first, second, crew=CrewFactory())
    assert refused.value.detail == f"{first} is on hold: weather (wind); {second} is void"


def test_an_opening_named_twice_is_assigned_once():
    (opening,) = make_openings(1)
    assert len(assign(opening, opening, crew=CrewFactory())) == 1


def test_nobody_works_on_a_day_off_but_on_an_extra_day():
    crew, (first, second) = CrewFactory(weekdays="12345"), make_openings(2)
    with pytest.raises(DayOff, match="does not work on Sat, Mar 20; it works Mon to Fri"):
        assign(first, crew=crew, on=SATURDAY)
    assert not CrewDay.objects.exists()

    day = CrewDay.objects.create(crew=crew, on=SATURDAY, capacity_person_h=24)
    assert assign(first, crew=crew, on=SATURDAY)

    CrewDay.objects.filter(pk=day.pk).update(capacity_person_h=0, off_reason="funeral")
    with pytest.raises(DayOff, match="funeral"):
        assign(second, crew=crew, on=SATURDAY)


def test_a_day_is_past_when_it_is_past_where_the_job_is(monkeypatch):
    # 05:30 UTC on 8 March 2027 is 22:30 the evening before in Denver, UTC-7 (IANA time zone database).
    at(monkeypatch, datetime(2027, 3, 8, 5, 30, tzinfo=UTC))
    crew, today_in_denver = CrewFactory(), date(2027, 3, 7)
    (denver,) = make_openings(1, job=JobFactory(time_zone="America/Denver"))
    (london,) = make_openings(1, job=JobFactory(time_zone="Europe/London"))
    with pytest.raises(DayIsPast, match="Sun, Mar 7 is past: give a day from today, Mon, Mar 8"):
        assign(denver, london, crew=crew, on=today_in_denver)
    assert assign(denver, crew=crew, on=today_in_denver)


@pytest.mark.parametrize("unknown", [0, -1, 2**31, 2**63, 10**30])
def test_ids_that_nothing_has_are_not_found(unknown):
    (opening,) = make_openings(1)
    crew = CrewFactory()
    with pytest.raises(NotFound, match=f"no opening {unknown}"):
        services.assign(opening_ids=[opening.pk, unknown], crew_id=crew.pk, on=tomorrow(), by=None)
    with pytest.raises(NotFound, match=f"no crew {unknown}"):
        services.assign(opening_ids=[opening.pk], crew_id=unknown, on=tomorrow(), by=None)
    assert not Assignment.objects.exists()


def test_no_opening_is_no_assignment():
    with pytest.raises(BadInput):
        assign(crew=CrewFactory())


def test_what_is_withdrawn_is_kept_and_can_be_assigned_again():
    (opening,) = make_assigned()
    scheduler, first = PersonFactory(), live(opening)
    services.withdraw(assignment_id=first.pk, by=scheduler)
    with pytest.raises(Conflict, match=r"was unassigned \w{3}, \w{3} \d+ at \d+:\d\d [AP]M already"):
        services.withdraw(assignment_id=first.pk, by=scheduler)
    assign(opening, crew=CrewFactory())
    first.refresh_from_db()
    assert (first.withdrawn_by, opening.assignments.count()) == (scheduler, 2)


def test_what_is_started_stays_with_its_crew():
    (opening,) = make_assigned()
    start(opening)
    with pytest.raises(Conflict, match="was started"):
        services.withdraw(assignment_id=live(opening).pk, by=PersonFactory())


def test_what_is_withdrawn_makes_room():
    first, second = make_openings(2)
    crew = CrewFactory()
    CrewDay.objects.create(crew=crew, on=tomorrow(), capacity_person_h=person_hours([first])[first.pk])
    (given,) = assign(first, crew=crew)
    services.withdraw(assignment_id=given.pk, by=PersonFactory())
    assert assign(second, crew=crew)


def test_a_day_that_is_too_short_says_how_many_fit():
    crew, openings = CrewFactory(), make_openings(3)
    hours = person_hours(openings)
    CrewDay.objects.create(crew=crew, on=tomorrow(), capacity_person_h=hours[openings[0].pk] + hours[openings[1].pk])
    with pytest.raises(Conflict, match="the first 2 would fit"):
        services.assign(opening_ids=[one.pk for one in openings], crew_id=crew.pk, on=tomorrow(), by=None)
