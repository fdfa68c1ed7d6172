"""The pages in a real browser: they fit a phone, raise no error, and their forms do what they say."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.urls import reverse
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.support.select import Select
from selenium.webdriver.support.ui import WebDriverWait

from jobs.models import Person
from materials import services as materials
from openings import services as openings
from openings.models import Assignment, Hold, Opening, StepRecord
from tests.factories import CrewFactory, make_catalogue, make_openings, make_remnant, make_stock, tomorrow
from tests.pages.people import PASSWORD, person
from tests.pages.schedules import schedules_of_every_kind

PATIENCE_S = 20


def sign_in(browser: Chrome, base: str, somebody: Person) -> None:
    browser.get(f"{base}/login/")
    browser.find_element(By.NAME, "username").send_keys(somebody.username)
    browser.find_element(By.NAME, "password").send_keys(PASSWORD)
    press(browser, "main form button")


def press(browser: Chrome, selector: str) -> None:
    """Press a button and wait until the page that it leads to is there."""
    before = browser.find_element(By.TAG_NAME, "html")
    button = browser.find_element(By.CSS_SELECTOR, selector)
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", button)
    button.click()
    WebDriverWait(browser, PATIENCE_S).until(lambda _: browser.find_element(By.TAG_NAME, "html") != before)
    WebDriverWait(browser, PATIENCE_S).until(
        lambda _: browser.execute_script("return document.readyState") == "complete"
    )


def said(browser: Chrome) -> str:
    return browser.find_element(By.CSS_SELECTOR, ".said").text


def a_day_of_work() -> Opening:
    """Return an opening assigned to tomorrow, on a job with a sheet cut from a remnant, a hold and one more opening."""
    strip = make_catalogue()["sill strip"]
    make_stock(strip, 4)
    make_remnant(strip, 120)
    crew = CrewFactory()
    assigned, held, _ready = make_openings(3, floor="Level 2", remarks="behind the canopy")
    openings.assign(opening_ids=[assigned.pk], crew_id=crew.pk, on=tomorrow(), by=None)
    openings.place_hold(opening_id=held.pk, kind=Hold.Kind.ACCESS, reason="scaffold missing", by=None)
    sheet = materials.request_pull_sheet(crew_id=crew.pk, on=tomorrow(), by=None)
    materials.write_pull_sheet(sheet_id=sheet.pk)
    return assigned


@pytest.mark.django_db(transaction=True)
def test_every_page_fits_its_screen_and_raises_no_error(browser, live_server):
    opening = a_day_of_work()
    sign_in(browser, live_server.url, person(Person.Role.SCHEDULER))
    lead_crew = opening.assignments.get().crew_day.crew_id
    for address in (
        reverse("crew-board-page"),
        f"{reverse('crew-day-page')}?crew={lead_crew}",
        f"{reverse('staging-page')}?on={tomorrow()}",
        reverse("remnants-page"),
        reverse("progress-page"),
        reverse("jobs-page"),
        *(
            reverse(page, args=[opening.job_id])
            for page in ("job-page", "schedule-page", "job-draw-page", "job-takeoff-page")
        ),
        reverse("opening-page", args=[opening.pk]),
        *schedules_of_every_kind(opening.job),
    ):
        browser.get(f"{live_server.url}{address}")
        widths = browser.execute_script("return [document.documentElement.scrollWidth, window.innerWidth]")
        assert widths[0] <= widths[1], f"{address} is {widths[0]} px wide on a screen of {widths[1]} px"
        assert browser.find_elements(By.TAG_NAME, "h1"), address
        assert not browser.get_log("browser"), address


@pytest.mark.django_db(transaction=True)
def test_every_control_has_a_name(phone, live_server):
    # WCAG 2.2, success criteria 1.3.1 and 4.1.2: a control's name can be found by a program.
    opening = a_day_of_work()
    openings.start_install(opening_id=opening.pk, by=person(Person.Role.SCHEDULER), other_day=True)
    sign_in(phone, live_server.url, person(Person.Role.SCHEDULER))
    for address in (
        reverse("crew-board-page"),
        f"{reverse('staging-page')}?on={tomorrow()}",
        reverse("remnants-page"),
        reverse("schedule-page", args=[opening.job_id]),
        reverse("opening-page", args=[opening.pk]),
        *schedules_of_every_kind(opening.job),
    ):
        phone.get(f"{live_server.url}{address}")
        phone.execute_script("document.querySelectorAll('details').forEach((one) => { one.open = true })")
        controls = phone.find_elements(By.CSS_SELECTOR, "input:not([type=hidden]), select, button, a, summary")
        assert controls
        nameless = [control.get_attribute("outerHTML") for control in controls if not control.accessible_name]
        assert not nameless, address


@pytest.mark.django_db(transaction=True)
def test_an_opening_is_assigned_by_the_form(phone, live_server):
    (opening,), crew = make_openings(1), CrewFactory(name="Rowan")
    sign_in(phone, live_server.url, person(Person.Role.SCHEDULER))
    phone.find_element(By.ID, f"opening-{opening.pk}").click()
    assert "1 selected" in phone.find_element(By.CSS_SELECTOR, "[data-tally]").text
    Select(phone.find_element(By.CSS_SELECTOR, ".assign [name=crew]")).select_by_visible_text("Rowan")
    day = phone.find_element(By.CSS_SELECTOR, ".assign [name=on]")
    phone.execute_script("arguments[0].value = arguments[1]", day, tomorrow().isoformat())
    press(phone, "[value=assign]")
    assert "1 assigned to Rowan" in said(phone)
    assert Assignment.objects.get(opening=opening).crew_day.crew == crew


@pytest.mark.django_db(transaction=True)
def test_a_crew_lead_records_a_step_on_a_phone(phone, live_server):
    opening = a_day_of_work()
    lead = person(Person.Role.CREW_LEAD, crew=opening.assignments.get().crew_day.crew)
    sign_in(phone, live_server.url, lead)
    phone.find_element(By.PARTIAL_LINK_TEXT, opening.mark).click()
    WebDriverWait(phone, PATIENCE_S).until(lambda _: "/openings/" in phone.current_url)
    press(phone, "[value=start]")
    press(phone, "[name=sure][value=yes]")  # it is assigned to tomorrow
    press(phone, "[value=step]")
    assert "Recorded: " in said(phone)
    assert StepRecord.objects.get().recorded_by == lead


@pytest.mark.django_db(transaction=True)
def test_a_crew_lead_measures_with_a_tape_alone_on_a_phone(phone, live_server):
    opening = a_day_of_work()
    crew = opening.assignments.get().crew_day.crew
    sign_in(phone, live_server.url, person(Person.Role.CREW_LEAD, crew=crew))
    phone.get(live_server.url + reverse("opening-page", args=[opening.pk]))
    summary = phone.find_element(By.CSS_SELECTOR, "section[aria-labelledby=measured] summary")
    phone.execute_script("arguments[0].scrollIntoView({block: 'center'})", summary)
    summary.click()
    entered = {"sill_out_of_level_in": "1/16"}
    entered |= {f"width_{place}_in": "36" for place in ("top", "middle", "bottom")}
    entered |= {f"height_{place}_in": "54" for place in ("left", "middle", "right")}
    entered |= {f"diagonal_{which}_in": "64 7/8" for which in ("rising", "falling")}
    for name, written in entered.items():
        field = phone.find_element(By.NAME, name)
        assert field.get_attribute("value") == ""
        field.send_keys(written)
    press(phone, "button[value=measure]")
    measured = opening.measurements.get()
    assert (measured.sill_out_of_level_in, measured.twist_in) == (Decimal("0.0625"), None)
    assert "6 not measured" in said(phone)
