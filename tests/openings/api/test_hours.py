"""Hours that somebody worked, over the API: as a figure, or as people write them."""

from __future__ import annotations

from typing import Any

import pytest
from rest_framework.test import APIClient

from openings import services
from tests.factories import CrewFactory, PersonFactory, make_openings, tomorrow
from tests.openings.api.clients import API


@pytest.fixture
def address(db: None) -> str:
    (opening,) = make_openings(1)
    services.assign(opening_ids=[opening.pk], crew_id=CrewFactory().pk, on=tomorrow(0), by=None)
    record = services.start_install(opening_id=opening.pk, by=PersonFactory())
    return f"{API}/install-records/{record.pk}/"


@pytest.mark.parametrize(
    ("sent", "minutes"),
    [
        (8, 480), (2.5, 150), (0.5, 30), (24, 1440), (0.01667, 1),
        ("8", 480), (".5", 30), ("2:15", 135), ("2:20", 140), ("45 min", 45), ("1 h 30 min", 90), ("1 1/2", 90),
    ],
)  # fmt: skip
def test_hours_are_kept_to_the_minute(scheduler: APIClient, address: str, sent: Any, minutes: int):
    body = {"person": "Ines", "on": tomorrow(0), "person_h": sent}
    answer = scheduler.post(f"{address}hours/", body, format="json")
    assert answer.status_code == 201, answer.content
    assert round(answer.json()["person_h"] * 60, 2) == minutes
    assert scheduler.get(address).json()["hours"][0]["person_h"] == answer.json()["person_h"]


@pytest.mark.parametrize("sent", [0, -1, 24.5, 1e9, "25", "all day", "2:75", True, [8], {"h": 8}], ids=str)
def test_what_nobody_works_in_a_day_is_refused_with_what_would_be_right(scheduler: APIClient, address: str, sent: Any):
    body = {"person": "Ines", "on": tomorrow(0), "person_h": sent}
    answer = scheduler.post(f"{address}hours/", body, format="json")
    assert answer.status_code == 400
    (fault,) = answer.json()["errors"]
    assert (fault["field"], fault["value"]) == ("person_h", str(sent))
    assert "write it like 8, 2.5, 2:15, 45 min" in fault["detail"]
    assert not scheduler.get(address).json()["hours"]


def test_thirds_of_an_hour_add_up(scheduler: APIClient, address: str):
    for person in ("Ines", "Theo", "Ada"):
        body = {"person": person, "on": tomorrow(0), "person_h": "2:20"}
        assert scheduler.post(f"{address}hours/", body, format="json").status_code == 201
    (board,) = scheduler.get(f"{API}/boards/progress/").json()
    assert board["recorded_person_h"] == pytest.approx(7, abs=0.001)
