"""A page that cannot do what was asked at this moment says so where it was asked, with what was typed."""

from __future__ import annotations

import pytest
from django.db import OperationalError
from django.urls import reverse
from psycopg.errors import AdminShutdown, LockNotAvailable

from openings import services
from openings.models import Assignment
from tests.factories import CrewFactory, make_openings
from tests.pages.html import html_of
from tests.pages.people import assign_form

pytestmark = pytest.mark.django_db


def refusing(cause: Exception):
    def refuse(**_what: object) -> None:
        raise OperationalError("refused") from cause

    return refuse


def test_an_act_that_waits_for_a_lock_too_long_shows_its_page_again(scheduler, monkeypatch):
    monkeypatch.setattr(services, "assign", refusing(LockNotAvailable()))
    opening = make_openings(1)[0]
    answer = scheduler.post(reverse("crew-board-page"), assign_form([opening], CrewFactory()))
    page = html_of(answer)
    assert (answer.status_code, answer["Retry-After"]) == (503, "2")
    assert "Not now: try again in a moment" in page
    assert "somebody else is changing the same thing; nothing was saved" in page
    assert opening.mark in page
    assert not Assignment.objects.exists()


def test_without_its_database_a_page_says_so_and_asks_it_for_nothing_more(scheduler, monkeypatch):
    monkeypatch.setattr(services, "assign", refusing(AdminShutdown()))
    monkeypatch.setattr("config.pages.Refusals._shown_again", refusing_again)
    answer = scheduler.post(reverse("crew-board-page"), assign_form(make_openings(1), CrewFactory()))
    assert (answer.status_code, answer["Retry-After"]) == (503, "5")
    assert "The database is not answering." in html_of(answer)


def refusing_again(*_what: object) -> None:
    raise OperationalError("refused") from AdminShutdown()
