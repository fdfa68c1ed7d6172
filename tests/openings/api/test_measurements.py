"""What was measured, sent and read as JSON."""

from __future__ import annotations

from typing import Any

import pytest

from materials.explain import explanation
from materials.queries import everything_computed
from openings.calc.readings import DEVIATION_NAMES
from openings.models import FieldMeasurement, Opening
from tests.factories import make_openings
from tests.openings.api.clients import API, problem_of

pytestmark = pytest.mark.django_db

TAPE = {
    **{f"width_{place}_in": "6'-0\"" for place in ("top", "middle", "bottom")},
    **{f"height_{place}_in": 60 for place in ("left", "middle", "right")},
    **{f"diagonal_{which}_in": "93 3/4" for which in ("rising", "falling")},
}
"""36 × 30 doubled: 93.72 in from corner to corner (Pythagoras)."""


@pytest.fixture
def opening() -> Opening:
    return make_openings(1, ro_width_in=72, ro_height_in=60, unit_width_in="71.5", unit_height_in="59.5")[0]


def send(client: Any, opening: Opening, query: str = "", **readings: Any) -> Any:
    return client.post(f"{API}/measurements/{query}", {"opening": opening.pk} | TAPE | readings, format="json")


def test_what_is_left_out_or_null_was_not_measured(scheduler, opening):
    made = send(scheduler, opening, twist_in=0, sill_crown_in=None).json()
    assert {name: made[name] for name in DEVIATION_NAMES} == dict.fromkeys(DEVIATION_NAMES) | {"twist_in": 0}
    assert made["not_measured"] == [
        "sill out of level", "left jamb out of plumb", "right jamb out of plumb", "left jamb bows in",
        "right jamb bows in", "sill crown or sag",
    ]  # fmt: skip
    assert made["is_within_tolerance"] is True
    checks = scheduler.get(f"{API}/measurements/{made['id']}/checks/").json()["checks"]
    unmeasured = [check for check in checks if check["answer"] == "not measured"]
    assert len(unmeasured) == 6
    assert {(check["passed"], check["reading_in"]) for check in unmeasured} == {(None, None)}
    assert {check["answer"] for check in checks} == {"passed", "not measured"}


# Fractions of a tape; 3.175 mm is 1/8 in (NIST Handbook 44, appendix C).
@pytest.mark.parametrize(
    ("sent", "inches"),
    [
        ("1/8", 0.125),
        ("1/2", 0.5),
        ('3/16"', 0.1875),
        ("3/8 in", 0.375),
        (".125", 0.125),
        ("0", 0),
        ("3.175 mm", 0.125),
    ],
)
def test_a_bare_fraction_of_a_deviation_is_one_of_an_inch(scheduler, opening, sent, inches):
    assert send(scheduler, opening, sill_out_of_level_in=sent).json()["sill_out_of_level_in"] == inches


def test_a_bare_fraction_of_a_side_still_has_to_say_what_it_means(scheduler, opening):
    problem = problem_of(send(scheduler, opening, width_top_in="1/8"), 400, "invalid")
    assert problem["errors"][0]["field"] == "width_top_in"
    assert "can mean" in problem["errors"][0]["detail"]


@pytest.mark.parametrize(("units", "said"), [("us", "7' 9 3/4\""), ("metric", "2381 mm")])
def test_diagonals_that_the_sides_do_not_allow_are_refused(scheduler, opening, units, said):
    # 72 × 60 in has diagonals of 93.72 in, 2381 mm (Pythagoras); 10 in is no side of such a triangle (Euclid I.20).
    ten = {"diagonal_rising_in": 10, "diagonal_falling_in": 10}
    if units == "metric":
        sides = {f"{name.removesuffix('_in')}_mm": 1828.8 if "width" in name else 1524 for name in TAPE}
        body = {"opening": opening.pk} | sides | {f"diagonal_{which}_mm": 254 for which in ("rising", "falling")}
        answer = scheduler.post(f"{API}/measurements/?units=metric", body, format="json")
    else:
        answer = send(scheduler, opening, **ten)
    problem = problem_of(answer, 400, "bad-length")
    end = "mm" if units == "metric" else "in"
    assert [fault["field"] for fault in problem["errors"]] == [f"diagonal_rising_{end}", f"diagonal_falling_{end}"]
    assert problem["errors"][0]["value"] == ("254" if units == "metric" else "10")
    assert f"about {said} would be right" in problem["errors"][0]["detail"]
    assert not FieldMeasurement.objects.exists()


def test_a_measurement_stored_before_with_impossible_diagonals_can_still_be_read(scheduler, opening):
    made = send(scheduler, opening).json()
    FieldMeasurement.objects.update(diagonal_rising_in=10, diagonal_falling_in=10)
    assert scheduler.get(f"{API}/measurements/{made['id']}/checks/").status_code == 200
    assert "MEASURED" in explanation(everything_computed(opening.pk))


def test_the_explanation_names_what_was_not_measured(scheduler, opening):
    send(scheduler, opening, twist_in="1/16", left_bow_in="1/2")
    said = explanation(everything_computed(opening.pk))
    assert "NOT MEASURED: sill out of level: not measured" in said
    assert 'passed: face twists by 1/16"' in said
    assert "NOT MEASURED: right jamb bows in: not measured" in said


def accept(client: Any, measurement_id: int) -> Any:
    return client.post(f"{API}/measurements/{measurement_id}/accept/")


def test_an_accepted_size_counts_in_draw_and_labor_and_both_are_shown(scheduler, opening):
    wide = {f"width_{place}_in": 75 for place in ("top", "middle", "bottom")}
    # √(75² + 60²) = 96.05 in (Pythagoras).
    made = send(scheduler, opening, **wide, diagonal_rising_in="96", diagonal_falling_in="96").json()
    assert (made["is_within_tolerance"], made["accepted_by"]) == (False, None)
    accepted = accept(scheduler, made["id"])
    assert accepted.status_code == 200
    assert accepted.json()["accepted_by"] is not None
    assert accept(scheduler, made["id"]).json() == accepted.json()
    shown = scheduler.get(f"{API}/openings/{opening.pk}/").json()
    assert {name: shown[name] for name in ("ro_width_in", "built_ro_width_in", "built_ro_height_in", "built_from")} == {
        "ro_width_in": 72, "built_ro_width_in": 75, "built_ro_height_in": 60, "built_from": made["id"],
    }  # fmt: skip
    said = explanation(everything_computed(opening.pk))
    assert "rough opening 6' 3\" × 5' 0\" as built (drawn 6' 0\" × 5' 0\")" in said


def test_who_is_told_no_reads_why(scheduler, opening):
    made = send(scheduler, opening, measured="set unit").json()
    problem = problem_of(accept(scheduler, made["id"]), 409, "conflict")
    assert "measured of the set unit; measure the rough opening" in problem["detail"]
    assert {one["type"] for one in problem["conflicts"]} == {"opening", "field_measurement"}
    problem_of(accept(scheduler, 0), 404, "not-found")


def test_a_size_as_built_is_not_written_by_hand(scheduler, opening):
    scheduler.patch(f"{API}/openings/{opening.pk}/", {"built_ro_width_in": 75}, format="json")
    opening.refresh_from_db()
    assert opening.built_ro_width_in is None


@pytest.mark.parametrize(
    ("body", "field"),
    [({"pane_width_in": 72}, "pane_width_in"), ({"clear_height_in": "5' 0\""}, "clear_height_in")],
)
def test_a_part_larger_than_its_unit_is_refused_by_its_field(scheduler, opening, body, field):
    problem = problem_of(scheduler.patch(f"{API}/openings/{opening.pk}/", body, format="json"), 400, "invalid")
    (fault,) = problem["errors"]
    assert fault["field"] == field
    assert "it is a part of the unit: correct one of the two" in fault["detail"]
