"""What cannot be undone asks first, names what it will do, and does nothing before it is confirmed."""

from __future__ import annotations

import re
from typing import Any

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from jobs.models import CrewDay
from materials.models import Remnant
from openings import services
from openings.calc.lay_order import steps_for
from openings.models import Assignment, InstallRecord, Opening, ScheduleDraft
from tests.factories import (
    CrewFactory,
    JobFactory,
    PersonFactory,
    ProductFactory,
    make_openings,
    make_remnant,
    tomorrow,
)
from tests.pages.acts import pages
from tests.pages.html import html_of
from tests.pages.schedules import DETAIL, HEAD, address_of, send

ASKING = {
    ("account-page", "revoke"),
    ("crew-board-page", "withdraw"),
    ("crew-board-page", "set_day"),  # where it strands openings
    ("crew-board-page", "assign"),  # where a sheet is issued
    ("crew-board-page", "move"),  # where a sheet is issued, a truck loaded or work begun
    ("crew-board-page", "next_room"),
    ("crew-board-page", "mend"),  # where a sheet is issued, and before anything is unassigned
    ("edit-opening-page", "void"),
    ("crew-page", "set_off"),  # likewise
    ("calendar-page", "confirm"),  # likewise
    ("opening-page", "start"),  # where another day was planned
    ("integrations-page", "revoke_link"),
    ("integrations-page", "draw_secret"),
    ("integrations-page", "stop_webhook"),  # where calls wait
    ("opening-page", "finish"),
    ("person-page", "deactivate"),  # sessions, tokens and links end for good
    ("product-page", "retire"),  # where there is stock of it
    ("remnants-page", "scrap"),
    ("schedule-draft-page", "anew"),
    ("schedule-draft-page", "take"),
    ("schedule-draft-page", "discard"),
}
NOT_ASKING = {
    ("notices-page", "choose"),
    ("integrations-page", "make_link"),
    ("integrations-page", "add_webhook"),
    ("integrations-page", "resume_webhook"),
    # Taken back by another act, or entered anew.
    ("crew-board-page", "undo"),
    ("company-page", "save"),
    ("calendar-page", "unset"),
    ("forecasts-page", "enter"),
    ("weather-limits-page", "set_limits"),
    ("weather-limits-page", "reset"),
    ("job-new-page", "add"),
    ("job-edit-page", "save"),
    ("job-edit-page", "close"),
    ("job-edit-page", "archive"),
    ("job-edit-page", "reopen"),
    ("crew-new-page", "add"),
    ("import-page", "look"),
    ("import-page", "take"),
    ("crew-page", "save"),
    ("crew-page", "work"),
    ("crew-page", "retire"),
    ("crew-page", "put_back"),
    ("crew-board-page", "hold"),
    ("crew-board-page", "release"),
    ("detail-page", "reorder"),
    ("units-page", "order"),
    ("units-page", "reorder"),
    ("units-page", "bring"),
    ("units-page", "receive"),
    ("deliveries-page", "expect"),
    ("deliveries-page", "receive_delivery"),
    ("readiness-page", "hold"),
    ("readiness-page", "release"),
    ("readiness-page", "set_rules"),
    ("readiness-page", "add_trade"),
    ("readiness-page", "settle_trade"),
    ("drives-page", "enter"),
    ("people-page", "invite"),
    ("person-page", "change"),
    ("person-page", "send_link"),
    ("person-page", "take_back"),
    ("person-page", "reactivate"),
    ("detail-page", "accept_leak"),
    ("details-page", "begin"),
    ("edit-detail-page", "revise"),
    ("new-opening-page", "add"),
    ("edit-opening-page", "revise"),
    ("edit-opening-page", "copy"),
    ("edit-opening-page", "restore"),
    ("labor-rates-page", "set_rate"),
    ("labor-rates-page", "reset_rate"),
    ("opening-page", "hold"),
    ("opening-page", "release"),
    ("opening-page", "measure"),
    ("opening-page", "accept"),
    ("staging-page", "load"),
    ("remnants-page", "enter"),
    ("compatibility-page", "judge"),
    ("compatibility-page", "record"),
    ("detail-products-page", "choose_own"),
    ("detail-products-page", "use_standard"),
    ("new-product-page", "add_product"),
    ("places-page", "add_place"),
    ("places-page", "rename"),
    ("product-list-page", "look"),
    ("product-list-page", "take"),
    ("product-page", "reinstate"),
    ("product-page", "save"),
    ("standards-page", "choose"),
    ("standards-page", "drop"),
    ("starting-products-page", "start"),
    ("stock-page", "count"),
    ("schedule-draft-page", "settle"),
    ("schedule-draft-page", "place"),
    ("schedule-draft-page", "confirm"),
    # ColumnAnswer what happened, one thing at a time; nothing is lost by it.
    ("opening-page", "step"),
    ("opening-page", "hours"),
    ("remnants-page", "settle"),
    # To type the password is to be sure.
    ("account-page", "set_password"),
    ("account-page", "sign_out_everywhere"),
    ("account-page", "make_token"),
    ("sign-ins-page", "unlock"),  # what it lets in is locked again by further tries
    # Changes nothing that stands.
    ("edit-detail-page", "preview"),
    ("staging-page", "ask"),
    ("schedule-page", "send"),
    ("schedule-draft-page", "again"),
}


def test_of_every_act_it_is_decided_whether_it_asks():
    asks = {(name, act): bool(one.asks) for name, page in pages() for act, one in page.acts.items()}
    assert {act for act, is_asking in asks.items() if is_asking} == ASKING
    assert {act for act, is_asking in asks.items() if not is_asking} == NOT_ASKING


def question_in(response: HttpResponse) -> str:
    """Return what is asked, as a person reads it."""
    page = html_of(response)
    found = re.search(r'class="answer question".*?</div>', page, re.DOTALL)
    return re.sub(r"<[^>]+>|&[^;]+;|\s+", " ", found[0]) if found else ""


def said_day() -> str:
    """Return today as it is said on a site."""
    return f"{tomorrow(0):%a, %b} {tomorrow(0).day}"


def sent_again(response: HttpResponse) -> dict[str, Any]:
    """Return what the two buttons of the question send along."""
    form = re.search(r'<form id="sure".*?</form>', html_of(response), re.DOTALL)[0]
    sent: dict[str, Any] = {}
    for name, value in re.findall(r'name="([^"]+)" value="([^"]*)"', form):
        sent.setdefault(name, []).append(value)
    return sent


@pytest.fixture
def remnant(db: None) -> Remnant:
    product = ProductFactory(name="6 in flashing", measure="in", package="roll", package_quantity=900)
    day = CrewDay.objects.create(crew=CrewFactory(name="North"), on=tomorrow(0), capacity_person_h=24)
    return make_remnant(product, 168, reserved_for=day)


def test_a_remnant_that_a_crew_counts_on_is_scrapped_once_that_is_confirmed(warehouse: Client, remnant: Remnant):
    page = reverse("remnants-page")
    asked = warehouse.post(page, {"act": "scrap", "remnant": remnant.pk, "at": f"remnant-{remnant.pk}"})
    assert asked.status_code == 200
    told = question_in(asked)
    for fact in (remnant.code, "14 0 of 6 in flashing", f"kept for North on {said_day()}", "cannot be undone"):
        assert fact in " ".join(told.replace("'", " ").split()), told
    remnant.refresh_from_db()
    assert remnant.fate == ""
    kept = warehouse.post(page, sent_again(asked) | {"sure": "no"})
    assert "Nothing was done" in html_of(kept)
    remnant.refresh_from_db()
    assert remnant.fate == ""
    done = warehouse.post(page, sent_again(asked) | {"sure": "yes"}, follow=True)
    assert f"{remnant.code} is scrapped" in html_of(done)
    remnant.refresh_from_db()
    assert remnant.fate == Remnant.Fate.SCRAPPED


def test_a_reserved_remnant_says_for_whom_in_list_and_api(warehouse: Client, remnant: Remnant):
    assert f"North, {said_day()}</td>" in html_of(warehouse.get(reverse("remnants-page")))
    told = warehouse.get(f"/api/v1/remnants/{remnant.pk}/").json()
    assert (told["crew_name"], told["on"]) == ("North", tomorrow(0).isoformat())


def test_what_could_not_be_done_anyway_is_refused_and_not_asked(warehouse: Client, remnant: Remnant):
    gone = {"fate": Remnant.Fate.CUT_UP, "gone_at": remnant.entered_at, "reserved_for": None}
    Remnant.objects.filter(pk=remnant.pk).update(**gone)
    response = warehouse.post(reverse("remnants-page"), {"act": "scrap", "remnant": remnant.pk})
    assert response.status_code == 409
    assert not question_in(response)


def assigned(mark: str) -> Assignment:
    (one,) = make_openings(1, mark=mark)
    given = services.assign(opening_ids=[one.pk], crew_id=CrewFactory(name="North").pk, on=tomorrow(0), by=None)
    return given[0]


def test_an_opening_is_withdrawn_once_that_is_confirmed(scheduler: Client):
    assignment = assigned("W3-01")
    asked = scheduler.post(reverse("crew-board-page"), {"act": "withdraw", "assignments": assignment.pk})
    said = f"Unassign W3-01 of {assignment.opening.job.code} from North, {said_day()}?"
    assert said in question_in(asked)
    assignment.refresh_from_db()
    assert assignment.withdrawn_at is None
    scheduler.post(reverse("crew-board-page"), sent_again(asked) | {"sure": "yes"})
    assignment.refresh_from_db()
    assert assignment.withdrawn_at


def test_an_opening_is_done_once_that_is_confirmed(scheduler: Client):
    opening, lead = assigned("W3-01").opening, PersonFactory()
    page = reverse("opening-page", args=[opening.pk])
    record = services.start_install(opening_id=opening.pk, by=lead)
    assert scheduler.post(page, {"act": "finish"}).status_code == 409  # refused, not asked: every step is missing
    for step in steps_for(opening.detail.as_facts()):
        services.record_step(record_id=record.pk, step=step.code, by=lead)
    services.record_hours(record_id=record.pk, person="Ines", on=tomorrow(0), person_h=2, by=lead)
    asked = scheduler.post(page, {"act": "finish"})
    assert "W3-01 of" in question_in(asked)
    assert "2 labor hours" in question_in(asked)
    assert InstallRecord.objects.get().done_at is None
    scheduler.post(page, sent_again(asked) | {"sure": "yes"})
    assert InstallRecord.objects.get().done_at


def test_exactly_what_was_asked_about_is_taken(scheduler: Client):
    job = JobFactory(code="heron-house")
    send(scheduler, job, HEAD + f"W1,3,36,54,{DETAIL}\n")
    scheduler.post(address_of(ScheduleDraft.objects.get()), {"act": "take", "sure": "yes"})
    send(scheduler, job, HEAD + f"W1,3,38,54,{DETAIL}\nW2,2,36,54,{DETAIL}\n")
    draft = ScheduleDraft.objects.exclude(state="taken").get()
    page = html_of(scheduler.get(address_of(draft)))
    seen = re.search(r'name="seen" value="(\w+)"', page)[1]
    ticks = {"kinds": ["added", "changed", "removed"], "seen": seen, "group": ["changed-0"]}
    asked = scheduler.post(address_of(draft), {"act": "take", "tick": ["W1-01", "W1-03", "W2-02"], **ticks})
    assert "to heron-house: 1 added, 2 changed, 2 not applied?" in question_in(asked)
    assert Opening.objects.filter(job=job).count() == 3
    scheduler.post(address_of(draft), sent_again(asked) | {"sure": "yes"})
    widths = dict(Opening.objects.filter(job=job).values_list("mark", "ro_width_in"))
    assert widths == {"W1-01": 38, "W1-02": 36, "W1-03": 38, "W2-02": 36}


def test_a_file_is_discarded_once_that_is_confirmed(scheduler: Client):
    send(scheduler, JobFactory(), HEAD + f"W1,3,36,54,{DETAIL}\n")
    draft = ScheduleDraft.objects.get()
    asked = scheduler.post(address_of(draft), {"act": "discard"})
    assert "Discard windows.csv?" in question_in(asked)
    assert ScheduleDraft.objects.exists()
    scheduler.post(address_of(draft), sent_again(asked) | {"sure": "yes"})
    assert not ScheduleDraft.objects.exists()
