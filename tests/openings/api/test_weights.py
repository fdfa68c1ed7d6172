"""A given weight held against its glass: refused until a person confirms it."""

from __future__ import annotations

from typing import Any

import pytest
from django.db import IntegrityError, transaction

from materials.explain import explanation
from materials.queries import everything_computed
from openings.models import Opening
from tests.factories import DetailFactory, OpeningFactory
from tests.openings.api.clients import API, problem_of

pytestmark = pytest.mark.django_db

UNIT = {
    "mark": "W1", "ro_width_in": 72.5, "ro_height_in": 60.5, "unit_width_in": 72, "unit_height_in": 60,
    "lites_in": [0.25, 0.25],
}  # fmt: skip
"""30 sq ft of two 1/4 in lites, 195.1 lb of glass (13.006 lb a square foot and inch, MIL-HDBK-1013/12)."""

FLANGE = {"starting_point": "flange behind, wrap before"}


@pytest.fixture
def detail():
    return DetailFactory()


def add(client: Any, detail: Any, query: str = "", **values: Any) -> Any:
    body = {"job": detail.job_id, "detail": detail.pk} | UNIT | values
    return client.post(f"{API}/openings/{query}", body, format="json")


def revise(client: Any, opening_id: int, **values: Any) -> Any:
    return client.patch(f"{API}/openings/{opening_id}/", values, format="json")


def test_a_weight_below_the_glass_is_refused_with_the_figures_and_the_pounds(scheduler, detail):
    problem = problem_of(add(scheduler, detail, weight_lb=95), 400, "bad-weight")
    (fault,) = problem["errors"]
    assert (fault["field"], fault["value"]) == ("weight_lb", "95")
    # Inside 6 and 10 in of frame: 66 × 50 in, 22.92 sq ft, 149.03 lb; 95 kg are 209.44 lb (NIST Handbook 44, app. C).
    assert "149.03 lb" in fault["detail"]
    assert "If 95 was meant in kilograms, it is 209.44 lb" in fault["detail"]
    assert "weight_confirmed" in fault["detail"]
    assert not Opening.objects.exists()


def test_a_metric_weight_is_refused_in_metric(scheduler, detail):
    body = {"weight_kg": 43, "lites_mm": [6.35, 6.35]} | {f"ro_{side}_mm": 1850 for side in ("width", "height")}
    body |= {f"unit_{side}_mm": 1828.8 for side in ("width", "height")}
    sent = {"job": detail.job_id, "detail": detail.pk, "mark": "W1"} | body
    problem = problem_of(scheduler.post(f"{API}/openings/?units=metric", sent, format="json"), 400, "bad-weight")
    assert (problem["errors"][0]["field"], problem["errors"][0]["value"]) == ("weight_kg", "43")
    assert "43 kg is less than this unit can weigh" in problem["detail"]
    assert "pounds" not in problem["detail"]


def test_a_person_confirms_a_weight_and_is_named(scheduler, detail):
    made = add(scheduler, detail, weight_lb=50, weight_confirmed=True)
    assert made.status_code == 201
    assert made.json()["weight_confirmed_by"] == scheduler.handler._force_user.pk
    assert "weight_confirmed" not in made.json()
    lift = scheduler.get(f"{API}/openings/{made.json()['id']}/lift/").json()
    assert "50 lb is less than this unit can weigh" in lift["weight_doubt"]
    assert f"Confirmed by {scheduler.handler._force_user}" in lift["weight_doubt"]


@pytest.mark.parametrize(
    "changed", [{"weight_lb": 51}, {"unit_width_in": 71}, {"lites_in": [0.25]}, {"frame_material": "wood"}]
)
def test_a_confirmed_weight_is_asked_about_again_once_it_or_the_unit_changes(scheduler, detail, changed):
    opening_id = add(scheduler, detail, weight_lb=50, weight_confirmed=True).json()["id"]
    problem_of(revise(scheduler, opening_id, **changed), 400, "bad-weight")
    assert Opening.objects.get().weight_confirmed_by
    again = revise(scheduler, opening_id, **changed, weight_confirmed=True)
    assert (again.status_code, again.json()["weight_confirmed_by"]) == (200, scheduler.handler._force_user.pk)
    right = revise(scheduler, opening_id, lites_in=[0.25, 0.25], weight_lb=230)
    assert (right.status_code, right.json()["weight_confirmed_by"]) == (200, None)


def test_other_changes_leave_the_confirmation_and_false_takes_it_back(scheduler, detail):
    opening_id = add(scheduler, detail, weight_lb=50, weight_confirmed=True).json()["id"]
    kept = revise(scheduler, opening_id, remarks="north wall", weight_lb=50, lites_in=[0.25, 0.25])
    assert kept.json()["weight_confirmed_by"] == scheduler.handler._force_user.pk
    problem_of(revise(scheduler, opening_id, weight_confirmed=False), 400, "bad-weight")
    without = revise(scheduler, opening_id, weight_lb=None)
    assert (without.status_code, without.json()["weight_confirmed_by"]) == (200, None)


def test_what_was_stored_before_stays_and_can_be_confirmed(scheduler, detail):
    opening = OpeningFactory(
        job=detail.job, detail=detail, ro_width_in=72, ro_height_in=60, unit_width_in=71, unit_height_in=59,
        weight_lb=5, remarks="",
    )  # fmt: skip
    assert revise(scheduler, opening.pk, remarks="as it was").status_code == 200
    assert "WEIGHT IN DOUBT: 5 lb is less" in " ".join(explanation(everything_computed(opening.pk)).split())
    assert "Nobody has confirmed it" in scheduler.get(f"{API}/openings/{opening.pk}/lift/").json()["weight_doubt"]
    assert revise(scheduler, opening.pk, weight_confirmed=True).json()["weight_confirmed_by"]


def test_there_must_be_a_weight_to_confirm(scheduler, detail):
    problem = problem_of(add(scheduler, detail, weight_confirmed=True), 400, "bad-weight")
    assert problem["errors"][0]["field"] == "weight_confirmed"
    assert not Opening.objects.exists()
    opening = OpeningFactory(job=detail.job, detail=detail)
    with pytest.raises(IntegrityError, match="confirmed_weight_is_given"), transaction.atomic():
        Opening.objects.filter(pk=opening.pk).update(weight_confirmed_by=scheduler.handler._force_user)


@pytest.mark.parametrize("endpoint", ["labor", "draw"])
def test_nothing_is_computed_from_a_weight_that_cannot_be(scheduler, endpoint):
    opening = {name: value for name, value in UNIT.items() if name != "mark"} | {"weight_lb": 60}
    asked = {"opening": opening, "detail": FLANGE}
    problem = problem_of(scheduler.post(f"{API}/compute/{endpoint}/", asked, format="json"), 400, "bad-weight")
    assert "opening.weight_confirmed" in problem["errors"][0]["detail"]
    asked["opening"] = opening | {"weight_confirmed": True}
    assert scheduler.post(f"{API}/compute/{endpoint}/", asked, format="json").status_code == 200


@pytest.mark.parametrize(("weight", "status"), [(66, 201), (44, 201), (30, 400), (900, 400)])
def test_honest_weights_pass(scheduler, detail, weight, status):
    small = {"ro_width_in": 36.5, "ro_height_in": 54.5, "unit_width_in": 36, "unit_height_in": 54}
    made = add(scheduler, detail, **small, lites_in=["1/8", '1/8"'], weight_lb=weight)
    assert made.status_code == status
    if status == 201:
        assert made.json()["lites_in"] == [0.125, 0.125]


def test_a_bare_fraction_of_a_bead_is_one_of_an_inch(scheduler, detail):
    changed = {"setting_bead_in": "1/2", "flange_bead_in": "3/8", "back_dam_in": "3/4"}
    made = scheduler.patch(f"{API}/details/{detail.pk}/", changed, format="json")
    assert {name: made.json()[name] for name in changed} == {
        "setting_bead_in": 0.5, "flange_bead_in": 0.375, "back_dam_in": 0.75,
    }  # fmt: skip
