"""A schedule is taken with the keyboard alone, and a page that waits goes on by itself: in a real browser."""

from __future__ import annotations

from pathlib import Path

import pytest
from django.urls import reverse
from selenium.webdriver import ActionChains, Chrome, Keys
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.ui import WebDriverWait

from jobs.models import Person
from openings.models import Opening, ScheduleDraft
from openings.schedules import packed
from tests.factories import JobFactory
from tests.pages.people import person
from tests.pages.schedules import DETAIL, address_of, line, make_draft, make_outcome
from tests.pages.test_browser import PATIENCE_S, said, sign_in

MOST_STOPS = 120

pytestmark = pytest.mark.django_db(transaction=True)


def tab_to(browser: Chrome, selector: str) -> WebElement:
    """Press Tab until the focus is on what the selector finds, and see that it shows."""
    for _ in range(MOST_STOPS):
        ActionChains(browser).send_keys(Keys.TAB).perform()
        focused = browser.switch_to.active_element
        if browser.execute_script("return arguments[0].matches(arguments[1])", focused, selector):
            # WCAG 2.2, success criterion 2.4.7: focus visible.
            assert browser.execute_script("return getComputedStyle(arguments[0]).outlineWidth", focused) == "3px"
            return focused
    raise AssertionError(f"the keyboard does not reach {selector}")


def press_enter(browser: Chrome, selector: str) -> None:
    """Go to a button by Tab, press it, and wait until the page that it leads to is there."""
    tab_to(browser, selector)
    before = browser.find_element("tag name", "html")
    ActionChains(browser).send_keys(Keys.ENTER).perform()
    WebDriverWait(browser, PATIENCE_S).until(lambda _: browser.find_element("tag name", "html") != before)


def choose(browser: Chrome, selector: str, words: str) -> None:
    """Go to a choice by Tab and type the beginning of what is meant."""
    tab_to(browser, selector)
    ActionChains(browser).send_keys(words).perform()


def test_a_file_is_sent_settled_and_taken_by_the_keyboard_alone(browser: Chrome, live_server, tmp_path: Path):
    # WCAG 2.2, success criterion 2.1.1: everything can be done from a keyboard.
    job = JobFactory()
    file = tmp_path / "windows.csv"
    file.write_text(f"Tag,Qty,Width,Height,Detail\nS1,2,915,1830,{DETAIL}\n")
    sign_in(browser, live_server.url, person(Person.Role.SCHEDULER))
    browser.get(f"{live_server.url}{reverse('schedule-page', args=[job.pk])}")
    tab_to(browser, "[name=file]").send_keys(str(file))  # a file is chosen in a window of the system, not of the page
    press_enter(browser, "[value=send]")
    choose(browser, "[name=unit-C]", "millimeters")
    choose(browser, "[name=unit-D]", "millimeters")
    press_enter(browser, "[value=settle]")
    assert "This would add 2 openings" in browser.page_source
    press_enter(browser, "[value=take]")
    press_enter(browser, "[name=sure][value=yes]")
    assert "2 added" in said(browser)
    assert Opening.objects.filter(job=job).count() == 2
    assert not browser.get_log("browser")


def test_the_box_of_a_group_follows_its_openings_and_the_other_way_round(phone: Chrome, live_server):
    changed = [line("changed", f"W1-0{n}", old={"floor": ""}, new={"floor": "2"}) for n in (1, 2, 3)]
    draft = make_draft(outcome=make_outcome(is_revision=True, difference={"changed": changed}))
    sign_in(phone, live_server.url, person(Person.Role.SCHEDULER))
    phone.get(f"{live_server.url}{address_of(draft)}")
    whole, *singles = phone.find_elements("css selector", "[data-group] input")
    tab_to(phone, "[data-group] summary").send_keys(Keys.ENTER)
    tab_to(phone, "[value=W1-02]").send_keys(Keys.SPACE)
    assert whole.get_property("indeterminate")
    assert [box.is_selected() for box in singles] == [True, False, True]
    whole.click()
    assert not any(box.is_selected() for box in singles)
    phone.find_element("css selector", "[data-tick]").send_keys(Keys.ENTER)
    assert all(box.is_selected() for box in (whole, *singles))


def test_a_file_that_a_worker_reads_shows_how_far_it_is_and_then_what_it_says(phone: Chrome, live_server):
    draft = make_draft(state=ScheduleDraft.State.READING, doing="reading the file", done_pct=5)
    drafts = ScheduleDraft.objects.filter(pk=draft.pk)
    sign_in(phone, live_server.url, person(Person.Role.SCHEDULER))
    phone.get(f"{live_server.url}{address_of(draft)}")
    drafts.update(doing="finding what is wrong", done_pct=90)
    waiting = WebDriverWait(phone, PATIENCE_S)
    waiting.until(lambda _: "finding what is wrong · 90%" in phone.find_element("css selector", "main").text)
    assert phone.find_element("css selector", "progress").get_property("value") == 90
    drafts.update(state=ScheduleDraft.State.READ, done_pct=100, outcome=packed(make_outcome()))
    waiting.until(lambda _: phone.find_elements("css selector", "#columns"))
    assert not phone.get_log("browser")
