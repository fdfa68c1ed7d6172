"""Names that nobody knows, in queries and in bodies: refused with the nearest that is known, never passed over."""

from __future__ import annotations

import pytest
from rest_framework.test import APIClient

from jobs.names import FAULTS_TOLD
from openings.models import Opening
from tests.factories import make_openings
from tests.openings.api.clients import API, problem_of


@pytest.mark.parametrize(
    ("asked", "field", "said"),
    [
        ("assignments/?on=2026-11-30", "on", "there is no parameter “on”"),
        ("openings/?flor=2", "flor", "did you mean “floor”?"),
        ("openings/?units=metric&pagesize=5", "pagesize", "did you mean “page_size”?"),
        ("openings/{pk}/?state=done", "state", "there is no parameter “state”"),
        ("openings/{pk}/lift/?unit=metric", "unit", "did you mean “units”?"),
        ("boards/crews/?fist=2026-11-30", "fist", "did you mean “first”?"),
        ("boards/progress/?job=1", "job", "there is no parameter “job”"),
        ("openings/?ordering=-marc", "ordering", "there is no order “marc”; did you mean “mark”?"),
        ("openings/?ordering=mark,", "ordering", "there is no order “”"),
        *(
            (f"openings/?page_size={size}", "page_size", "a whole number of 1 to 500")
            for size in (0, 501, -1, "", "x", "٣")
        ),
    ],
)
def test_what_a_query_cannot_ask_is_refused(asked: str, field: str, said: str, scheduler: APIClient) -> None:
    (opening,) = make_openings(1)
    problem = problem_of(scheduler.get(f"{API}/{asked.format(pk=opening.pk)}"), 400, "bad-input")
    assert [fault["field"] for fault in problem["errors"]] == [field]
    assert said in problem["detail"]


@pytest.mark.parametrize("asked", ["openings/?units=metric&format=json&page=1&ordering=", "boards/crews/?days=2"])
def test_what_a_query_may_ask_is_answered(asked: str, scheduler: APIClient) -> None:
    assert scheduler.get(f"{API}/{asked}").status_code == 200


def test_what_nobody_may_see_is_not_told_by_its_names() -> None:
    problem_of(APIClient().get(f"{API}/openings/?flor=2"), 401, "not-authenticated")


@pytest.mark.parametrize(
    ("address", "body", "field", "said"),
    [
        ("openings/{pk}/", {"weigth_lb": 80}, "weigth_lb", "did you mean “weight_lb”?"),
        ("openings/{pk}/", {"qqq": "red"}, "qqq", "there is no field “qqq”; there is "),
        ("assignments/", {"opening": 1, "crew": 1, "on": "2026-11-30", "reason": ""}, "reason", "short_crew_reason"),
        ("openings/{pk}/?units=metric", {"ro_widht_mm": 900}, "ro_widht_mm", "did you mean “ro_width_mm”?"),
        ("openings/{pk}/void/", {"reason": "sold"}, "reason", "there is why"),
        (
            "compute/lift/",
            {"load_lb": 9, "origin": {"coupling": "good", "vertical": 1}, "lifts_per_min": 1, "duration_h": 1},
            "origin.vertical",
            "vertical_in",
        ),
    ],
    ids=["patch", "nothing near", "act", "metric", "nothing asked", "nested"],
)
def test_a_field_that_nobody_knows_is_refused(address, body, field, said, scheduler: APIClient) -> None:
    (opening,) = make_openings(1)
    ask = scheduler.patch if address.startswith("openings/{pk}/") and "void" not in address else scheduler.post
    problem = problem_of(ask(f"{API}/{address.format(pk=opening.pk)}", body), 400, "invalid")
    assert said in {fault["field"]: fault["detail"] for fault in problem["errors"]}[field]
    assert not Opening.objects.get().is_void


def test_what_was_read_can_be_sent_back(scheduler: APIClient) -> None:
    (opening,) = make_openings(1)
    address = f"{API}/openings/{opening.pk}/"
    read = scheduler.get(address).json()
    changed = scheduler.patch(address, read | {"floor": "3", "state": "done"})
    assert changed.status_code == 200, changed.json()
    assert (changed.json()["floor"], changed.json()["state"]) == ("3", read["state"])


def test_of_very_many_unknown_names_the_first_are_told(scheduler: APIClient) -> None:
    (opening,) = make_openings(1)
    body = {f"{'x' * 60}{number}": 1 for number in range(5_000)}
    problem = problem_of(scheduler.patch(f"{API}/openings/{opening.pk}/", body), 400, "invalid")
    assert 0 < len(problem["errors"]) <= FAULTS_TOLD
