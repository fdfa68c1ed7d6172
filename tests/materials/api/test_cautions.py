"""Cautions as JSON: by day, and as openings are assigned."""

from __future__ import annotations

from decimal import Decimal

import pytest

from materials.models import DetailProduct, PullSheet
from tests.factories import CrewFactory, JobFactory, make_catalogue, make_openings, tomorrow
from tests.materials.crew_days import make_crew_day, written
from tests.openings.api.clients import API, problem_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def without_shims() -> None:
    make_catalogue()
    DetailProduct.objects.filter(part="shim").delete()


@pytest.mark.usefixtures("without_shims")
def test_who_assigns_is_told_what_to_be_careful_about(client_of):
    scheduler = client_of("scheduler")
    job = JobFactory(code="weir-cottage")
    first, second = make_openings(2, job=job)
    crew = CrewFactory()
    job.forecasts.create(on=tomorrow(), low_f=50, high_f=60, wind_mph=31)
    given = scheduler.post(
        f"{API}/assignments/", {"opening": first.pk, "crew": crew.pk, "on": tomorrow()}, format="json"
    )
    assert given.status_code == 201
    said = {caution["kind"]: caution for caution in given.json()["cautions"]}
    assert f"weir-cottage {first.mark}: no product is chosen for shim" in said["draw"]["wrong"]
    assert said["draw"]["openings"] == [f"weir-cottage {first.mark}"]
    assert "31 mph" in said["wind"]["wrong"]
    assert (said["wind"]["jobs"], said["wind"]["openings"]) == (["weir-cottage"], [])
    many = scheduler.post(
        f"{API}/assignments/many/", {"openings": [second.pk], "crew": crew.pk, "on": tomorrow()}, format="json"
    ).json()
    assert {caution["kind"] for caution in many[0]["cautions"]} >= {"draw", "wind"}
    (moved,) = scheduler.post(
        f"{API}/assignments/move/",
        {"assignments": [many[0]["id"]], "crew": CrewFactory().pk, "on": tomorrow()},
        format="json",
    ).json()
    assert {caution["kind"] for caution in moved["cautions"]} >= {"draw", "wind"}
    assert "cautions" not in scheduler.get(f"{API}/assignments/").json()["results"][0]


@pytest.mark.usefixtures("without_shims")
def test_the_cautions_of_a_day_by_crew(client_of):
    client = client_of("warehouse")
    day = make_crew_day(mark="W7")
    make_crew_day(mark="W8")
    board = client.get(f"{API}/boards/cautions/", {"on": day.on}).json()
    assert len(board) == 2
    (own,) = client.get(f"{API}/boards/cautions/", {"on": day.on, "crew": day.crew_id}).json()
    assert (own["crew"], own["crew_name"], own["on"]) == (day.crew_id, day.crew.name, f"{day.on}")
    assert any("W7" in caution["wrong"] for caution in own["cautions"])


@pytest.mark.parametrize(
    ("asked", "field", "code"),
    [
        ({"on": "tomorrow", "crew": 4711}, "crew", "invalid"),
        ({"on": "9999-12-31"}, "on", "day-out-of-reach"),
        ({"on": "soon"}, "on", "invalid"),
    ],
)
def test_a_crew_or_a_day_that_is_not_there_is_refused(client_of, asked, field, code):
    asked = {name: tomorrow() if value == "tomorrow" else value for name, value in asked.items()}
    problem = problem_of(client_of("owner").get(f"{API}/boards/cautions/", asked), 400, code)
    assert [fault["field"] for fault in problem["errors"]] == [field]


@pytest.mark.usefixtures("without_shims")
def test_a_pull_sheet_says_its_cautions(client_of):
    sheet = written(make_crew_day(mark="W7"))
    said = client_of("warehouse").get(f"{API}/pull-sheets/{sheet.pk}/").json()["cautions"]
    assert any("W7: no product is chosen for shim" in caution for caution in said)
    PullSheet.objects.update(cautions=None)  # written before cautions were kept
    assert client_of("warehouse").get(f"{API}/pull-sheets/{sheet.pk}/").json()["cautions"] is None


def test_weather_limits_are_company_data_with_a_source(client_of):
    scheduler = client_of("scheduler")
    at_first = scheduler.get(f"{API}/weather-limits/").json()
    # Common practice, no source.
    assert at_first == {
        "most_wind_mph": 20,
        "wind_source": "common practice, no source",
        "most_rain_in": 0.1,
        "rain_source": "common practice, no source",
    }
    own = {"most_wind_mph": 25, "wind_source": "safety plan, p. 4"}
    assert scheduler.patch(f"{API}/weather-limits/", own, format="json").json() == at_first | own
    assert scheduler.get(f"{API}/weather-limits/?units=metric").json()["most_rain_mm"] == pytest.approx(2.54)
    assert scheduler.delete(f"{API}/weather-limits/").status_code == 204
    assert scheduler.get(f"{API}/weather-limits/").json() == at_first


@pytest.mark.parametrize(
    ("asked", "field"),
    [
        ({"most_wind_mph": 25}, "wind_source"),
        ({"most_rain_in": Decimal("0.5"), "rain_source": ""}, "rain_source"),
        ({"most_wind_mph": -1, "wind_source": "plan"}, "most_wind_mph"),
    ],
)
def test_a_limit_without_a_source_or_below_nothing_is_refused(client_of, asked, field):
    problem = problem_of(client_of("owner").patch(f"{API}/weather-limits/", asked, format="json"), 400, "invalid")
    assert [fault["field"] for fault in problem["errors"]] == [field]


def test_who_is_not_of_the_office_cannot_set_a_limit(client_of):
    own = {"most_wind_mph": 60, "wind_source": "a guess"}
    assert client_of("crew_lead").patch(f"{API}/weather-limits/", own, format="json").status_code == 403
