"""What an opening waits for: units and deliveries, other trades, rules that place and release holds, and the day."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from jobs.calc.say import day as say_day
from jobs.errors import BadInput, Conflict, NotFound
from jobs.models import SiteForecast
from openings import services
from openings.calc.readiness import Condition
from openings.models import Delivery, Hold, Opening, Unit
from openings.queries import assigned_too_early, readiness, readiness_of_opening
from tests.factories import CrewFactory, JobFactory, PersonFactory, make_openings, tomorrow
from tests.openings.rows import live, measure, schedule_of, start, take

pytestmark = pytest.mark.django_db


def order(*openings: Opening, **values: Any) -> list[Unit]:
    return services.order_units(opening_ids=[one.pk for one in openings], ordered_on=tomorrow(-7), **values)


def holds_of(opening: Opening) -> dict[str, date | None]:
    return dict(Hold.objects.open().filter(opening=opening).values_list("kind", "expected_on"))


def assign(*openings: Opening, on: date):
    return services.assign(
        opening_ids=[one.pk for one in openings], crew_id=CrewFactory(people_count=20).pk, on=on, by=None
    )


def delivery_of(*units: Unit, expected_on: date | None) -> Delivery:
    return services.add_delivery(
        job=units[0].opening.job, supplier="Sash works", expected_on=expected_on, unit_ids=[unit.pk for unit in units]
    )


def test_a_unit_that_is_ordered_holds_its_opening_until_it_is_received_whole():
    (opening,) = make_openings(1)
    assert holds_of(opening) == {}
    (unit,) = order(opening, expected_on=tomorrow(4))
    assert holds_of(opening) == {"unit not on site": tomorrow(4)}
    services.receive_units(unit_ids=[unit.pk], by=PersonFactory(), stands_at="garage")
    unit.refresh_from_db()
    assert (holds_of(opening), unit.stands_at, unit.condition) == ({}, "garage", "whole")
    released = Hold.objects.get(opening=opening)
    assert (released.released_by, released.rule, released.release_note) == (None, "unit", "what it waited for is there")


def test_many_come_at_once_and_what_is_damaged_wrong_or_missing_is_named():
    whole, damaged, wrong, missing = openings = make_openings(4)
    units = order(*openings)
    delivery = delivery_of(*units, expected_on=tomorrow(2))
    assert [holds_of(one) for one in openings] == [{"unit not on site": tomorrow(2)}] * 4
    flaws = {
        units[1].pk: services.Flaw(condition=Condition.DAMAGED, note="cracked lite"),
        units[2].pk: services.Flaw(condition=Condition.WRONG, note="hinged left"),
    }
    services.receive_delivery(
        delivery_id=delivery.pk, by=PersonFactory(), stands_at="yard", flaws=flaws, missing=[units[3].pk]
    )
    assert holds_of(whole) == {}
    reasons = [Hold.objects.open().get(opening=one).reason for one in (damaged, wrong, missing)]
    assert reasons == [
        "the unit is damaged: cracked lite; order it again",
        "the unit is wrong: hinged left; order it again",
        "the delivery came without the unit",
    ]
    assert {holds_of(one)["unit not on site"] for one in (damaged, wrong, missing)} == {None}
    with pytest.raises(Conflict, match="was received already"):
        services.receive_delivery(delivery_id=delivery.pk, by=PersonFactory())


def test_a_damaged_unit_is_ordered_again_and_the_first_stays_as_history():
    (opening,) = make_openings(1)
    (unit,) = order(opening)
    flaw = services.Flaw(condition=Condition.DAMAGED, note="frame bent")
    services.receive_units(unit_ids=[unit.pk], by=PersonFactory(), flaws={unit.pk: flaw})
    again = services.reorder_unit(unit_id=unit.pk, ordered_on=tomorrow(-1), expected_on=tomorrow(9))
    assert list(opening.units.all()) == [unit, again]
    assert Unit.objects.current().get(opening=opening) == again
    assert holds_of(opening) == {"unit not on site": tomorrow(9)}
    for verb in (services.reorder_unit, services.revise_unit):
        values = {"by": PersonFactory()} if verb is services.revise_unit else {}
        with pytest.raises(Conflict, match="ordered again"):
            verb(unit_id=unit.pk, ordered_on=tomorrow(-1), **values)


def test_a_delivery_that_slips_moves_what_waits_for_it():
    openings = make_openings(3)
    delivery = delivery_of(*order(*openings), expected_on=tomorrow(2))
    services.revise_delivery(delivery_id=delivery.pk, expected_on=tomorrow(6))
    assert [holds_of(one) for one in openings] == [{"unit not on site": tomorrow(6)}] * 3
    assert not Delivery.objects.late(tomorrow(6)).exists()
    assert Delivery.objects.late(tomorrow(7)).get() == delivery
    assert Unit.objects.late(tomorrow(7)).count() == 3


def refused_twice():
    (opening,) = make_openings(1)
    order(opening)
    order(opening)


def refused_none():
    order()


def refused_delivery_of_another_job():
    delivery = Delivery.objects.create(job=JobFactory(), supplier="Sash works")
    order(make_openings(1)[0], delivery=delivery)


def refused_finished():
    (opening,) = make_openings(1)
    services.void_opening(opening_id=opening.pk)
    order(opening)


def refused_two_days():
    (opening,) = make_openings(1)
    delivery = Delivery.objects.create(job=opening.job, supplier="Sash works")
    order(opening, delivery=delivery, expected_on=tomorrow())


def refused_future_order():
    services.order_units(opening_ids=[make_openings(1)[0].pk], ordered_on=tomorrow(3))


def refused_damage_without_a_word():
    (unit,) = order(make_openings(1)[0])
    flaw = services.Flaw(condition=Condition.DAMAGED, note="")
    services.receive_units(unit_ids=[unit.pk], by=PersonFactory(), flaws={unit.pk: flaw})


def refused_twice_received():
    (unit,) = order(make_openings(1)[0])
    for _ in range(2):
        services.receive_units(unit_ids=[unit.pk], by=PersonFactory())


def refused_stranger_among_flaws():
    (unit,) = order(make_openings(1)[0])
    flaw = services.Flaw(condition=Condition.WRONG, note="blue")
    services.receive_units(unit_ids=[unit.pk], by=PersonFactory(), flaws={unit.pk + 1: flaw})


def refused_whole_again():
    (unit,) = order(make_openings(1)[0])
    services.receive_units(unit_ids=[unit.pk], by=PersonFactory())
    services.reorder_unit(unit_id=unit.pk, ordered_on=tomorrow(-1))


def refused_unknown():
    services.revise_unit(unit_id=0, by=PersonFactory(), note="x")


@pytest.mark.parametrize(
    ("does", "error", "why"),
    [
        (refused_twice, Conflict, "is ordered for .* already"),
        (refused_none, BadInput, "at least one opening"),
        (refused_delivery_of_another_job, Conflict, "another job"),
        (refused_finished, Conflict, "is finished"),
        (refused_two_days, ValidationError, "leave its own day blank"),
        (refused_future_order, ValidationError, "has not come yet"),
        (refused_damage_without_a_word, ValidationError, "what is damaged or wrong"),
        (refused_twice_received, Conflict, "was received already"),
        (refused_stranger_among_flaws, BadInput, "not among those that come"),
        (refused_whole_again, Conflict, "is there and whole"),
        (refused_unknown, NotFound, "no unit 0"),
    ],
    ids=lambda one: getattr(one, "__name__", ""),
)
def test_what_cannot_be_true_of_a_unit_is_refused(does, error, why):
    with pytest.raises(error, match=why):
        does()


def test_what_is_expected_by_then_can_be_assigned_and_before_that_the_day_is_named():
    (opening,) = make_openings(1)
    order(opening, expected_on=tomorrow(3))
    assert readiness_of_opening(opening.pk).plannable_from == tomorrow(4)
    with pytest.raises(Conflict, match=rf"has not come\), expected .*; plannable from {say_day(tomorrow(4))}$"):
        assign(opening, on=tomorrow(3))
    (assignment,) = assign(opening, on=tomorrow(4))
    assert assigned_too_early() == []
    services.revise_unit(unit_id=opening.units.get().pk, by=PersonFactory(), expected_on=tomorrow(5))
    (early,) = assigned_too_early(job_id=opening.job_id)
    assert (early.assignment, early.readiness.plannable_from) == (assignment, tomorrow(6))
    with pytest.raises(Conflict, match="plannable from"):
        services.move(
            assignment_ids=[assignment.pk], crew_id=assignment.crew_day.crew_id, on=tomorrow(5), by=PersonFactory()
        )


def test_what_is_late_or_has_no_day_cannot_be_planned():
    late, unsaid = make_openings(2)
    order(late, expected_on=tomorrow(-2))
    order(unsaid)
    assert {one.plannable_from for one in readiness([late, unsaid]).values()} == {None}
    assert "which was expected" in readiness([late])[late.pk].why_not_today[0]
    with pytest.raises(Conflict, match="is on hold: unit not on site"):
        assign(unsaid, on=tomorrow(30))


def test_a_trade_holds_its_floor_until_it_is_done():
    lower, upper = make_openings(2)
    Opening.objects.filter(pk=upper.pk).update(floor="2")
    trade = services.add_trade_before(job=lower.job, name="WRB", floor="2", expected_on=tomorrow(5))
    permit = services.add_trade_before(job=lower.job, name="permit", kind="permit")
    assert (holds_of(lower), holds_of(upper)) == ({"permit": None}, {"permit": None, "other trade": tomorrow(5)})
    services.revise_trade_before(trade_id=permit.pk, done_on=tomorrow(-1))
    services.revise_opening(opening_id=lower.pk, floor="2")
    services.revise_opening(opening_id=upper.pk, floor="1")
    assert (holds_of(lower), holds_of(upper)) == ({"other trade": tomorrow(5)}, {})
    services.revise_trade_before(trade_id=trade.pk, done_on=tomorrow(-1))
    assert holds_of(lower) == {}


def test_a_job_chooses_the_rules_by_which_what_nobody_entered_is_missing():
    job = JobFactory(built_year=1962)
    opening, begun = make_openings(2, job=job)
    assign(begun, on=tomorrow())
    start(begun)
    services.set_ready_rules(job=job, units=True, measured=True, lead_paint=True)
    assert set(holds_of(opening)) == {"not measured", "unit not on site", "lead paint"}
    assert holds_of(begun) == {}
    measure(opening, "36", "54")
    services.add_trade_before(job=job, kind="lead paint", name="lead-safe setup", done_on=tomorrow(-1))
    assert set(holds_of(opening)) == {"unit not on site"}
    services.set_ready_rules(job=job, units=False)
    assert holds_of(opening) == {}


def test_what_a_schedule_or_a_person_adds_follows_the_rules_of_the_job():
    (opening,) = make_openings(1)
    job = opening.job
    services.set_ready_rules(job=job, units=True)
    take(job, schedule_of(f"W9,2,36,54,{opening.detail.name}"))
    assert Hold.objects.open().filter(opening__job=job, kind="unit not on site").count() == 3


def test_floors_are_set_in_their_order():
    first, also_first, second = make_openings(3)
    Opening.objects.filter(pk=second.pk).update(floor="2")
    Opening.objects.filter(pk__in=[first.pk, also_first.pk]).update(floor="1")
    services.set_ready_rules(job=first.job, floor_order=["1", "2"])
    with pytest.raises(Conflict, match="floor order: 1 comes first, and 2 openings there are not assigned"):
        assign(second, on=tomorrow(9))
    assign(first, on=tomorrow(2))
    second.refresh_from_db()
    assert readiness([second])[second.pk].plannable_from is None
    assign(second, also_first, on=tomorrow(3))
    assert readiness([second])[second.pk].plannable_from == tomorrow(3)


def test_a_day_of_wind_or_rain_is_passed_over_where_the_job_says_so():
    (opening,) = make_openings(1)
    today = timezone.now().date()
    for days, values in ((0, {"wind_mph": 31}), (1, {"rain_in": Decimal("0.5")})):
        SiteForecast.objects.create(job=opening.job, on=today + timedelta(days=days), low_f=40, high_f=60, **values)
    assert readiness([opening])[opening.pk].plannable_from == today
    services.set_ready_rules(job=opening.job, weather=True)
    found = readiness_of_opening(opening.pk)
    assert found.plannable_from == today + timedelta(days=2)
    assert found.why_not_today == ("weather: wind of 31 mph, at most 20",)
    with pytest.raises(Conflict, match=r"weather: 0.5 in. of rain, at most 0.1; plannable from"):
        assign(opening, on=tomorrow())


def test_holds_are_placed_and_released_many_at_once():
    first, second, third = make_openings(3)
    by = PersonFactory()
    services.place_hold(opening_id=first.pk, kind="access", reason="scaffold", by=by)
    placed = services.place_holds(
        opening_ids=[first.pk, second.pk, third.pk], kind="access", reason="lift", expected_on=tomorrow(2), by=by
    )
    assert [hold.opening for hold in placed] == [second, third]
    revised = services.revise_hold(hold_id=placed[0].pk, expected_on=tomorrow(3))
    assert readiness([second])[second.pk].plannable_from == tomorrow(4)
    services.release_holds(hold_ids=[hold.pk for hold in placed], by=by, note="it stands")
    assert (holds_of(second), holds_of(third)) == ({}, {})
    with pytest.raises(Conflict, match="already released"):
        services.release_holds(hold_ids=[revised.pk, first.holds.get().pk], by=by)
    assert holds_of(first) == {"access": None}


def test_what_a_rule_found_goes_by_itself_and_a_persons_hold_of_its_kind_makes_way_for_it():
    (opening,) = make_openings(1)
    by = PersonFactory()
    own = services.place_hold(opening_id=opening.pk, kind="unit not on site", reason="not seen", by=by)
    order(opening, expected_on=tomorrow(2))
    assert holds_of(opening) == {"unit not on site": None}
    services.release_hold(hold_id=own.pk, by=by)
    hold = Hold.objects.open().get(opening=opening)
    assert (hold.rule, hold.expected_on) == ("unit", tomorrow(2))
    with pytest.raises(Conflict, match="goes by itself"):
        services.release_hold(hold_id=hold.pk, by=by)


@pytest.mark.parametrize("openings", [1, 12])
def test_readiness_takes_five_queries_however_many_openings(openings, django_assert_max_num_queries):
    made = make_openings(openings, floor="2")
    services.set_ready_rules(job=made[0].job, weather=True, floor_order=["1", "2"])
    order(*made)
    with django_assert_max_num_queries(5):
        readiness(made)


def test_an_assigned_opening_keeps_its_assignment_when_its_unit_turns_out_damaged():
    (opening,) = make_openings(1)
    (unit,) = order(opening)
    by = PersonFactory()
    services.receive_units(unit_ids=[unit.pk], by=by)
    assign(opening, on=tomorrow(2))
    services.revise_unit(unit_id=unit.pk, by=by, condition="damaged", note="lite cracked in the yard")
    assert set(holds_of(opening)) == {"unit not on site"}
    assert [one.assignment for one in assigned_too_early()] == [live(opening)]
