"""Weights of a schedule that their units cannot have: a wrong row until it is mended or a person confirms it."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.core.management import CommandError, call_command

from openings.models import Opening, SenderLayout
from tests.factories import DetailFactory
from tests.openings.api.clients import API, problem_of

pytestmark = pytest.mark.django_db

SCHEDULES = f"{API}/schedules/"
HEAD = "Mark,Qty,Unit width,Unit height,Glass thickness,Weight\n"
LIGHT = HEAD + "W1,2,72,60,1/4 + 1/4,90\nW2,1,36,54,1/8 + 1/8,66\n"
"""W1 has 195 lb of glass (13.006 lb a square foot and inch, MIL-HDBK-1013/12)."""


@pytest.fixture
def job():
    return DetailFactory(name="wall type 1", is_default=True).job


def upload(client: Any, job: Any, text: str, **values: Any) -> Any:
    body = {"job": job.pk, "file": SimpleUploadedFile("windows.csv", text.encode()), **values}
    return client.post(SCHEDULES, body, format="multipart")


def confirming(*said: str) -> str:
    return json.dumps({"weights": said})


def test_a_row_with_such_a_weight_is_wrong_and_says_how_to_confirm_it(scheduler, job):
    problem = problem_of(upload(scheduler, job, LIGHT), 400, "bad-schedule")
    (fault,) = problem["errors"]
    assert (fault["field"], fault["row"], fault["value"]) == ("Weight", 2, "90")
    assert "149.03 lb" in fault["detail"]
    assert "If 90 was meant in kilograms, it is 198.42 lb" in fault["detail"]
    (doubt,) = problem["schedule"]["weights_in_doubt"]
    assert doubt["said"] in fault["detail"]
    assert (doubt["row"], doubt["mark"]) == (2, "W1")
    assert not Opening.objects.exists()


def test_a_confirmed_weight_is_taken_and_names_who_confirmed_it(scheduler, job):
    (doubt,) = upload(scheduler, job, LIGHT).json()["schedule"]["weights_in_doubt"]
    taken = upload(scheduler, job, LIGHT, mapping=confirming(doubt["said"]))
    assert taken.status_code == 201, taken.json()
    me = scheduler.handler._force_user.pk
    assert list(Opening.objects.order_by("mark").values_list("mark", "weight_lb", "weight_confirmed_by")) == [
        ("W1-01", 90, me), ("W1-02", 90, me), ("W2", 66, None),
    ]  # fmt: skip
    assert not SenderLayout.objects.exists()


def test_a_confirmation_holds_for_this_weight_size_and_glass_only(scheduler, job):
    (doubt,) = upload(scheduler, job, LIGHT).json()["schedule"]["weights_in_doubt"]
    said = confirming(doubt["said"])
    for other in (
        LIGHT.replace(",90", ",91"),
        LIGHT.replace("72,60", "74,60"),
        LIGHT.replace("1/4 + 1/4", "3/16 + 1/4"),
    ):
        problem_of(upload(scheduler, job, other, mapping=said), 400, "bad-schedule")
    assert not Opening.objects.exists()


def test_kilograms_said_of_the_column_settle_it(scheduler, job):
    kilograms = json.dumps({"columns": {"F": {"meaning": "weight_lb", "unit": "kg"}}})
    only = HEAD + "W1,1,72,60,1/4 + 1/4,95\n"
    assert upload(scheduler, job, only, mapping=kilograms).status_code == 201
    assert float(Opening.objects.get().weight_lb) == pytest.approx(95 * 2.20462, abs=0.01)


def test_a_revision_asks_about_what_it_changes_and_about_nothing_else(scheduler, job):
    (doubt,) = upload(scheduler, job, LIGHT).json()["schedule"]["weights_in_doubt"]
    upload(scheduler, job, LIGHT, mapping=confirming(doubt["said"]))
    assert upload(scheduler, job, LIGHT + "W3,1,36,54,1/8 + 1/8,70\n").status_code == 201
    assert Opening.objects.filter(weight_confirmed_by__isnull=False).count() == 2

    heavier = LIGHT.replace(",90", ",80")
    problem = problem_of(upload(scheduler, job, heavier), 400, "bad-schedule")
    assert [fault["value"] for fault in problem["errors"]] == ["80"]
    (doubt,) = problem["schedule"]["weights_in_doubt"]
    taken = upload(scheduler, job, heavier, mapping=confirming(doubt["said"]), apply="changed")
    assert taken.status_code == 201, taken.json()
    assert set(Opening.objects.filter(weight_confirmed_by__isnull=False).values_list("weight_lb", flat=True)) == {80}

    mended = LIGHT.replace(",90", ",220")
    assert upload(scheduler, job, mended, apply="changed").status_code == 201
    assert set(Opening.objects.filter(schedule_mark="W1").values_list("weight_lb", "weight_confirmed_by")) == {
        (220, None)
    }


def test_nobody_confirms_a_weight_at_a_command_line(scheduler, job, tmp_path):
    (doubt,) = upload(scheduler, job, LIGHT).json()["schedule"]["weights_in_doubt"]
    file = tmp_path / "windows.csv"
    file.write_text(LIGHT)
    with pytest.raises(CommandError, match="less than this unit can weigh"):
        call_command("import_schedule", job.code, str(file), mapping=confirming(doubt["said"]))
    assert not Opening.objects.exists()


def test_weights_of_a_mapping_are_texts(scheduler, job):
    problem = problem_of(upload(scheduler, job, LIGHT, mapping='{"weights": [3]}'), 400, "bad-schedule")
    assert problem["errors"][0]["field"] == "mapping.weights"
