"""What breaks of the days that are planned, and that what is offered mends it."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest

from jobs.models import CrewDay
from jobs.services import set_forecast
from openings import services
from openings.calc.mending import Way
from openings.models import Hold
from openings.plans.repair import repairs
from openings.queries import assigned_too_early, stranded
from tests.factories import CrewFactory, PersonFactory, make_openings, tomorrow
from tests.openings.rows import live, make_assigned

pytestmark = pytest.mark.django_db


def test_nothing_is_offered_where_nothing_breaks():
    make_assigned(2)
    assert repairs() == []


def test_every_offer_for_a_sick_crew_can_be_taken_and_mends_it():
    sick, well = CrewFactory(), CrewFactory()
    openings = make_assigned(3, crew=sick)
    day = CrewDay.objects.get(crew=sick)
    services.change_crew_day(crew_day_id=day.pk, off_reason="sick")
    (repair,) = repairs()
    assert repair.crew_day == day
    assert [one.assignment.opening for one in repair.breaks] == openings
    assert {one.why for one in repair.breaks} == {stranded()[0].reason}
    ways = {offer.way: offer for offer in repair.offers}
    assert {Way.SAME_DAY, Way.UNASSIGN} <= ways.keys()
    assert {move.crew_id for move in ways[Way.SAME_DAY].moves} == {well.pk}
    assert ways[Way.UNASSIGN].unassigned == tuple(sorted(live(one).pk for one in openings))
    best = repair.offers[0]
    services.move_all(moves=best.moves, by=PersonFactory())
    assert repairs() == []


def test_a_delivery_that_slips_moves_its_openings_behind_it():
    crew = CrewFactory()
    late, other = make_assigned(2, crew=crew)
    comes_on = tomorrow() + timedelta(days=3)
    services.place_hold(
        opening_id=late.pk, kind=Hold.Kind.UNIT_NOT_ON_SITE, reason="truck broke down", by=None, expected_on=comes_on
    )
    assert [one.assignment.opening for one in assigned_too_early()] == [late]
    (repair,) = repairs()
    assert [one.assignment.opening for one in repair.breaks] == [late]
    moves = repair.offers[0].moves
    assert all(move.on > comes_on for move in moves)
    services.move_all(moves=moves, by=PersonFactory())
    assert repairs() == []
    assert live(other).crew_day.on == tomorrow()


def test_rain_beyond_the_limits_is_told_though_the_job_is_not_held_to_its_forecasts():
    crew = CrewFactory()
    (wet,) = make_assigned(crew=crew)
    weather = {"low_f": Decimal(40), "high_f": Decimal(50), "wind_mph": Decimal(5)}
    rainy = {tomorrow(), tomorrow(2)}
    for on in rainy:
        set_forecast(job=wet.job, on=on, rain_in=Decimal("0.8"), **weather)
    (repair,) = repairs()
    assert [one.why for one in repair.breaks] == ["weather: 0.8 in. of rain, at most 0.1"]
    services.move_all(moves=repair.offers[0].moves, by=PersonFactory())
    assert live(wet).crew_day.on not in rainy
    assert repairs() == []


def test_what_nobody_knows_a_day_for_is_unassigned():
    (opening,) = make_assigned()
    services.place_hold(opening_id=opening.pk, kind=Hold.Kind.ACCESS, reason="no lift", by=None)
    (repair,) = repairs()
    assert [offer.way for offer in repair.offers] == [Way.UNASSIGN]
    services.unassign(assignment_ids=repair.offers[0].unassigned, by=PersonFactory())
    assert repairs() == []


@pytest.mark.parametrize("count", [1, 6])
def test_repairs_take_as_many_queries_for_one_opening_as_for_six(django_assert_max_num_queries, count):
    make_openings(3)
    crew = CrewFactory(people_count=20)
    make_assigned(count, crew=crew)
    services.change_crew_day(crew_day_id=CrewDay.objects.get(crew=crew).pk, off_reason="sick")
    with django_assert_max_num_queries(32):
        repairs()
