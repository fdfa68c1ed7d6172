"""Ordinary numbers, typed into every field of every form that takes one, are let through by the browser and taken."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

import pytest
from django.urls import reverse

from jobs.models import Person
from openings import services
from openings.calc.lay_order import steps_for
from openings.calc.readings import READING_NAMES, SIDE_NAMES
from openings.models import Hold, HourRecord
from tests.factories import CrewFactory, DetailFactory, tomorrow
from tests.pages import acts
from tests.pages.acts import Screen
from tests.pages.people import person
from tests.pages.schedules import schedules_of_every_kind
from tests.pages.test_browser import a_day_of_work
from tests.pages.test_remnants_page import a_truck_is_back

FIELDS = """
return [...document.querySelectorAll("main form :is(input, textarea)")]
  .filter((one) => !["hidden", "checkbox", "radio", "file", "submit", "button"].includes(one.type))
  .map((one) => [one.name, one.type]);
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbers:
    """Numbers as people write them, how one of them is typed and sent, and what the page then says."""

    ordinary: tuple[str, ...]
    do: Callable[[Screen, str], None]
    said: str


def _days(screen: Screen, typed: str) -> None:
    screen.go(acts.BOARD)
    screen.type("[name=days]", typed)
    screen.press(".span button")


def _capacity(screen: Screen, typed: str) -> None:
    crew = CrewFactory()
    screen.go(acts.BOARD)
    screen.choose("#set-day [name=crew]", crew.name)
    screen.day("#set-day [name=on]", tomorrow())
    screen.type("#set-day [name=capacity_person_h]", typed)
    screen.press("[value=set_day]")


# 36 × 54 in, whose diagonals are 64.9 in by Pythagoras.
TRUE_SIDES = dict(zip(SIDE_NAMES, ("36",) * 3 + ("54",) * 3 + ("64 7/8",) * 2, strict=True))


def _sides(screen: Screen, typed: str) -> None:
    """Type a side of about 3 ft everywhere, and what is small as it is read off a level."""
    acts.on_opening(screen, acts.one_opening())
    for name in READING_NAMES:
        screen.type(f"[name={name}]", typed if name.startswith("width") else TRUE_SIDES.get(name, '1/8"'))
    screen.press("[value=measure]")


def _small(screen: Screen, typed: str) -> None:
    acts.on_opening(screen, acts.one_opening())
    for name in READING_NAMES:
        screen.type(f"[name={name}]", TRUE_SIDES.get(name, typed))
    screen.press("[value=measure]")


def _place(screen: Screen, typed: str) -> None:
    screen.go(reverse("detail-page", args=[DetailFactory().pk]))
    screen.find("#order-of-steps ~ details.act summary").click()
    screen.type("[name=air-seal]", typed)
    screen.press("#order-of-steps ~ details.act button")


def _example(screen: Screen, typed: str) -> None:
    screen.go(reverse("detail-card-page", args=[DetailFactory().pk]))
    screen.type("[name=width_in]", typed)
    screen.type("[name=height_in]", typed)
    screen.press("main form button")


STEPS = steps_for(DetailFactory.build().as_facts())
LENGTHS = ("20'", "20.5", "96", "8' 3\"", "12' 6 1/2\"", "600 mm")
SIDES = Numbers(ordinary=("36", "36.0", "36 1/16", "3' 0\"", "914 mm"), do=_sides, said="easured")
SMALL = Numbers(ordinary=("0", "0.125", '1/8"', "3 mm"), do=_small, said="easured")

NUMBERS = {
    ("crew-board-page", "days"): Numbers(ordinary=("1", "5", "14"), do=_days, said="Crews by day"),
    ("crew-board-page", "capacity_person_h"): Numbers(
        ordinary=("24", "16.5", "0.25", "12.75", "0"), do=_capacity, said="labor hours"
    ),
    ("opening-page", "person_h"): Numbers(
        ordinary=(
            "8", "4", "2.5", "1", "0.5", ".5", "0.25", "7.75", "2:15", "0:20", "45 min", "1 h 30 min", "1 1/2", "2 hr",
        ),
        do=acts.hours, said="Ines",
    ),
    **{("opening-page", name): SIDES if name in SIDE_NAMES else SMALL for name in READING_NAMES},
    **dict.fromkeys(
        [("detail-page", step.code) for step in STEPS],
        Numbers(ordinary=("1", "2", "13"), do=_place, said="Install steps"),
    ),
    **dict.fromkeys(
        [("detail-card-page", side) for side in ("width_in", "height_in")],
        Numbers(ordinary=("36", "4' 6\"", "54 1/2", "1200 mm"), do=_example, said="Before you start"),
    ),
    ("staging-page", "line-N"): Numbers(ordinary=("0", "1", "2", "4"), do=acts.load, said="saved"),
    ("remnants-page", "roll-N"): Numbers(ordinary=LENGTHS, do=acts.settle, said="settled"),
    ("remnants-page", "length_in"): Numbers(ordinary=LENGTHS, do=acts.enter, said="Mark it"),
}  # fmt: skip
OTHERS = {
    ("crew-board-page", "first"): "date",
    ("crew-board-page", "on"): "date",
    ("crew-board-page", "note"): "text",
    ("crew-board-page", "reason"): "text",
    ("crew-board-page", "off_reason"): "text",
    ("detail-page", "why"): "text",
    ("opening-page", "lot"): "text",
    ("opening-page", "note"): "text",
    ("opening-page", "person"): "text",
    ("opening-page", "on"): "date",
    ("opening-page", "reason"): "text",
    ("staging-page", "on"): "date",
    # Letters of columns.
    **{
        ("schedule-draft-page", name): "text"
        for name in (
            "mark", "quantity", "ro_width_in", "ro_height_in", "ro_size", "unit_width_in", "unit_height_in",
            "unit_size", "operation", "floor", "detail", "remarks",
        )
    },
    # The name of a floor.
    ("schedule-draft-page", "floor-N"): "text",
}  # fmt: skip


TYPED_ELSEWHERE = {
    "account-page",
    "calendar-page",
    "company-page",
    "compatibility-page",
    "crew-board-cells-page",
    "crew-new-page",
    "crew-page",
    "crews-page",
    "deliveries-page",
    "detail-drawing",
    "detail-products-page",
    "details-page",
    "drives-page",
    "edit-detail-page",
    "edit-opening-page",
    "first-steps-page",
    "forecasts-page",
    "import-page",
    "integrations-page",
    "job-edit-page",
    "job-new-page",
    "labor-rates-page",
    "new-opening-page",
    "new-product-page",
    "notices-page",
    "office-page",
    "people-page",
    "person-page",
    "places-page",
    "product-list-page",
    "product-page",
    "products-page",
    "readiness-page",
    "search-page",
    "sign-ins-page",
    "standards-page",
    "starting-products-page",
    "stock-page",
    "units-page",
    "weather-limits-page",
}
"""Pages of what the office keeps: tests of their own and `acts.py` type into their fields."""


@pytest.fixture
def screen(any_browser, live_server) -> Screen:
    any_browser.delete_all_cookies()
    screen = Screen(browser=any_browser, base=live_server.url)
    screen.resize(390, 844)
    screen.sign_in(person(Person.Role.SCHEDULER))
    return screen


@pytest.mark.django_db(transaction=True)
def test_every_field_of_every_form_is_known(screen: Screen):
    opening = a_day_of_work()
    a_truck_is_back()
    services.place_hold(opening_id=opening.pk, kind=Hold.Kind.ACCESS, reason="no scaffold", by=None)
    begun = acts.one_opening(is_started=True)
    for_job = {"job_id": opening.job_id}
    shown = [
        ("crew-board-page", reverse("crew-board-page")),
        ("crew-day-page", reverse("crew-day-page")),
        ("staging-page", f"{reverse('staging-page')}?on={tomorrow()}"),
        ("remnants-page", reverse("remnants-page")),
        ("progress-page", reverse("progress-page")),
        ("jobs-page", reverse("jobs-page")),
        *(
            (name, reverse(name, kwargs=for_job))
            for name in ("job-page", "job-draw-page", "job-takeoff-page", "schedule-page")
        ),
        *(("opening-page", reverse("opening-page", args=[one.pk])) for one in (opening, begun)),
        ("card-page", reverse("card-page", args=[opening.pk])),
        ("detail-page", reverse("detail-page", args=[DetailFactory(pan_turn_up_in=2).pk])),
        ("detail-card-page", reverse("detail-card-page", args=[opening.detail_id])),
        *(
            ("schedule-revision-page" if "revisions" in address else "schedule-draft-page", address)
            for address in schedules_of_every_kind(opening.job)
        ),
    ]
    assert {name for name, _ in shown} | TYPED_ELSEWHERE == {name for name, _ in acts.pages()}
    found = {}
    for page, address in shown:
        screen.go(address)
        for name, kind in screen.browser.execute_script(FIELDS):
            if name != "q":  # the search, on every page
                found[page, re.sub(r"-(\d+|[A-Z]{1,3})$", "-N", name)] = kind
    assert found.keys() == NUMBERS.keys() | OTHERS.keys()
    assert {field: found[field] for field in OTHERS} == OTHERS


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize(
    "numbers", dict.fromkeys(map(id, NUMBERS.values())), ids=lambda one: next(
        ":".join(field) for field, numbers in NUMBERS.items() if id(numbers) == one
    ),
)  # fmt: skip
def test_ordinary_numbers_are_taken(screen: Screen, numbers: int):
    asked = next(one for one in NUMBERS.values() if id(one) == numbers)
    for typed in asked.ordinary:
        asked.do(screen, typed)
        assert asked.said in screen.find("main").text, typed
        assert not screen.browser.find_elements("css selector", ".refusal.answer"), typed


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize(("typed", "said"), [("8", "8"), ("2:15", "2.25"), ("45 min", "0.75"), ("2:20", "2:20")])
def test_hours_are_shown_as_they_were_typed_to_the_minute(screen: Screen, typed: str, said: str):
    acts.hours(screen, typed)
    assert f"Ines: {said} labor hours" in screen.find("#answer").text
    assert screen.find("section[aria-labelledby=hours] td.figure").text == said
    assert round(HourRecord.objects.get().person_h * 60) == {"8": 480, "2:15": 135, "45 min": 45, "2:20": 140}[typed]


@pytest.mark.django_db(transaction=True)
def test_what_is_no_time_is_refused_with_what_would_be_right(screen: Screen):
    acts.hours(screen, "all day")
    assert "write it like 8, 2.5, 2:15" in screen.find("#answer").text
    assert screen.find("[name=person_h]").get_attribute("value") == "all day"
