"""Units, deliveries, what comes before and bulk holds over the API: what is answered, and what is refused by name."""

from __future__ import annotations

import pytest

from openings.models import Hold, Unit
from tests.factories import JobFactory, PersonFactory, make_openings, tomorrow
from tests.openings.api.clients import API, problem_of, signed_in

pytestmark = pytest.mark.django_db


@pytest.fixture
def office():
    return signed_in(PersonFactory())


def ordered(office, openings, **values):
    body = {"openings": [one.pk for one in openings], "ordered_on": str(tomorrow(-3))} | values
    answer = office.post(f"{API}/units/many/", body)
    assert answer.status_code == 201, answer.content
    return answer.json()


def test_a_job_is_ordered_received_by_delivery_and_reordered(office):
    openings = make_openings(3)
    units = [unit["id"] for unit in ordered(office, openings)]
    delivery = office.post(
        f"{API}/deliveries/",
        {"job": openings[0].job_id, "supplier": "Sash works", "expected_on": str(tomorrow(2)), "units": units},
    ).json()
    assert {unit["due_on"] for unit in office.get(f"{API}/units/").json()["results"]} == {str(tomorrow(2))}
    came = office.post(
        f"{API}/deliveries/{delivery['id']}/receive/",
        {"stands_at": "garage", "flaws": [{"unit": units[1], "condition": "damaged", "note": "bent"}],
         "missing": [units[2]]},
    )  # fmt: skip
    assert came.status_code == 200
    assert came.json()["received_at"]
    shown = {unit["id"]: unit for unit in office.get(f"{API}/units/?delivery={delivery['id']}").json()["results"]}
    assert [shown[unit]["condition"] for unit in units] == ["whole", "damaged", ""]
    again = office.post(f"{API}/units/{units[1]}/reorder/", {"ordered_on": str(tomorrow(-1))})
    assert again.status_code == 201
    assert [unit["id"] for unit in office.get(f"{API}/units/?current=true").json()["results"]] == [
        units[0], units[2], again.json()["id"],
    ]  # fmt: skip


def test_why_an_opening_is_not_ready_is_answered(office):
    whole, waiting = make_openings(2)
    ordered(office, [waiting], expected_on=str(tomorrow(3)))
    found = office.get(f"{API}/openings/{waiting.pk}/readiness/").json()
    assert found["plannable_from"] == str(tomorrow(4))
    assert found["obstacles"][0]["kind"] == "unit not on site"
    assert found["why_not_today"][0].startswith("unit not on site (the unit is ordered and has not come), expected")
    of_job = office.get(f"{API}/jobs/{whole.job_id}/readiness/").json()
    assert (of_job["count"], [one["opening"] for one in of_job["openings"]]) == (2, [whole.pk, waiting.pk])
    assert of_job["openings"][0]["why_not_today"] == []
    problem_of(office.get(f"{API}/jobs/0/readiness/"), 404, "not-found")


@pytest.mark.parametrize("openings", [1, 20])
def test_the_readiness_of_a_job_takes_as_many_queries_however_many_openings(
    office, openings, django_assert_max_num_queries
):
    made = make_openings(openings)
    ordered(office, made)
    with django_assert_max_num_queries(12):
        assert office.get(f"{API}/jobs/{made[0].job_id}/readiness/").json()["count"] == openings


@pytest.mark.parametrize(
    ("sent", "field", "said"),
    [
        ({"ordered_on": "soon"}, "ordered_on", "this is not a date"),
        ({"ordered_on": str(tomorrow(3))}, "ordered_on", "has not come yet"),
        ({"ordered_on": str(tomorrow(-1)), "delivery": 0}, "delivery", "there is none with the id 0"),
        ({"ordered_on": str(tomorrow(-1)), "expected": "x"}, "expected", "did you mean “expected_on”"),
        ({"ordered_on": str(tomorrow(-1)), "openings": []}, "openings", "at least 1"),
    ],
)
def test_what_is_wrong_with_an_order_is_named(office, sent, field, said):
    body = {"openings": [make_openings(1)[0].pk]} | sent
    problem = office.post(f"{API}/units/many/", body).json()
    assert problem["status"] == 400
    assert [fault["field"] for fault in problem["errors"]] == [field]
    assert said in problem["errors"][0]["detail"]
    assert not Unit.objects.exists()


def test_of_several_it_is_said_which_has_a_unit_already(office):
    first, second = make_openings(2)
    ordered(office, [second])
    body = {"openings": [first.pk, second.pk], "ordered_on": str(tomorrow(-1))}
    problem = problem_of(office.post(f"{API}/units/many/", body), 409, "conflict")
    assert [(fault["item"], fault["value"]) for fault in problem["errors"]] == [(1, str(second.pk))]
    assert Unit.objects.count() == 1
    problem_of(office.post(f"{API}/units/", {"opening": second.pk, "ordered_on": str(tomorrow(-1))}), 409, "conflict")


def test_holds_are_placed_by_floor_or_delivery_and_released_together(office):
    openings = make_openings(3, floor="2")
    make_openings(1, job=openings[0].job, floor="3")
    reason = {"kind": "access", "reason": "scaffold", "expected_on": str(tomorrow(2))}
    by_floor = office.post(f"{API}/holds/many/", {"job": openings[0].job_id, "floor": "2"} | reason)
    assert [hold["opening"] for hold in by_floor.json()] == [one.pk for one in openings]
    holds = [hold["id"] for hold in by_floor.json()]
    later = office.patch(f"{API}/holds/{holds[0]}/", {"expected_on": str(tomorrow(5))})
    assert later.json()["expected_on"] == str(tomorrow(5))
    assert office.post(f"{API}/holds/release-many/", {"holds": holds, "note": "up"}).status_code == 200
    assert not Hold.objects.open().exists()
    delivery = office.post(
        f"{API}/deliveries/",
        {"job": openings[0].job_id, "supplier": "Sash works",
         "units": [unit["id"] for unit in ordered(office, openings[:2])]},
    ).json()  # fmt: skip
    by_delivery = office.post(f"{API}/holds/many/", {"delivery": delivery["id"]} | reason)
    assert [hold["opening"] for hold in by_delivery.json()] == [one.pk for one in openings[:2]]


@pytest.mark.parametrize("named", [{}, {"floor": "2"}, {"openings": [1], "delivery": 1}])
def test_which_openings_are_held_is_said_one_way(office, named):
    problem = problem_of(office.post(f"{API}/holds/many/", {"kind": "access", "reason": "x"} | named), 400, "invalid")
    assert problem["errors"][0]["field"] == "openings"


def test_rules_stand_once_a_job_and_a_trade_once_a_floor(office):
    job = JobFactory().pk
    for address, body in (("ready-rules", {"job": job, "units": True}), ("trades-before", {"job": job, "name": "WRB"})):
        assert office.post(f"{API}/{address}/", body).status_code == 201
        problem_of(office.post(f"{API}/{address}/", body), 409, "duplicate")
    twice = {"job": JobFactory().pk, "floor_order": ["1", "1"]}
    assert "more than once" in problem_of(office.post(f"{API}/ready-rules/", twice), 400, "invalid")["detail"]
