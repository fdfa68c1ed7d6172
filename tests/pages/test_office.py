"""The index of everything that the office keeps, and who is led to it."""

from __future__ import annotations

import pytest
from django.urls import reverse

from config.office import INDEX
from jobs.models import Person
from tests.pages.html import html_of
from tests.pages.people import signed_in

pytestmark = pytest.mark.django_db


def test_every_page_of_the_index_is_there(owner):
    entries = [entry for group in INDEX for entry in group.entries]
    page = html_of(owner.get(reverse("office-page")))
    for entry in entries:
        assert f'<a href="{reverse(entry.page)}">{entry.title}</a>' in page
        assert owner.get(reverse(entry.page)).status_code == 200, entry.page
    assert len({entry.page for entry in entries}) == len(entries)


@pytest.mark.parametrize("role", list(Person.Role))
def test_scheduler_and_owner_are_led_to_it_from_every_page(role):
    is_led = f'href="{reverse("office-page")}"' in html_of(signed_in(role).get(reverse("jobs-page")))
    assert is_led == (role in (Person.Role.SCHEDULER, Person.Role.OWNER))
