"""The pages of units, deliveries and what openings wait for: what they show and do, without a browser."""

from __future__ import annotations

import pytest
from django.urls import reverse

from jobs.calc.say import day
from openings import services
from openings.models import Hold, ReadyRules, Unit
from tests.factories import CrewFactory, PersonFactory, make_openings, tomorrow
from tests.pages.html import html_of
from tests.pages.people import signed_in

pytestmark = pytest.mark.django_db


@pytest.fixture
def scheduler():
    return signed_in("scheduler")


def post(client, page, act, *args, **values):
    return client.post(reverse(page, args=args), {"act": act} | values, follow=True)


def test_units_are_ordered_brought_and_received_in_three_acts(scheduler):
    openings = make_openings(2)
    job, ids = openings[0].job_id, [one.pk for one in openings]
    post(scheduler, "units-page", "order", job, **{"openings": ids, "order-ordered_on": str(tomorrow(-1))})
    assert Unit.objects.awaited().count() == 2
    post(scheduler, "units-page", "bring", job, **{
        "openings": ids, "bring-supplier": "Sash works", "bring-expected_on": str(tomorrow(3))
    })  # fmt: skip
    assert day(tomorrow(3)) in html_of(scheduler.get(reverse("units-page", args=[job])))
    first, second = Unit.objects.order_by("pk")
    answer = post(scheduler, "deliveries-page", "receive_delivery", **{
        "delivery": first.delivery_id, "stands_at": "garage", f"condition_{first.pk}": "whole",
        f"condition_{second.pk}": "damaged", f"note_{second.pk}": "cracked lite",
    })  # fmt: skip
    assert "Sash works is received: 1 unit whole" in html_of(answer)
    assert [hold.reason for hold in Hold.objects.open()] == ["the unit is damaged: cracked lite; order it again"]


def test_a_delivery_that_slips_names_what_is_assigned_too_early(scheduler):
    (opening,) = make_openings(1)
    (unit,) = services.order_units(opening_ids=[opening.pk], ordered_on=tomorrow(-1))
    delivery = services.add_delivery(
        job=opening.job, supplier="Sash works", expected_on=tomorrow(1), unit_ids=[unit.pk]
    )
    services.assign(opening_ids=[opening.pk], crew_id=CrewFactory(people_count=20).pk, on=tomorrow(2), by=None)
    answer = post(scheduler, "deliveries-page", "expect", delivery=delivery.pk, expected_on=str(tomorrow(4)))
    assert f"Assigned too early now: {opening.mark}" in html_of(answer)


def test_why_not_today_stands_beside_each_opening_and_a_floor_is_held_at_once(scheduler):
    openings = make_openings(2, floor="Upper")
    job = openings[0].job_id
    held = {"kind": "access", "reason": "scaffold", "floor": "Upper", "expected_on": str(tomorrow(2))}
    post(scheduler, "readiness-page", "hold", job, **held)
    page = html_of(scheduler.get(reverse("readiness-page", args=[job])))
    assert page.count(f"access (scaffold), expected {day(tomorrow(2))}") == 2
    assert day(tomorrow(3)) in page
    ids = [one.pk for one in openings]
    post(scheduler, "readiness-page", "release", job, **{"openings": ids, "release-kind": "access"})
    assert not Hold.objects.open().exists()


def test_rules_and_trades_are_entered_on_the_same_page(scheduler):
    (opening,) = make_openings(1)
    job = opening.job_id
    post(scheduler, "readiness-page", "set_rules", job, units="on", floor_order="Lower\r\nUpper")
    rules = ReadyRules.objects.get(job=job)
    assert (rules.units, rules.measured, rules.floor_order) == (True, False, ["Lower", "Upper"])
    post(scheduler, "readiness-page", "add_trade", job, kind="trade", name="WRB")
    kinds = Hold.objects.open().filter(opening=opening).values_list("kind", flat=True)
    assert set(kinds) == {"unit not on site", "other trade"}
    trade = html_of(scheduler.get(reverse("readiness-page", args=[job])))
    assert "WRB is not done" in trade


@pytest.mark.parametrize(("role", "sees"), [("warehouse", True), ("crew_lead", False)])
def test_who_may_not_order_is_offered_no_form_for_it(role, sees):
    job = make_openings(1)[0].job_id
    values = {"crew": PersonFactory(role="crew_lead").crew} if role == "crew_lead" else {}
    page = html_of(signed_in(role, **values).get(reverse("units-page", args=[job])))
    assert ('value="order"' in page) is sees
    assert 'value="receive"' in page
