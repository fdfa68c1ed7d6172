"""Lists: how many queries, what is filtered, in which order, how much on a page."""

from __future__ import annotations

from datetime import timedelta

import pytest

from jobs.models import Job
from tests.factories import CrewFactory, JobFactory, make_openings, tomorrow
from tests.openings.api.clients import API, problem_of
from tests.openings.api.test_permissions import ROWS
from tests.openings.rows import make_assigned, start

# One query counts, one reads; what a row carries with it takes one more for all rows.
QUERIES = dict.fromkeys(ROWS, 2) | {"openings": 3, "install-records": 4}
LABOR_QUERIES = 4


@pytest.mark.parametrize("size", [1, 12])
@pytest.mark.parametrize("noun", ROWS)
def test_a_list_takes_as_many_queries_for_12_rows_as_for_1(noun, size, scheduler, django_assert_num_queries):
    for _ in range(size):
        ROWS[noun]()
    with django_assert_num_queries(QUERIES[noun]):
        page = scheduler.get(f"{API}/{noun}/").json()
    assert page["count"] == len(page["results"])
    assert page["count"] >= size


@pytest.mark.parametrize("size", [1, 12])
def test_the_labor_of_a_job_takes_four_queries(size, scheduler, django_assert_num_queries):
    (opening, *_) = make_openings(size)
    with django_assert_num_queries(LABOR_QUERIES):
        labor = scheduler.get(f"{API}/jobs/{opening.job_id}/labor/").json()
    assert labor["openings_count"] == size
    assert labor["total_person_h"] == pytest.approx(sum(task["person_h"] for task in labor["tasks"]), abs=0.05)


@pytest.fixture
def three(db):
    """Openings of one job: one held, one ready, one assigned."""
    job = JobFactory()
    held, ready = (make_openings(1, job=job, mark=mark, floor="2")[0] for mark in ("W2", "W1"))
    (assigned,) = make_assigned(job=job, mark="W3")
    held.holds.create(kind="access", reason="stairs")
    return held, ready, assigned


@pytest.mark.parametrize(
    ("query", "marks"),
    [
        ("ordering=mark", ["W1", "W2", "W3"]),
        ("ordering=-mark", ["W3", "W2", "W1"]),
        ("state=on hold", ["W2"]),
        ("state=assigned", ["W3"]),
        ("state=ready&floor=2", ["W1"]),
        ("mark=W1", ["W1"]),
        ("mark=W9", []),
        ("ordering=mark&page_size=1&page=2", ["W2"]),
    ],
)
def test_openings_are_filtered_and_ordered(query, marks, three, scheduler):
    results = scheduler.get(f"{API}/openings/?job={three[0].job_id}&{query}").json()["results"]
    assert [opening["mark"] for opening in results] == marks


@pytest.mark.parametrize(
    "query",
    ["job=x", "job=99999999999999999999", "mark=%00", "state=%00", "state=nowhere", "schedule=1.5", "detail=-1"],
)
def test_a_filter_that_cannot_be_is_refused(query, three, scheduler):
    problem = problem_of(scheduler.get(f"{API}/openings/?{query}"), 400, "invalid")
    assert [fault["field"] for fault in problem["errors"]] == [query.partition("=")[0]]


@pytest.mark.parametrize("page", ["0", "-1", "2", "x", "9" * 5000])
def test_a_page_that_is_not_there_is_not_found(page, three, scheduler):
    problem_of(scheduler.get(f"{API}/openings/?page={page}"), 404, "not-found")


@pytest.mark.parametrize(("asked", "given"), [("", 50), ("?page_size=7", 7), ("?page_size=500", 60)])
def test_a_page_has_50_rows_and_500_at_most(asked, given, scheduler):
    make_openings(60)
    assert len(scheduler.get(f"{API}/openings/{asked}").json()["results"]) == given


def test_rows_that_stand_equal_keep_one_order_over_all_pages(scheduler):
    Job.objects.bulk_create(Job(code=f"j-{n}", name="Weir Cottage", address="2 Weir Lane") for n in range(90))
    Job.objects.filter(code__endswith="7").update(address="3 Weir Lane")  # moves those rows in the table
    pages = [scheduler.get(f"{API}/jobs/?ordering=name&page_size=30&page={page}").json() for page in (1, 2, 3)]
    ids = [job["id"] for page in pages for job in page["results"]]
    assert len(ids) == 90
    assert ids == sorted(ids)


def test_dates_are_filtered_from_and_to(scheduler):
    crew = CrewFactory()
    for ahead in range(1, 5):
        crew.days.create(on=tomorrow(ahead), capacity_person_h=8)
    first, last = tomorrow(2), tomorrow(3)
    found = scheduler.get(f"{API}/crew-days/?crew={crew.pk}&on__gte={first}&on__lte={last}&ordering=-on").json()
    assert [day["on"] for day in found["results"]] == [str(last), str(first)]
    assert last - first == timedelta(days=1)


def test_what_is_open_is_told_from_what_is_closed(scheduler):
    first, second = make_assigned(2)
    start(first)
    first.holds.create(kind="access", reason="stairs")
    base = f"opening__job={first.job_id}"
    counts = {
        query: scheduler.get(f"{API}/{query}&{base}").json()["count"]
        for query in (
            "holds/?released_at__isnull=true",
            "holds/?released_at__isnull=false",
            "assignments/?live=true",
            "assignments/?live=false",
            "install-records/?done_at__isnull=true",
            f"install-records/?opening={second.pk}",
        )
    }
    assert list(counts.values()) == [1, 0, 2, 0, 1, 0]
