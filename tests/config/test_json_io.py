"""`?units=` over HTTP: every answer and every body of the API, in the units that were asked for."""

from __future__ import annotations

from decimal import Decimal

import pytest
from drf_spectacular.generators import SchemaGenerator
from rest_framework.test import APIClient

from openings.models import Opening
from tests.factories import DetailFactory, JobFactory, PersonFactory, ProductFactory, make_catalogue, make_openings
from tests.factories import tomorrow as next_day
from tests.openings.api.clients import API, problem_of, signed_in
from tests.openings.rows import make_assigned

pytestmark = pytest.mark.django_db

# Inch of 25.4 mm, pound of 0.45359237 kg: NIST Handbook 44, appendix C.
SIDES_MM = {"ro_width_mm": 914.4, "ro_height_mm": 1371.6, "unit_width_mm": 901.7, "unit_height_mm": 1358.9}


@pytest.fixture
def scheduler() -> APIClient:
    return signed_in(PersonFactory(role="scheduler"))


@pytest.fixture
def warehouse() -> APIClient:
    return signed_in(PersonFactory(role="warehouse"))


def new_opening(**values) -> dict:
    detail = DetailFactory()
    return {"job": detail.job_id, "detail": detail.pk, "mark": "W1", **values}


def test_what_is_sent_in_metric_is_stored_in_inches_and_comes_back(scheduler):
    made = scheduler.post(f"{API}/openings/?units=metric", new_opening(**SIDES_MM, weight_kg=20.5))
    assert made.status_code == 201, made.json()
    opening = Opening.objects.get()
    assert (opening.ro_width_in, opening.unit_height_in) == (36, Decimal("53.5"))
    assert opening.weight_lb == Decimal("45.19")
    for answer in (made.json(), scheduler.get(f"{API}/openings/{opening.pk}/?units=metric").json()):
        assert {name: answer[name] for name in (*SIDES_MM, "weight_kg")} == SIDES_MM | {"weight_kg": 20.5}
        assert not [name for name in answer if name.endswith(("_in", "_lb"))]


@pytest.mark.parametrize("query", ["", "?units=us"])
def test_without_metric_all_is_as_it_was(query, scheduler):
    (opening,) = make_openings(1, ro_width_in=Decimal("36.5"))
    answer = scheduler.get(f"{API}/openings/{opening.pk}/{query}").json()
    assert (answer["ro_width_in"], "ro_width_mm" in answer) == (36.5, False)


def test_a_list_is_metric_on_every_page(scheduler):
    make_openings(2, ro_width_in=36)
    first = scheduler.get(f"{API}/openings/?units=metric&page_size=1&ordering=-ro_width_in").json()
    second = scheduler.get(first["next"]).json()
    for page in (first, second):
        assert [opening["ro_width_mm"] for opening in page["results"]] == [914.4]


def test_a_draw_says_what_its_amounts_are_in(warehouse):
    make_catalogue(strip_width_in=9)
    (opening,) = make_openings(1, ro_width_in=36, ro_height_in=54)
    inside, metric = (
        {line["part"]: line for line in warehouse.get(f"{API}/openings/{opening.pk}/draw/{query}").json()["lines"]}
        for query in ("", "?units=metric")
    )
    assert {line["unit"] for line in inside.values()} == {"in", "cu in", "each"}
    assert {line["unit"] for line in metric.values()} == {"mm", "ml", "each"}
    for part, line in metric.items():
        # Inch of 25.4 mm, and so 16.387064 ml to the cubic inch.
        factor = {"mm": 25.4, "ml": 16.387064, "each": 1}[line["unit"]]
        assert line["quantity"] == pytest.approx(inside[part]["quantity"] * factor, abs=0.006), part
        assert line["each"] == pytest.approx(inside[part]["each"] * factor, abs=0.006), part
        assert (line["count"], line["packages"]) == (inside[part]["count"], inside[part]["packages"])


def test_a_product_is_packed_in_metric(warehouse):
    roll = {"code": "strip", "name": "Strip", "package": "roll", "measure": "mm", "package_quantity": 22860}
    made = warehouse.post(f"{API}/products/?units=metric", roll | {"width_mm": 228.6, "min_application_temp_c": 4.5})
    assert made.status_code == 201, made.json()
    assert {"package_quantity": 22860, "measure": "mm", "width_mm": 228.6}.items() <= made.json().items()
    assert made.json()["min_application_temp_c"] == 4.5
    inside = warehouse.get(f"{API}/products/{made.json()['id']}/").json()
    assert {"package_quantity": 900, "measure": "in", "width_in": 9}.items() <= inside.items()
    assert inside["min_application_temp_f"] == 40.1


def test_the_weather_is_metric(scheduler):
    weather = {
        "job": JobFactory().pk,
        "on": str(next_day()),
        "low_c": -5,
        "high_c": 4.5,
        "wind_mph": 10,
        "rain_mm": 12.7,
    }
    made = scheduler.post(f"{API}/forecasts/?units=metric", weather)
    assert made.status_code == 201, made.json()
    assert weather.items() <= made.json().items()
    inside = scheduler.get(f"{API}/forecasts/{made.json()['id']}/").json()
    assert (inside["low_f"], inside["high_f"]) == (23, 40.1)


def test_the_crew_board_is_metric_under_its_columns(scheduler, django_assert_num_queries):
    make_assigned(ro_width_in=Decimal("36.03125"), ro_height_in=54)
    with django_assert_num_queries(3):  # zones, stranded; the board
        board = scheduler.get(f"{API}/boards/crews/", {"first": str(next_day()), "units": "metric"}).json()
    (row,) = (dict(zip(board["columns"], row, strict=True)) for row in board["openings"])
    assert (row["ro_width_mm"], row["ro_height_mm"]) == (915.194, 1371.6)
    assert "ro_width_in" not in row


@pytest.mark.parametrize(
    ("path", "body"),
    [
        ("openings/?units=metric", {"ro_width_in": 36}),
        ("openings/?units=metric", {"ro_width_in": 36, "ro_width_mm": 914.4}),
        ("openings/", {"ro_width_mm": 914.4}),
        ("openings/?units=us", {"ro_width_in": 36, "ro_width_mm": 914.4}),
    ],
)
def test_units_are_never_mixed(path, body, scheduler):
    problem = problem_of(scheduler.post(f"{API}/{path}", new_opening(**body)), 400, "bad-input")
    (fault,) = problem["errors"]
    assert fault["field"] in body
    assert all(name in problem["detail"] for name in ("ro_width_mm", "ro_width_in"))
    assert not Opening.objects.exists()


@pytest.mark.parametrize("units", ["furlongs", "Metric", "", "x" * 5000, "%00"])
@pytest.mark.parametrize(("method", "path"), [("GET", "openings/"), ("POST", "openings/"), ("GET", "boards/crews/")])
def test_units_that_nobody_knows_are_refused(units, method, path, scheduler):
    response = scheduler.generic(method, f"{API}/{path}?units={units}", "{}", content_type="application/json")
    problem = problem_of(response, 400, "bad-input")
    assert "us or metric" in problem["detail"]
    assert [fault["field"] for fault in problem["errors"]] == ["units"]


def test_a_fault_names_the_field_as_the_caller_did_with_what_was_sent(scheduler):
    sent = {"ro_width_mm": 20_000, "ro_height_mm": -1, "unit_width_mm": True, "weight_kg": "heavy"}
    problem = problem_of(scheduler.post(f"{API}/openings/?units=metric", new_opening(**sent)), 400, "invalid")
    assert {fault["field"]: fault["value"] for fault in problem["errors"]} == {
        "ro_width_mm": "20000", "ro_height_mm": "-1", "unit_width_mm": "True", "weight_kg": "heavy",
        "unit_height_mm": "",
    }  # fmt: skip


def test_a_fault_deep_in_a_body_says_what_was_sent_there(scheduler):
    opening = {"ro_width_mm": 914.4, "ro_height_mm": 20_000, "lites_mm": [3, 500_000]}
    body = {"opening": opening, "detail": {"starting_point": "flange over barrier"}}
    problem = problem_of(scheduler.post(f"{API}/compute/labor/?units=metric", body), 400, "invalid")
    faults = {fault["field"]: fault["value"] for fault in problem["errors"]}
    assert {"opening.ro_height_mm": "20000", "opening.lites_mm.1": "500000"}.items() <= faults.items()


def test_what_a_rule_refuses_is_told_in_metric(scheduler):
    sent = {"ro_width_mm": 914.4, "ro_height_mm": 1371.6, "unit_width_mm": 1000, "unit_height_mm": 1358.9}
    problem = problem_of(scheduler.post(f"{API}/openings/?units=metric", new_opening(**sent)), 400, "invalid")
    assert [(fault["field"], fault["value"]) for fault in problem["errors"]] == [("unit_width_mm", "1000")]


def test_an_empty_body_is_told_what_is_missing_in_metric(scheduler):
    problem = problem_of(scheduler.post(f"{API}/openings/?units=metric", {}), 400, "invalid")
    assert "ro_width_mm" in {fault["field"] for fault in problem["errors"]}


def test_a_body_that_cannot_be_read_does_not_hide_behind_the_query(scheduler):
    for body in ("{", '{"ro_width_in": 36}', "[" * 100_000, '{"a":' * 990 + "1" + "}" * 990, '{"x_mm": 1e400}'):
        response = scheduler.generic("POST", f"{API}/openings/?units=metric", body, content_type="application/json")
        problem_of(response, 400, response.json()["code"])


def addresses() -> list[str]:
    return [
        path
        for path, operations in SchemaGenerator().get_schema(public=True)["paths"].items()
        if "get" in operations and "{" not in path
    ]


ASKED = {
    "/search/": {"q": "w"},
    "/verdict/": {"chemistry": "a", "neighbor": "b"},
    "/public-holidays/": {"year": "2026"},
}
"""What a list cannot be asked without, by the end of its address."""


def test_every_list_and_board_takes_the_parameter():
    owner = signed_in(PersonFactory(role="owner"))
    make_assigned(2)
    ProductFactory(measure="in", package_quantity=900, width_in=9)
    for path in addresses():
        for units in ("us", "metric"):
            asked = next((asked for end, asked in ASKED.items() if path.endswith(end)), {})
            response = owner.get(path, {"units": units, **asked})
            assert response.status_code == 200, (path, units, response.content)
            has_inches = b'_in"' in response.content.replace(b'"place_in"', b"")
            assert not (has_inches and units == "metric"), path


def test_the_document_offers_units_everywhere():
    paths = SchemaGenerator().get_schema(public=True)["paths"]
    for path, operations in paths.items():
        for method, operation in operations.items():
            (offered,) = [one for one in operation["parameters"] if one["name"] == "units"]
            assert offered["schema"]["enum"] == ["us", "metric"], (method, path)
            assert not offered.get("required")
