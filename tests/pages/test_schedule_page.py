"""The schedules of a job as a page: a file is sent, what is not taken waits, what is taken is listed."""

from __future__ import annotations

import pytest
from django.urls import reverse

from openings import tasks
from openings.models import Opening, ScheduleDraft, WindowSchedule
from openings.services import import_schedule, schedule_draft
from tests.factories import JobFactory
from tests.pages.html import html_of
from tests.pages.schedules import GOOD, WRONG, address_of, make_draft, send

State = ScheduleDraft.State


def show(client, job) -> str:
    return html_of(client.get(reverse("schedule-page", args=[job.pk])))


@pytest.mark.django_db
@pytest.mark.parametrize("text", [GOOD, WRONG], ids=["good", "with wrong rows"])
def test_a_file_that_is_sent_is_read_at_once_and_nothing_of_the_job_is_written(scheduler, text):
    response = send(scheduler, JobFactory(), text)
    draft = ScheduleDraft.objects.get()
    assert (response.status_code, response["Location"]) == (303, f"{address_of(draft)}#answer")
    assert (draft.state, draft.sent_by.role) == (State.READ, "scheduler")
    assert not Opening.objects.exists()
    assert not WindowSchedule.objects.exists()


@pytest.mark.django_db
def test_a_large_file_is_read_by_the_worker(scheduler, monkeypatch, django_capture_on_commit_callbacks):
    sent = []
    monkeypatch.setattr(schedule_draft, "LARGE_BYTES", 10)
    monkeypatch.setattr(tasks.read_schedule, "delay", sent.append)
    with django_capture_on_commit_callbacks(execute=True):
        response = send(scheduler, JobFactory(), GOOD)
    draft = ScheduleDraft.objects.get()
    assert (response["Location"], draft.state, sent) == (f"{address_of(draft)}#answer", State.WAITING, [draft.pk])


@pytest.mark.django_db
def test_the_detail_chosen_serves_rows_that_name_none(scheduler):
    send(scheduler, JobFactory(), "Mark,RO width,RO height\nW1,36,54\n", detail="casing, paper after")
    page = html_of(scheduler.get(address_of(ScheduleDraft.objects.get())))
    assert '<option value="casing, paper after" selected>' in page
    assert "gets a copy of the starting detail “casing, paper after”" in page


@pytest.mark.django_db
@pytest.mark.parametrize("sent", [{}, {"text": ""}], ids=["no file", "empty file"])
def test_what_is_no_file_is_refused_at_once_at_the_field(scheduler, sent):
    job = JobFactory()
    address = reverse("schedule-page", args=[job.pk])
    response = send(scheduler, job, **sent) if sent else scheduler.post(address, {"act": "send"})
    assert response.status_code == 400
    assert "<strong>Window schedule:</strong>" in html_of(response)
    assert not ScheduleDraft.objects.exists()


@pytest.mark.django_db
def test_an_upload_that_announces_too_much_is_refused_by_its_size(scheduler, settings):
    settings.UPLOAD_LIMIT_BYTES = 100
    assert send(scheduler, JobFactory(), GOOD + "#" * 200).status_code == 413


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("state", "more", "said"),
    [
        (State.WAITING, {}, "waiting to be checked"),
        (State.READING, {"doing": "finding what is wrong", "done_pct": 90}, "finding what is wrong, 90%"),
        (State.TAKING, {"done_pct": 95}, "being applied, 95%"),
        (State.READ, {}, "checked, ready for review"),
        (
            State.REFUSED,
            {"problem": {"detail": "it is a PDF", "code": "bad-schedule", "errors": []}},
            "could not be read",
        ),
    ],
)
def test_a_file_that_is_not_taken_yet_is_listed_with_its_state(scheduler, state, more, said):
    draft = make_draft(state=state, filename="revision 3.xlsx", **more)
    page = show(scheduler, draft.job)
    assert f'<a href="{address_of(draft)}">revision 3.xlsx</a>' in page
    assert said in page


@pytest.mark.django_db
def test_what_is_taken_is_listed_with_what_it_did_and_its_file(scheduler):
    job = JobFactory()
    taken = import_schedule(job_id=job.pk, filename="windows.csv", content=GOOD.encode(), by=None)
    page = show(scheduler, job)
    address = reverse("schedule-revision-page", args=[job.pk, 1])
    assert f'href="{address}"><b>Revision 1</b></a> <span>2 added</span>' in page
    assert f'<a href="/api/v1/schedules/{taken.pk}/file/">windows.csv</a>' in page
    for kind in ("xlsx", "csv"):
        assert scheduler.get(f"/api/v1/jobs/{job.pk}/schedule.{kind}/").status_code == 200
        assert f'href="/api/v1/jobs/{job.pk}/schedule.{kind}/"' in page


@pytest.mark.django_db
def test_who_is_not_of_the_office_looks_and_sends_nothing(warehouse):
    page = show(warehouse, make_draft().job)
    assert "windows.csv" in page
    assert "<button" not in page.split("<main")[1]


@pytest.mark.django_db
def test_a_job_that_is_not_there_is_said(scheduler):
    response = scheduler.get(reverse("schedule-page", args=[10**6]))
    assert response.status_code == 404
    assert "there is no job" in html_of(response)


@pytest.mark.django_db
@pytest.mark.parametrize("count", [1, 6])
def test_the_page_takes_as_many_queries_however_many_files_there_are(scheduler, django_assert_num_queries, count):
    job = JobFactory()
    for number in range(count):
        make_draft(job=job)
        text = f"Mark,RO width,RO height\nW{number},36,54\n".encode()
        import_schedule(job_id=job.pk, filename="w.csv", content=text, detail="casing, paper after", by=None)
    # Session, person; the job, its details, its drafts and its schedules.
    with django_assert_num_queries(6):
        page = show(scheduler, job)
    assert page.count("<b>Revision ") == count
