"""`manage.py cut_plan`."""

from __future__ import annotations

import json
from io import BytesIO, StringIO, TextIOWrapper

import pytest
from django.core.management import CommandError, call_command

from tests.factories import PersonFactory
from tests.materials.cut_questions import ANSWERED, SILLS, asked, assert_sound, written
from tests.openings.api.clients import API, signed_in

# Only what signs in needs the database; the command does not.

# Inch of 25.4 mm: NIST Handbook 44, appendix C.
METRIC = {"roll_lengths_mm": [4000], "pieces": [{"length_mm": 1000, "count": 4, "label": "W1 jamb"}]}


def run(file, **options) -> dict:
    said = StringIO()
    call_command("cut_plan", str(file), stdout=said, **options)
    return json.loads(said.getvalue())


def test_a_file_is_planned(tmp_path):
    said = run(written(tmp_path, SILLS))
    assert said.keys() == ANSWERED
    assert_sound(said, SILLS)
    assert said["rolls"][0]["left_in"] == 202  # hand-worked: 310.5 - 2 × 54 - 2 × 0.25


def test_standard_input_is_planned(monkeypatch):
    monkeypatch.setattr("sys.stdin", TextIOWrapper(BytesIO(json.dumps(SILLS).encode())))
    assert run("-")["rolls"][0]["remnant"] is True


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("question", "units"),
    [(SILLS, "us"), (asked((1000, 1), (54, 9), rolls=[900], lap_in=4), "us"), (METRIC, "metric")],
    ids=["remnant", "spliced", "metric"],
)
def test_file_and_endpoint_answer_alike(tmp_path, question, units):
    client = signed_in(PersonFactory(role="warehouse"))
    posted = client.post(f"{API}/compute/cuts/?units={units}", question, format="json").json()
    said = run(written(tmp_path, question), units=units)
    assert said | {"seconds": 0} == posted | {"seconds": 0}


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("question", "units"),
    [
        ({"pieces": [{"length_in": 0}, {"length_in": "wide", "count": 0}], "trim_in": -1}, "us"),
        (asked((1000, 1), rolls=[900]), "us"),
        (asked((1000, 1), rolls=[100], lap_in=60), "us"),
        ({"pieces": []}, "us"),
        (METRIC | {"trim_mm": "1/2"}, "metric"),
        (METRIC | {"trim_in": 1}, "metric"),
        (METRIC, "us"),
        ('{"pieces": [{"length_in": NaN}]}', "us"),
        ('{"pieces": [{"length_in": 1e400}]}', "us"),
        ('{"pieces": [{"length_in": 54, "label": "W1\\u0007"}]}', "us"),
        ("{", "us"),
        ("[]", "us"),
        ("", "us"),
        ("[" * 100_000, "us"),
    ],
    ids=[
        "fields", "too long", "lap too long", "no pieces", "metric fraction", "inches in metric", "metric in inches",
        "NaN", "endless", "control character", "half a file", "a list", "empty", "deep",
    ],
)  # fmt: skip
def test_file_and_endpoint_refuse_alike(tmp_path, question, units):
    path = written(tmp_path, question)
    client = signed_in(PersonFactory(role="warehouse"))
    address = f"{API}/compute/cuts/?units={units}"
    answer = client.generic("POST", address, path.read_bytes(), content_type="application/json")
    assert answer.status_code == 400
    problem = answer.json()
    with pytest.raises(CommandError) as refused:
        run(path, units=units)
    faults = [f"{fault['field']}: “{fault['value']}”: {fault['detail']}" for fault in problem["errors"]]
    assert str(refused.value).splitlines() == [problem["detail"], *faults]


def test_what_is_wrong_is_told_line_by_line(tmp_path):
    pieces = [{"length_in": 54}, {"length_in": -3, "count": 0}]
    with pytest.raises(CommandError) as refused:
        run(written(tmp_path, {"roll_lengths_in": [900], "pieces": pieces}))
    assert str(refused.value).splitlines()[1:] == [
        "pieces.1.length_in: “-3”: must be more than 0",
        "pieces.1.count: “0”: must be 1 or more",
    ]


def test_a_file_that_is_not_there_is_said(tmp_path):
    with pytest.raises(CommandError, match="No such file"):
        run(tmp_path / "none.json")


def test_our_own_bug_is_not_told_as_bad_input(tmp_path, monkeypatch):
    def broken(*_pieces, **_stock):
        raise ZeroDivisionError

    monkeypatch.setattr("materials.queries.cuts.plan_cuts", broken)
    with pytest.raises(ZeroDivisionError):
        run(written(tmp_path, SILLS))
