"""The progress page: what is done of each job, and when it will end."""

from __future__ import annotations

import pytest

from tests.factories import JobFactory, make_openings

pytestmark = pytest.mark.django_db


def test_a_job_without_openings_is_not_done(owner):
    JobFactory(name="Empty Hall")
    page = owner.get("/boards/progress/").content.decode()
    assert "No openings yet." in page
    assert "Every opening is done" not in page
    assert "No ending in sight" not in page


def test_a_job_of_void_openings_is_not_done(owner):
    make_openings(2, is_void=True)
    page = owner.get("/boards/progress/").content.decode()
    assert "Every opening is void." in page
    assert "Every opening is done" not in page
