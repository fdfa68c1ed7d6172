"""Taking a window schedule by page."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from openings.models import Opening, WindowSchedule
from tests.factories import JobFactory

HEAD = "Mark,Qty,RO width,RO height,Detail\n"
GOOD = HEAD + 'W3,2,36,54,"flange over, wrap before"\n'
BAD = HEAD + 'W4,1,0,54,"flange over, wrap before"\nW5,1,36,54,no such detail\n'


def send(client, job, text: str, *, act: str, **more):
    file = SimpleUploadedFile("windows.csv", text.encode())
    return client.post(reverse("schedule-page", args=[job.pk]), {"act": act, "file": file, **more})


@pytest.mark.django_db
def test_looking_first_shows_what_would_be_made_and_writes_nothing(scheduler):
    response = send(scheduler, JobFactory(), GOOD, act="look")
    page = response.content.decode()
    assert response.status_code == 200
    for fact in ("This would make 2 openings", "W3-01", "W3-02", "RO width (column C)", "3&#x27; 0&quot;"):
        assert fact in page, fact
    assert not Opening.objects.exists()
    assert not WindowSchedule.objects.exists()


@pytest.mark.django_db
def test_taking_writes_the_openings_and_leads_to_the_job(scheduler):
    job = JobFactory()
    response = send(scheduler, job, GOOD, act="take")
    assert response["Location"] == reverse("job-page", args=[job.pk])
    assert "2 openings" in scheduler.get(response["Location"]).content.decode()
    assert Opening.objects.filter(job=job).count() == 2


@pytest.mark.django_db
@pytest.mark.parametrize("act", ["look", "take"])
def test_every_wrong_row_is_shown_with_its_value_and_what_would_be_right(scheduler, act):
    response = send(scheduler, JobFactory(), BAD, act=act)
    page = response.content.decode()
    assert response.status_code == 400
    assert '<table class="faults">' in page
    for row, value in ((2, "0"), (3, "no such detail")):
        assert f'<th scope="row" class="figure">{row}</th>' in page
        assert f"<code>{value}</code>" in page
    assert not Opening.objects.exists()


@pytest.mark.django_db
def test_the_same_file_twice_clashes(scheduler):
    job = JobFactory()
    send(scheduler, job, GOOD, act="take")
    response = send(scheduler, job, GOOD, act="take")
    assert response.status_code == 409
    assert "this very file already" in response.content.decode()


@pytest.mark.django_db
def test_the_detail_chosen_serves_rows_that_name_none(scheduler):
    job = JobFactory()
    text = "Mark,RO width,RO height\nW1,36,54\n"
    assert send(scheduler, job, text, act="take").status_code == 400
    response = send(scheduler, job, text, act="take", detail="casing, paper after")
    assert response.status_code == 303
    assert Opening.objects.get().detail.name == "casing, paper after"


@pytest.mark.django_db
def test_no_file_is_said_at_the_field(scheduler):
    response = scheduler.post(reverse("schedule-page", args=[JobFactory().pk]), {"act": "take"})
    assert response.status_code == 400
    assert "<strong>file:</strong>" in response.content.decode()


@pytest.mark.django_db
def test_an_upload_that_announces_too_much_is_refused_by_its_size(scheduler, settings):
    settings.UPLOAD_LIMIT_BYTES = 100
    response = send(scheduler, JobFactory(), GOOD + "#" * 200, act="take")
    assert response.status_code == 413


@pytest.mark.django_db
def test_a_job_that_is_not_there_is_said(scheduler):
    response = scheduler.get(reverse("schedule-page", args=[10**6]))
    assert response.status_code == 404
    assert "there is no job" in response.content.decode()
