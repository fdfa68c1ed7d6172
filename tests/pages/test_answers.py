"""What was answered is where the person looks: after every act of every page, done and refused, at three widths."""

from __future__ import annotations

import re

import pytest
from django.conf import settings
from django.test import Client
from django.urls import reverse

from jobs.models import Person
from tests.factories import make_openings
from tests.pages.acts import CASES, Case, Screen, acts
from tests.pages.html import html_of
from tests.pages.people import person
from tests.pages.test_access import addresses
from tests.plain_words import require_plain

SIZES = ((390, 844), (768, 1024), (1280, 800))

WHERE = """
const answers = document.querySelectorAll("#answer");
const box = answers[0]?.getBoundingClientRect();
return {
  count: answers.length,
  said: answers[0]?.innerText ?? "",
  hasFocus: answers[0]?.contains(document.activeElement) ?? false,
  isSeen: box && box.top >= 0 && box.left >= 0 && box.bottom <= innerHeight && box.right <= innerWidth,
  box, screen: [innerWidth, innerHeight],
};
"""

each_act = pytest.mark.parametrize("case", CASES.values(), ids=[":".join(name) for name in CASES])


@pytest.fixture
def screen(any_browser, live_server) -> Screen:
    any_browser.delete_all_cookies()
    return Screen(browser=any_browser, base=live_server.url)


def assert_answered(screen: Screen, said: str) -> None:
    """See that this and nothing else was answered, seen whole without scrolling, with the focus on it."""
    found = screen.browser.execute_script(WHERE)
    assert found["screen"] in [list(size) for size in SIZES]
    assert found["count"] == 1, found
    assert said in found["said"], found
    require_plain(found["said"])
    assert found["isSeen"], found
    assert found["hasFocus"], found


def test_every_act_of_every_page_has_its_case():
    assert set(CASES) == acts()


@pytest.mark.django_db(transaction=True)
@each_act
def test_what_was_done_is_said_where_it_was_done(screen: Screen, case: Case):
    screen.sign_in(person(case.by))
    for size in SIZES:
        screen.resize(*size)
        case.done(screen)
        if case.asks:
            assert_answered(screen, case.asks)
            screen.sure()
        assert_answered(screen, case.said)


@pytest.mark.django_db(transaction=True)
@each_act
def test_what_is_refused_is_said_where_it_was_tried(screen: Screen, case: Case):
    screen.sign_in(person(case.by))
    for size in SIZES:
        screen.resize(*size)
        case.refused(screen)
        assert_answered(screen, case.why)


@pytest.mark.django_db(transaction=True)
def test_an_answer_is_seen_and_has_the_focus_without_any_script(screen: Screen):
    case = CASES["remnants-page", "scrap"]
    screen.sign_in(person(case.by))
    screen.resize(*SIZES[0])
    screen.browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        case.done(screen)
        assert_answered(screen, case.asks)
        screen.sure()
        assert_answered(screen, case.said)
        case.refused(screen)
        assert_answered(screen, case.why)
    finally:
        screen.browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})


@pytest.mark.django_db(transaction=True)
def test_a_wrong_password_is_said_at_the_form(screen: Screen):
    for size in SIZES:
        screen.resize(*size)
        screen.go("/login/")
        screen.type("[name=username]", person(Person.Role.OWNER).username)
        screen.type("[name=password]", "wrong")
        screen.press("main form button")
        assert_answered(screen, "correct username and password")


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("size", SIZES, ids=[str(width) for width, _ in SIZES])
def test_the_next_step_to_record_is_in_sight_after_each_record(screen: Screen, size: tuple[int, int]):
    screen.resize(*size)
    screen.sign_in(person(Person.Role.SCHEDULER))
    CASES["opening-page", "start"].done(screen)
    screen.sure()
    recorded = 0
    while buttons := screen.browser.find_elements("css selector", "[value=step]"):
        box = buttons[0].rect
        top = box["y"] - screen.browser.execute_script("return scrollY")
        assert 0 <= top <= screen.browser.execute_script("return innerHeight") - box["height"]
        screen.press("[value=step]")
        recorded += 1
        steps = screen.browser.find_elements("css selector", ".steps > .recorded")
        assert len(steps) == recorded
        assert max(step.rect["height"] for step in steps) < 120  # folded, and its title still there
        assert all(step.text for step in steps)
    assert "Every step is recorded" in screen.find("main").text


@pytest.mark.django_db
def test_what_is_answered_where_no_place_is_left_stands_above_everything(scheduler: Client):
    sent = {"act": "release", "hold": 10**6, "at": "hold-1000000"}
    page = html_of(scheduler.post(reverse("crew-board-page"), sent))
    assert page.count('id="answer"') == 1
    assert page.index('id="answer"') < page.index('class="crews"')
    assert "<!--answer" not in page


@pytest.mark.django_db
def test_what_is_said_once_is_not_said_again(scheduler: Client):
    page = reverse("crew-board-page")
    (opening,) = make_openings(1)
    scheduler.post(page, {"act": "hold", "opening": opening.pk, "kind": "other", "reason": "later"})
    assert "is on hold: other" in html_of(scheduler.get(page))
    assert "is on hold: other" not in html_of(scheduler.get(page))


def test_every_form_stands_at_a_place_of_its_template():
    templates = [path.read_text() for path in settings.BASE_DIR.glob("*/templates/**/*.html")]
    sent_from, there = (
        {place for text in templates for place in re.findall(rf'{{% (?:{tag}) "([\w-]+)"', text)}
        for tag in ("sent_from", r"answer|answer_row \d+")
    )
    assert sent_from
    assert sent_from <= there


@pytest.mark.django_db
def test_every_form_leads_to_its_answer(scheduler: Client):
    for address in addresses():
        page = html_of(scheduler.get(address))
        forms = re.findall(r"<form[^>]*>", page.partition("<main")[2])
        astray = [form for form in forms if "post" in form and not re.search(r'action="[^"]*#answer"', form)]
        assert not astray, address
