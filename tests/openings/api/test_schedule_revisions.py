"""A later schedule over HTTP: what is asked, what differs, what was chosen; and drafts that a worker reads."""

from __future__ import annotations

import json
import time

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test.utils import CaptureQueriesContext

from openings.models import Opening, ScheduleDraft, SenderLayout
from tests.factories import DetailFactory
from tests.openings.api.clients import API, problem_of
from tests.openings.rows import schedule_of

SCHEDULES = f"{API}/schedules/"
DRAFTS = f"{API}/schedule-drafts/"
PATIENCE_S = 30

UNSURE = b"Mark,Weigth,RO width,RO height\nW1,80,36,54\nW2,90,30,40\n"
"""Is it the weight or the height? The letters fit both."""


@pytest.fixture
def job(db):
    return DetailFactory(name="wall type 1").job


def upload(client, job, content: bytes, *, to: str = SCHEDULES, name: str = "windows.csv", **values):
    body = {"job": job.pk, "file": SimpleUploadedFile(name, content), **values}
    return client.post(to, body, format="multipart")


def settled(**columns) -> str:
    return json.dumps({"columns": columns})


def test_a_dry_run_says_what_each_column_is_taken_for_how_sure_that_is_and_shows_samples(job, scheduler):
    shown = upload(scheduler, job, schedule_of("W1,2,36,54,", "W2,1,30,40,"), dry_run="true").json()
    proposal = {column["heading"]: column for column in shown["proposal"]}
    assert (proposal["RO width"]["meaning"], proposal["RO width"]["letter"]) == ("ro_width_in", "C")
    assert proposal["RO width"]["samples"] == ["36", "30"]
    assert 0 < proposal["RO width"]["confidence"] <= 1
    assert shown["can_be_taken"]


def test_what_is_unsure_is_asked_and_not_taken_until_it_is_answered(job, scheduler):
    asked = upload(scheduler, job, UNSURE, dry_run="true").json()
    (question,) = asked["questions"]
    assert question["field"] == "columns.B.meaning"
    assert {"weight_lb", "not read"} <= set(question["choices"])
    assert not asked["can_be_taken"]
    problem = problem_of(upload(scheduler, job, UNSURE), 400, "bad-schedule")
    assert [fault["field"] for fault in problem["errors"]] == ["columns.B.meaning"]
    assert problem["schedule"]["questions"] == asked["questions"]
    assert not Opening.objects.exists()
    taken = upload(scheduler, job, UNSURE, mapping=settled(B="weight_lb"))
    assert taken.status_code == 201, taken.json()
    assert list(Opening.objects.order_by("mark").values_list("weight_lb", flat=True)) == [80, 90]


def test_an_answer_is_remembered_for_the_job_and_the_headings(job, scheduler):
    upload(scheduler, job, UNSURE, mapping=settled(Weigth="weight_lb"))
    (layout,) = scheduler.get(f"{API}/schedule-layouts/?job={job.pk}").json()["results"]
    assert layout["fingerprint"] == SenderLayout.objects.get().fingerprint
    again = upload(scheduler, job, UNSURE.replace(b"W2,90", b"W2,95"), dry_run="true").json()
    assert again["questions"] == []
    assert again["difference"]["changed"][0]["new"] == {"weight_lb": 95}
    elsewhere = upload(scheduler, DetailFactory().job, UNSURE, dry_run="true").json()
    assert [question["field"] for question in elsewhere["questions"]] == ["columns.B.meaning"]


@pytest.mark.parametrize(
    ("mapping", "field"),
    [
        ("{", "mapping"),
        ("[]", "mapping"),
        ('{"columns": []}', "mapping.columns"),
        ('{"columns": {"B": "breadth"}}', "mapping.columns.B.meaning"),
        ('{"columns": {"B": {"meaning": "ro_width_in", "unit": "furlong"}}}', "mapping.columns.B.unit"),
        ('{"marks": "maybe"}', "mapping.marks"),
        ('{"tables": 7}', "mapping.tables"),
        ('{"rows": {}}', "mapping.rows"),
        ('{"columns": {"Z": "mark"}}', None),
    ],
)
def test_a_mapping_that_cannot_be_used_names_its_field(mapping, field, job, scheduler):
    problem = problem_of(
        upload(scheduler, job, schedule_of("W1,1,36,54,"), mapping=mapping, dry_run="true"), 400, "bad-schedule"
    )
    assert [fault["field"] for fault in problem["errors"]] == [field] or field is None


def test_a_wrong_row_comes_with_what_was_understood(job, scheduler):
    problem = problem_of(upload(scheduler, job, schedule_of("W1,1,wide,54,"), dry_run="true"), 400, "bad-schedule")
    assert problem["schedule"]["columns"]["ro_width_in"] == "RO width (column C)"
    assert [column["letter"] for column in problem["schedule"]["proposal"]] == ["A", "B", "C", "D", "E"]


def test_a_revision_is_shown_chosen_taken_and_looked_at_again(job, scheduler):
    upload(scheduler, job, schedule_of("W1,1,36,54,", "W2,1,36,54,", "W3,1,24,24,"))
    second = schedule_of("W1,1,38,54,", "W2,1,30,54,", "W4,2,48,48,")
    shown = upload(scheduler, job, second, dry_run="true").json()
    assert shown["counts"] == {
        "added": 2, "restored": 0, "changed": 2, "unchanged": 0, "removed": 1, "cannot": 0,
    }  # fmt: skip
    assert shown["difference"]["changed"][0]["old"]["ro_width_in"] == 36
    assert shown["difference"]["changed"][0]["new"]["ro_width_in"] == 38
    taken = upload(scheduler, job, second, apply=["added", "changed"], leave=["W2"], seen=shown["fingerprint"]).json()
    assert (taken["revision"], taken["counts"]["changed"], taken["counts"]["left"]) == (2, 1, 2)
    difference = scheduler.get(f"{SCHEDULES}{taken['id']}/difference/").json()
    assert difference["added"] == ["W4-01", "W4-02"]
    assert {line["mark"]: line["hindrance"] for line in difference["lines"]} == {
        "W1": "", "W2": "it was left out by choice", "W3": "it was left out by choice",
    }  # fmt: skip
    rows = scheduler.get(f"{SCHEDULES}{taken['id']}/rows/").json()["results"]
    assert [(row["row"], row["mark"], row["openings_count"], row["ro_width_in"]) for row in rows] == [
        (2, "W1", 1, 38), (3, "W2", 1, 30), (4, "W4", 2, 48),
    ]  # fmt: skip
    first = scheduler.get(f"{SCHEDULES}?job={job.pk}&ordering=revision").json()["results"][0]
    assert scheduler.get(f"{SCHEDULES}{first['id']}/file/").content.startswith(b"Mark,Qty")


def test_a_difference_in_metric_is_all_metric(job, scheduler):
    upload(scheduler, job, schedule_of("W1,1,36,54,"))
    shown = upload(scheduler, job, schedule_of("W1,1,38,54,"), to=f"{SCHEDULES}?units=metric", dry_run="true").json()
    # NIST Handbook 44, Appendix C: 25.4 mm to the inch.
    assert shown["difference"]["changed"][0]["new"]["ro_width_mm"] == pytest.approx(965.2)


@pytest.mark.parametrize(
    ("values", "field"),
    [({"apply": "everything"}, "apply"), ({"leave": ["x" * 61]}, "leave"), ({"leave": "[1"}, "leave")],
    ids=["unknown kind", "a long mark", "no JSON"],
)
def test_a_choice_that_cannot_be_read_names_its_field(values, field, job, scheduler):
    problem = problem_of(upload(scheduler, job, schedule_of("W1,1,36,54,"), **values), 400, "invalid")
    assert problem["errors"][0]["field"].startswith(field)


def test_leaving_a_mark_that_is_not_there_is_refused(job, scheduler):
    problem = problem_of(upload(scheduler, job, schedule_of("W1,1,36,54,"), leave='["W9"]'), 400, "bad-choice")
    assert problem["errors"][0]["value"] == "W9"


def test_a_list_of_schedules_takes_as_many_queries_for_five_as_for_one(job, scheduler):
    counts = []
    for revision in range(5):
        upload(scheduler, job, schedule_of(f"W{revision},1,36,54,"))
        if revision in (0, 4):
            with CaptureQueriesContext(connection) as queries:
                scheduler.get(f"{SCHEDULES}?job={job.pk}")
            counts.append(len(queries))
    assert counts[0] == counts[1]


@pytest.mark.django_db(transaction=True)
@pytest.mark.usefixtures("live_worker")
def test_a_worker_process_reads_a_draft_and_takes_it(job, scheduler):
    sent = upload(scheduler, job, schedule_of("W1,2,36,54,", "W2,1,30,40,"), to=DRAFTS)
    assert (sent.status_code, sent.json()["state"]) == (202, "waiting")
    draft = f"{DRAFTS}{sent.json()['id']}/"
    outcome = wait_for(scheduler, draft, "read")["outcome"]
    assert outcome["counts"]["added"] == 3
    chosen = scheduler.post(f"{draft}take/", {"leave": ["W2"], "seen": outcome["fingerprint"]})
    assert (chosen.status_code, chosen.json()["state"]) == (202, "taking")
    assert wait_for(scheduler, draft, "taken")["schedule"]
    assert sorted(Opening.objects.values_list("mark", flat=True)) == ["W1-01", "W1-02"]


def wait_for(client, draft: str, state: str) -> dict:
    deadline = time.monotonic() + PATIENCE_S
    while time.monotonic() < deadline:
        found = client.get(draft).json()
        if found["state"] == state:
            return found
        time.sleep(0.1)
    raise AssertionError(f"still {found['state']} ({found['doing']}) after {PATIENCE_S} s")


def test_a_draft_is_settled_and_discarded(job, scheduler):
    sent = upload(scheduler, job, UNSURE, to=DRAFTS).json()
    draft = f"{DRAFTS}{sent['id']}/"
    settling = scheduler.post(f"{draft}settle/", {"mapping": {"columns": {"B": "weight_lb"}}})
    assert (settling.status_code, settling.json()["mapping"]) == (202, {"columns": {"B": {"meaning": "weight_lb"}}})
    refused = scheduler.post(f"{draft}settle/", {"mapping": {"columns": {"B": "breadth"}}})
    problem_of(refused, 400, "bad-schedule")
    assert scheduler.post(f"{draft}discard/", {}).status_code == 204
    assert not ScheduleDraft.objects.exists()


@pytest.mark.parametrize(
    "leave",
    [[["a"]], [{"x": 1}], [[]], [None], [1.5, ["W1"]], {"x": 1}, "W1", ["[" * 20_000], ['["W1", ["W2"]]'], [["[1]"]]],
    ids=lambda leave: str(leave)[:20],
)
def test_marks_to_leave_that_are_no_list_of_texts_are_refused_by_their_field(job, scheduler, leave):
    draft = f"{DRAFTS}{upload(scheduler, job, schedule_of('W1,1,36,54,'), to=DRAFTS).json()['id']}/"
    problem = problem_of(scheduler.post(f"{draft}take/", {"leave": leave}), 400, "invalid")
    assert {fault["field"].partition("[")[0].partition(".")[0] for fault in problem["errors"]} == {"leave"}
