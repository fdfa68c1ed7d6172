"""Schedule files that people send, and drafts as reading leaves them."""

from __future__ import annotations

from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from jobs.models import Job
from openings.models import ScheduleDraft, WindowSchedule
from openings.schedules import packed
from openings.services import import_schedule
from tests.factories import JobFactory

HEAD = "Mark,Qty,RO width,RO height,Detail\n"
DETAIL = '"flange over, wrap before"'
GOOD = HEAD + f"W3,2,36,54,{DETAIL}\n"
LONG_HEADING = "Sizes_as_a_person_would_never_write_a_heading"
WRONG = HEAD + f"W4,1,0,54,{DETAIL}\nW5,1,36,54,no such detail\n"


def send(client: Client, job: Job, text: str, *, name: str = "windows.csv", **more: Any) -> HttpResponse:
    """Send a file from the page of a job's schedules."""
    file = SimpleUploadedFile(name, text.encode())
    return client.post(reverse("schedule-page", args=[job.pk]), {"act": "send", "file": file, **more})


def address_of(draft: ScheduleDraft) -> str:
    return reverse("schedule-draft-page", args=[draft.job_id, draft.pk])


def column(letter: str, heading: str, meaning: str | None, **more: Any) -> dict[str, Any]:
    """Return what reading says of a column."""
    return {
        "letter": letter, "heading": heading, "meaning": meaning, "unit": "", "confidence": 1.0,
        "samples": ["36", "24"], "choices": [], "table": "1",
    } | more  # fmt: skip


def line(change: str, mark: str, **more: Any) -> dict[str, Any]:
    """Return a line of a difference."""
    return {
        "change": change, "mark": mark, "schedule_mark": mark.split("-")[0], "row": 2, "sheet": "", "opening": 1,
        "old": {}, "new": {}, "hindrance": "", "follows": "",
    } | more  # fmt: skip


def opening(mark: str, **more: Any) -> dict[str, Any]:
    """Return an opening that a file makes."""
    return {
        "row": 2, "mark": mark, "ro_width_in": 36.0, "ro_height_in": 54.0, "unit_width_in": 35.5,
        "unit_height_in": 53.5, "operation": "fixed", "floor": "Level 1", "detail": "flange over, wrap before",
        "remarks": "",
    } | more  # fmt: skip


def make_outcome(**more: Any) -> dict[str, Any]:
    """Return what reading a file says: one with a mark and a size and nothing to settle, unless told otherwise."""
    found = {
        "sha256": "0" * 64,
        "fingerprint": "f" * 64,
        "is_revision": False,
        "columns": {},
        "notes": [],
        "new_details": [],
        "tables": [],
        "proposal": [column("A", "Mark", "mark"), column("B", "RO size", "ro_size")],
        "questions": [],
        "mapping": {},
        "faults": [],
        "openings": [],
        "difference": {"changed": [], "restored": [], "removed": [], "unchanged": [], "cannot": []},
    } | more
    found["difference"] = {"changed": [], "restored": [], "removed": [], "unchanged": [], "cannot": []} | found[
        "difference"
    ]
    found["can_be_taken"] = not found["questions"] and not found["faults"]
    found["openings_count"] = len(found["openings"])
    counts = {name: len(lines) for name, lines in found["difference"].items()}
    return {**found, "counts": counts | {"added": len(found["openings"])}}


def make_draft(*, outcome: dict[str, Any] | None = None, **values: Any) -> ScheduleDraft:
    """Return a draft: read with that outcome, or in the state that is given."""
    state = ScheduleDraft.State.WAITING if outcome is None else ScheduleDraft.State.READ
    defaults = {"filename": "windows.csv", "content": b"Mark", "sha256": "0" * 64, "state": state}
    if "job" not in values:
        values["job"] = JobFactory()
    return ScheduleDraft.objects.create(**{**defaults, "outcome": packed(outcome) if outcome else b"", **values})


def make_revision(job: Job) -> WindowSchedule:
    """Return the first revision of a job, with marks that nothing else has."""
    text = HEAD + f"S1,2,36,54,{DETAIL}\nS2,1,24,36,{DETAIL}\n"
    return import_schedule(job_id=job.pk, filename="windows.csv", content=text.encode(), by=None)


def schedules_of_every_kind(job: Job) -> list[str]:
    """Return the addresses of drafts in every state and of a revision, with long texts in them."""
    wide = [
        column("A", "Tag", "mark", samples=["W1", "W2-ALTERNATE-SIZE-AS-DISCUSSED", "W3"]),
        column("C", "Width", "ro_width_in", confidence=0.62),
        column("D", LONG_HEADING, "ro_size", confidence=0.9),
        column("F", "Level 2", "count_on_floor"),
    ]
    asked = {
        "questions": [
            {"field": "tables", "heading": "", "detail": "Which are to be read?", "choices": ["1", "9"]},
            {"field": "columns.C.unit", "heading": "Width", "detail": "What is 915 in?", "choices": ["mm", "in"]},
            {"field": "marks", "heading": "Tag", "detail": "One mark or four?", "choices": ["ranges"]},
        ],
        "tables": [
            {"name": name, "sheet": "Windows", "title": "", "first_row": 1, "last_row": 8, "is_read": name == "1"}
            for name in ("1", "9")
        ],
        "faults": [{"field": "Windows › Width", "row": 9, "value": "x" * 80, "detail": "it is not a length"}],
        "notes": ["Row 12 “LEVEL 2” heads the rows below it."],
    }
    old, new = {"ro_width_in": 36.0, "remarks": ""}, {"ro_width_in": 38.0, "remarks": "behind the canopy"}
    follows = "it is assigned to Rowan: it goes on hold, and an issued pull sheet is updated within a minute"
    difference = {
        "changed": [line("changed", f"W3-{n}", old=old, new=new, follows=follows) for n in range(4)],
        "removed": [line("removed", "W8", row=None)],
        "restored": [line("restored", "W9")],
        "cannot": [line("changed", "W5", old=old, new=new, hindrance="its install was started")],
        "unchanged": ["W6"],
    }
    problem = {"detail": "The file is a PDF.", "code": "bad-schedule", "errors": []}
    outcomes = (
        make_outcome(proposal=wide, **asked),
        make_outcome(proposal=wide, is_revision=True, openings=[opening("W7")], difference=difference),
        make_outcome(openings=[opening("W1"), opening("W2", remarks="tempered")]),
    )
    drafts = [
        *(make_draft(job=job, outcome=outcome) for outcome in outcomes),
        make_draft(job=job, state=ScheduleDraft.State.REFUSED, problem=problem),
        make_draft(job=job, state=ScheduleDraft.State.READING, doing="finding what is wrong", done_pct=90),
    ]
    revision = make_revision(job)
    return [*map(address_of, drafts), reverse("schedule-revision-page", args=[job.pk, revision.revision])]
