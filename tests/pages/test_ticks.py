"""Nothing looks passed, recorded or understood that nobody saw to."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.urls import reverse
from selenium.webdriver import Chrome

from jobs.models import Person
from openings import services
from openings.calc.lay_order import steps_for
from openings.models import Opening
from tests.factories import CrewFactory, PersonFactory, make_openings, tomorrow
from tests.pages.people import person
from tests.pages.schedules import address_of, column, make_draft, make_outcome
from tests.pages.test_browser import sign_in

TICKED = """
return [...document.querySelectorAll("body *")].flatMap((one) =>
  ["::before", "::after", "::marker"]
    .filter((part) => /[✓✔☑√]/.test(getComputedStyle(one, part).content))
    .map(() => (one.querySelector("summary") ?? one).innerText));
"""


def ticked(browser: Chrome) -> list[str]:
    """Return the texts that the page puts a tick before."""
    return browser.execute_script(TICKED)


@pytest.fixture
def opening() -> Opening:
    (opening,) = make_openings(1)
    services.assign(opening_ids=[opening.pk], crew_id=CrewFactory().pk, on=tomorrow(0), by=None)
    return opening


@pytest.mark.django_db(transaction=True)
def test_only_recorded_steps_have_a_tick(phone, live_server, opening):
    sign_in(phone, live_server.url, person(Person.Role.SCHEDULER))
    address = f"{live_server.url}{reverse('opening-page', args=[opening.pk])}"
    phone.get(address)
    assert ticked(phone) == []
    lead, steps = PersonFactory(), steps_for(opening.detail.as_facts())
    record = services.start_install(opening_id=opening.pk, by=lead)
    phone.get(address)
    assert ticked(phone) == []
    for number, step in enumerate(steps[:2], start=1):
        services.record_step(record_id=record.pk, step=step.code, by=lead)
        phone.get(address)
        assert [text.splitlines()[0] for text in ticked(phone)] == [step.title for step in steps[:number]]


@pytest.mark.django_db(transaction=True)
def test_only_checks_that_passed_have_a_tick(phone, live_server, opening):
    # Diagonals may differ by 1/8 in up to 20 sq ft (JELD-WEN JII023 p. 3).
    sides = {f"width_{place}_in": Decimal(36) for place in ("top", "middle", "bottom")}
    sides |= {f"height_{place}_in": Decimal(54) for place in ("left", "middle", "right")}
    services.record_measurement(
        opening_id=opening.pk,
        by=PersonFactory(),
        **sides,
        diagonal_rising_in=Decimal(66),
        diagonal_falling_in=Decimal(64),
    )
    sign_in(phone, live_server.url, person(Person.Role.SCHEDULER))
    phone.get(f"{live_server.url}{reverse('opening-page', args=[opening.pk])}")
    found = ticked(phone)
    passed = phone.find_elements("css selector", ".checks > .passed")
    assert len(found) == len(passed) < len(phone.find_elements("css selector", ".checks > li"))


@pytest.mark.django_db(transaction=True)
def test_only_what_is_settled_of_a_schedule_has_a_tick(phone, live_server):
    question = {"field": "columns.C.unit", "heading": "Width", "detail": "What is 915 in?", "choices": ["mm", "in"]}
    fault = {"field": "Width", "row": 9, "value": "x", "detail": "it is not a length"}
    asked = make_draft(outcome=make_outcome(proposal=[column("C", "Width", "ro_width_in")], questions=[question]))
    wrong = make_draft(outcome=make_outcome(faults=[fault]))
    sign_in(phone, live_server.url, person(Person.Role.SCHEDULER))
    phone.get(f"{live_server.url}{address_of(asked)}")
    assert ticked(phone) == ["No row is wrong."]
    phone.get(f"{live_server.url}{address_of(wrong)}")
    assert len(ticked(phone)) == 1
    assert "is understood" in phone.find_element("css selector", ".to-do > .ok").text
