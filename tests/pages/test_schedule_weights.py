"""Weights in doubt on the page of a draft: shown with their figures, confirmed by ticking them."""

from __future__ import annotations

import re
from html import unescape

import pytest

from openings.models import Opening, ScheduleDraft
from tests.factories import JobFactory
from tests.pages.html import html_of
from tests.pages.schedules import DETAIL, address_of, send

pytestmark = pytest.mark.django_db

LIGHT = (
    "Mark,Qty,Unit width,Unit height,Glass thickness,Weight,Detail\n"
    f"W1,1,72,60,1/4 + 1/4,90,{DETAIL}\nW2,1,72,60,1/4 + 1/4,80,{DETAIL}\n"
)


@pytest.fixture
def draft(scheduler) -> ScheduleDraft:
    send(scheduler, JobFactory(), LIGHT)
    return ScheduleDraft.objects.get()


def page_of(client, draft) -> str:
    return html_of(client.get(address_of(draft)))


def said_on(page: str) -> list[str]:
    return [unescape(one) for one in re.findall(r'name="weights" value="([^"]*)"', page)]


def test_weights_in_doubt_are_shown_with_the_weight_of_the_glass(scheduler, draft):
    page = page_of(scheduler, draft)
    assert "2 weights in doubt" in page
    # 66 × 50 in of two 1/4 in lites: 149.03 lb (13.006 lb a square foot and inch, MIL-HDBK-1013/12).
    assert page.count("149.03 lb") >= 2
    assert len(said_on(page)) == 2


def test_ticked_weights_are_confirmed_and_the_others_stay_in_doubt(scheduler, draft):
    first, second = said_on(page_of(scheduler, draft))
    scheduler.post(address_of(draft), {"act": "confirm", "weights": [first]})
    page = page_of(scheduler, draft)
    assert said_on(page) == [second]
    scheduler.post(address_of(draft), {"act": "confirm", "weights": [second]})
    page = page_of(scheduler, draft)
    assert said_on(page) == []
    seen = re.search(r'name="seen" value="([^"]*)"', page)
    scheduler.post(
        address_of(draft), {"act": "take", "sure": "yes", "seen": seen[1] if seen else "", "kinds": ["added"]}
    )
    confirmed = Opening.objects.values_list("weight_confirmed_by__username", flat=True)
    assert len(confirmed) == 2
    assert None not in confirmed


def test_what_was_confirmed_stays_when_a_column_is_settled_anew(scheduler, draft):
    said = said_on(page_of(scheduler, draft))
    scheduler.post(address_of(draft), {"act": "confirm", "weights": said})
    shown = scheduler.get(address_of(draft)).context["layout"]
    chosen = {name: shown.initial.get(name, "") for name in shown.fields}
    scheduler.post(address_of(draft), {"act": "settle"} | chosen)
    draft.refresh_from_db()
    assert draft.mapping["weights"] == said
    assert said_on(page_of(scheduler, draft)) == []


@pytest.mark.parametrize("sent", [[], ["W9: 5 lb"]], ids=["nothing ticked", "not asked about"])
def test_only_what_is_asked_can_be_confirmed(scheduler, draft, sent):
    response = scheduler.post(address_of(draft), {"act": "confirm", "weights": sent})
    assert response.status_code == 400
    draft.refresh_from_db()
    assert draft.mapping == {}


def test_only_the_office_is_offered_to_confirm_a_weight(warehouse, draft):
    assert said_on(page_of(warehouse, draft)) == []
