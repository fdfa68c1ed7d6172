"""One revision of a schedule as a page: what it did, what it left and why, and its rows as they were read."""

from __future__ import annotations

import pytest
from django.urls import reverse

from openings import services
from openings.models import Opening, WindowSchedule
from tests.factories import CrewFactory, JobFactory, PersonFactory, tomorrow
from tests.pages.html import html_of
from tests.pages.schedules import DETAIL, HEAD

FIRST = HEAD + f"W1,3,36,54,{DETAIL}\nW2,1,24,36,{DETAIL}\nW3,1,48,48,{DETAIL}\n"
SECOND = HEAD.replace("Detail", "Detail,DP") + f"W1,3,38,54,{DETAIL},35\nW4,2,30,30,{DETAIL},\n"


def take(job, text: str, **more) -> WindowSchedule:
    name = f"revision {WindowSchedule.objects.count() + 1}.csv"
    return services.import_schedule(job_id=job.pk, filename=name, content=text.encode(), by=None, **more)


def show(client, job, revision: int, **asked):
    return client.get(reverse("schedule-revision-page", args=[job.pk, revision]), asked)


@pytest.fixture
def job(db):
    """A job with two revisions; one opening was started, one assigned, one left by choice."""
    job = JobFactory()
    take(job, FIRST)
    started, assigned = (Opening.objects.get(job=job, mark=mark) for mark in ("W1-01", "W3"))
    services.assign(opening_ids=[started.pk, assigned.pk], crew_id=CrewFactory().pk, on=tomorrow(), by=None)
    services.start_install(opening_id=started.pk, by=PersonFactory(), other_day=True)
    take(job, SECOND, choice=services.Choice(leave=frozenset({"W1-02", "W4-01"})))
    return job


def test_a_revision_says_what_it_did_and_gives_its_file_back(scheduler, job):
    page = html_of(show(scheduler, job, 2))
    for fact in (
        "Revision 2",
        "<b>1</b> added",
        "<b>1</b> changed",
        "<b>1</b> removed",
        "<b>4</b> not applied",
        "<span>rough opening width:</span> 3&#x27; 0&quot; → 3&#x27; 2&quot;",
        '<p class="marks">W4-02</p>',
        "revision 2.csv</a>",
    ):
        assert fact in page, fact
    schedule = WindowSchedule.objects.get(revision=2)
    assert f'href="/api/v1/schedules/{schedule.pk}/file/"' in page
    assert b"".join(scheduler.get(f"/api/v1/schedules/{schedule.pk}/file/")) == SECOND.encode()


@pytest.mark.parametrize(
    "fact",
    [
        "its install was started",
        "unassign it first",
        "it was left out by choice",
        '<th scope="row">W4-01</th><td>new</td><td class="why">left out by choice</td>',
    ],
    ids=["started", "assigned", "by choice", "new"],
)
def test_what_it_left_stands_there_with_the_reason(scheduler, job, fact):
    assert fact in html_of(show(scheduler, job, 2))


def test_its_columns_and_rows_are_shown_as_they_were_read(scheduler, job):
    page = html_of(show(scheduler, job, 2))
    assert '<th scope="row">rough opening width</th><td>RO width (column C)</td>' in page
    assert "3&#x27; 2&quot; × 4&#x27; 6&quot;" in page
    assert "<small>design pressure: 35 psf</small>" in page


def test_an_earlier_revision_stays_as_it_was(scheduler, job):
    page = html_of(show(scheduler, job, 1))
    assert "<b>5</b> added" in page
    assert "3&#x27; 0&quot; × 4&#x27; 6&quot;" in page
    assert "revision 1.csv" in page


def test_rows_go_by_pages(scheduler, db):
    job = JobFactory()
    take(job, HEAD + "".join(f"W{n},1,36,54,{DETAIL}\n" for n in range(250)))
    assert [html_of(show(scheduler, job, 1, page=page)).count('data-label="RO"') for page in (1, 2)] == [
        200,
        50,
    ]


def test_one_from_before_differences_were_kept_is_shown_too(scheduler, job):
    WindowSchedule.objects.filter(revision=1).update(rows=b"", difference=b"", counts={})
    page = html_of(show(scheduler, job, 1))
    assert "before differences were kept" in page


def test_a_revision_that_is_not_there_is_said(scheduler, job):
    for wrong in (show(scheduler, job, 3), show(scheduler, JobFactory(), 1)):
        assert wrong.status_code == 404
        assert "has no revision" in html_of(wrong)


@pytest.mark.django_db
@pytest.mark.parametrize("rows", [1, 60])
def test_the_page_takes_as_many_queries_however_long_the_schedule_is(scheduler, django_assert_num_queries, rows):
    job = JobFactory()
    take(job, HEAD + "".join(f"W{n},2,36,54,{DETAIL}\n" for n in range(rows)))
    # Session, person; the revision with its job.
    with django_assert_num_queries(3):
        assert show(scheduler, job, 1).status_code == 200
