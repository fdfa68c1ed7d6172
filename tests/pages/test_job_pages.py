"""Jobs, their openings, their draw and their progress as pages."""

from __future__ import annotations

import pytest
from django.urls import reverse

from openings import services
from openings.models import Hold
from tests.factories import CrewFactory, JobFactory, make_catalogue, make_openings, tomorrow
from tests.pages.html import html_of


@pytest.mark.django_db
def test_a_job_lists_its_openings_in_tape_notation(owner):
    (opening,) = make_openings(1)
    page = html_of(owner.get(reverse("job-page", args=[opening.job_id])))
    assert opening.mark in page
    assert "3&#x27; 0&quot; × 4&#x27; 6&quot;" in page


@pytest.mark.django_db
def test_the_openings_of_a_job_can_be_narrowed_to_a_state(owner):
    free, held = make_openings(2)
    services.place_hold(opening_id=held.pk, kind=Hold.Kind.OTHER, reason="later", by=None)
    page = html_of(owner.get(reverse("job-page", args=[free.job_id]), {"state": "on hold"}))
    assert f">{held.mark}</a>" in page
    assert f">{free.mark}</a>" not in page


@pytest.mark.django_db
def test_a_house_from_before_1978_carries_the_lead_paint_caution(owner):
    # 40 CFR 745, subpart E: housing constructed before 1978.
    old, new = JobFactory(built_year=1977), JobFactory(built_year=1978)
    assert "Lead paint" in html_of(owner.get(reverse("job-page", args=[old.pk])))
    assert "Lead paint" not in html_of(owner.get(reverse("job-page", args=[new.pk])))


@pytest.mark.django_db
def test_the_draw_of_a_job_adds_up_its_openings(owner):
    make_catalogue()
    job = make_openings(3)[0].job
    page = html_of(owner.get(reverse("job-draw-page", args=[job.pk])))
    # AAMA 2400-10 note 3: three sill strips of 36 + 2 × 9 in are 13 ft 6 in.
    assert "13&#x27; 6&quot;" in page


@pytest.mark.django_db
def test_progress_says_what_is_done_of_all_and_why_it_ends_when_it_ends(owner):
    (opening,) = make_openings(1)
    services.assign(opening_ids=[opening.pk], crew_id=CrewFactory().pk, on=tomorrow(3), by=None)
    page = html_of(owner.get(reverse("progress-page")))
    assert "<b>0</b> of 1 done" in page
    on = tomorrow(3)
    assert f"1 opening left, assigned to {on:%a, %b} {on.day}" in page
    assert 'class="ahead-line"' in page


@pytest.mark.django_db
@pytest.mark.parametrize("count", [1, 20])
@pytest.mark.parametrize(
    ("page", "queries"),
    [("jobs-page", 4), ("job-page", 11), ("job-draw-page", 6), ("job-takeoff-page", 11), ("progress-page", 14)],
)
def test_pages_of_jobs_take_as_many_queries_for_many_openings_as_for_one(
    owner, django_assert_num_queries, count, page, queries
):
    make_catalogue()
    job = make_openings(count)[0].job
    make_openings(count)
    with django_assert_num_queries(queries):
        assert owner.get(reverse(page, args=[job.pk] if page.startswith("job-") else [])).status_code == 200
