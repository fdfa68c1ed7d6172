"""The progress page: what is done of each job, and when it will end."""

from __future__ import annotations

import sys
from datetime import date

import pytest

from tests.factories import JobFactory, make_openings
from tests.pages.html import html_of

pytestmark = pytest.mark.django_db


def test_a_job_without_openings_is_not_done(owner):
    JobFactory(name="Empty Hall")
    page = html_of(owner.get("/boards/progress/"))
    assert "No openings yet." in page
    assert "Every opening is done" not in page
    assert "No finish date yet" not in page


def test_a_job_of_void_openings_is_not_done(owner):
    make_openings(2, is_void=True)
    page = html_of(owner.get("/boards/progress/"))
    assert "Every opening is void." in page
    assert "Every opening is done" not in page


def test_the_day_on_the_page_is_that_of_the_sites(owner, monkeypatch):
    # In the evening of Sunday, March 7, 2027 in Denver it is Monday in UTC, by which the service counts.
    JobFactory()
    monkeypatch.setattr(sys.modules["materials.pages.progress"], "today_at", lambda job: date(2027, 3, 7))
    assert "<dd>Sun, Mar 7, 2027</dd>" in html_of(owner.get("/boards/progress/"))
