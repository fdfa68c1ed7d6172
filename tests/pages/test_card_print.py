"""The field card on paper: small enough to be carried, as a real browser prints it."""

from __future__ import annotations

import base64
import re
from dataclasses import asdict

import pytest
from django.urls import reverse
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By

from jobs.models import Person
from openings.calc.starting_details import STARTING_DETAILS
from openings.models import InstallationDetail
from tests.factories import DetailFactory, OpeningFactory, make_catalogue
from tests.pages.people import person
from tests.pages.test_browser import sign_in

SIDES = {"letter": 2, "half": 4}
"""A letter sheet printed on both sides, or two half sheets (our choice: what is carried in a hand)."""

PAGE = re.compile(rb"/Type\s*/Page\b")


def sides_of(browser: Chrome) -> int:
    """Print what the browser shows and return how many pages it takes."""
    printed = browser.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True})
    return len(PAGE.findall(base64.b64decode(printed["data"])))


@pytest.mark.django_db(transaction=True)
def test_the_longest_card_of_a_cased_window_is_printed_small_enough_to_carry(any_browser, live_server):
    make_catalogue(strip_width_in=12)
    columns = {column.name for column in InstallationDetail._meta.get_fields()}
    facts = {name: fact for name, fact in asdict(STARTING_DETAILS["casing, paper after"]).items() if name in columns}
    detail = DetailFactory(**facts | {"has_head_strip": True})
    opening = OpeningFactory(detail=detail, job=detail.job)
    sign_in(any_browser, live_server.url, person(Person.Role.SCHEDULER))
    too_long = {}
    for page, pk in (("card-page", opening.pk), ("detail-card-page", detail.pk)):
        for language in ("en", "es"):
            for paper, at_most in SIDES.items():
                address = f"{reverse(page, args=[pk])}?language={language}&paper={paper}"
                any_browser.get(f"{live_server.url}{address}")
                assert len(any_browser.find_elements(By.CSS_SELECTOR, ".card-steps > li")) == 15
                if (sides := sides_of(any_browser)) > at_most:
                    too_long[address] = sides
    assert too_long == {}
