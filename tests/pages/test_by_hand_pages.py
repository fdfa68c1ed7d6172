"""Pages on which the office enters openings, details and labor rates by hand."""

from __future__ import annotations

from decimal import Decimal
from html import unescape

import pytest
from django.urls import reverse

from openings.calc.starting_details import STARTING_DETAILS
from openings.forms import DetailForm
from openings.models import InstallationDetail, LaborRate, Opening
from openings.queries import labor_rates
from tests.factories import DetailFactory, JobFactory, OpeningFactory
from tests.openings.forms.test_entry import shown
from tests.pages.html import html_of

pytestmark = pytest.mark.django_db

NEW = {"mark": "W3", "access": "clear", "storeys_up": "0", "ro_width_in": "3'", "ro_height_in": "4' 6\""}


def act(client, page: str, pk: int | None, pressed: str, **sent: object):
    address = reverse(page, args=[] if pk is None else [pk])
    return client.post(address, {"act": pressed, **sent}, follow=True)


def test_openings_of_a_job_without_details_are_added_with_a_starting_point_in_one_act(scheduler):
    job, start = JobFactory(), next(iter(STARTING_DETAILS))
    answer = act(scheduler, "new-opening-page", job.pk, "add", count=12, detail=f"start:{start}", **NEW)
    assert "12 openings added: W3-01 to W3-12" in html_of(answer)
    assert set(Opening.objects.filter(job=job).values_list("detail__name", "schedule_mark")) == {(start, "W3")}
    again = act(scheduler, "new-opening-page", job.pk, "add", count=1, detail=f"start:{start}", **NEW)
    assert again.status_code == 400
    assert InstallationDetail.objects.filter(job=job).count() == 1


def test_nothing_is_left_of_an_opening_that_cannot_be(scheduler):
    job, start = JobFactory(), next(iter(STARTING_DETAILS))
    sent = NEW | {"count": 1, "detail": f"start:{start}", "unit_width_in": "37"}
    assert act(scheduler, "new-opening-page", job.pk, "add", **sent).status_code == 400
    assert not InstallationDetail.objects.filter(job=job).exists()


def test_a_weight_in_doubt_is_confirmed_where_it_is_typed(scheduler):
    # Glass weighs about 13 lb/sqft an inch thick, as in tests/openings/calc/test_weight.py: 1/2 in of 13 sqft, 85 lb.
    detail = DetailFactory()
    sent = NEW | {"count": 1, "detail": detail.pk, "lites_in": "1/4 + 1/4", "weight_lb": "20"}
    refused = act(scheduler, "new-opening-page", detail.job_id, "add", **sent)
    assert refused.status_code == 400
    assert "check “The weight is right” and save again" in html_of(refused)
    act(scheduler, "new-opening-page", detail.job_id, "add", **sent, weight_confirmed="on")
    assert Opening.objects.get(job=detail.job).weight_confirmed_by


def test_a_void_opening_says_who_made_it_void_and_is_restored(scheduler):
    opening = OpeningFactory(mark="W1")
    act(scheduler, "edit-opening-page", opening.pk, "void", why="a door instead", sure="yes")
    page = html_of(scheduler.get(reverse("edit-opening-page", args=[opening.pk])))
    assert "a door instead" in page
    assert "No later window schedule restores it" in " ".join(page.split())
    assert "a door instead" in html_of(scheduler.get(reverse("opening-page", args=[opening.pk])))
    act(scheduler, "edit-opening-page", opening.pk, "restore")
    assert not Opening.objects.get(pk=opening.pk).is_void


@pytest.mark.parametrize("page", ["edit-opening-page", "new-opening-page", "details-page", "edit-detail-page"])
def test_who_is_not_of_the_office_sees_no_form(warehouse, page: str):
    opening = OpeningFactory()
    pk = {"edit-opening-page": opening.pk, "edit-detail-page": opening.detail_id}.get(page, opening.job_id)
    assert 'name="act"' not in html_of(warehouse.get(reverse(page, args=[pk])))


def test_a_detail_begins_as_one_of_another_job(scheduler):
    other, job = DetailFactory(strip_width_in=Decimal(10), name="porch"), JobFactory()
    act(scheduler, "details-page", job.pk, "begin", begin=other.pk)
    copy = InstallationDetail.objects.get(job=job)
    assert (copy.name, copy.strip_width_in) == ("porch", 10)


def test_the_drawing_follows_what_is_typed_and_says_why_where_it_cannot(scheduler):
    # Flashing of 9 in at least: AWDI installation manual p. 23. A pan turns up 4 to 6 in: Fine Homebuilding, sill pan.
    detail = DetailFactory()
    address, stored = reverse("detail-drawing", args=[detail.pk]), shown_detail(detail)
    assert "<svg" in html_of(scheduler.get(address))
    assert '9" strips' in " ".join(unescape(html_of(scheduler.get(address, stored))).split())
    assert "It lets water in." in html_of(scheduler.get(address, stored | {"pan_turn_up_in": "2"}))
    narrow = html_of(scheduler.get(address, stored | {"strip_width_in": "6"}))
    assert "This cannot be drawn." in narrow
    assert "<svg" not in narrow
    assert InstallationDetail.objects.get(pk=detail.pk).strip_width_in == 9


def shown_detail(detail: InstallationDetail) -> dict[str, str]:
    return shown(DetailForm(row=InstallationDetail.objects.get(pk=detail.pk))).dict()


def test_a_detail_is_saved_as_it_was_typed(scheduler):
    detail = DetailFactory()
    answer = act(scheduler, "edit-detail-page", detail.pk, "revise", **shown_detail(detail) | {"end_lap_in": "3 1/2"})
    assert "is saved" in html_of(answer)
    assert InstallationDetail.objects.get(pk=detail.pk).end_lap_in == Decimal("3.5")


def test_a_rate_of_the_company_is_set_with_its_source_and_reset(scheduler):
    began = labor_rates().prepare.person_h
    act(scheduler, "labor-rates-page", None, "set_rate", name="prepare", person_h="0.3", source="our records")
    assert LaborRate.objects.get().person_h == Decimal("0.3")
    page = html_of(scheduler.get(reverse("labor-rates-page")))
    assert "our records" in page
    assert "the service began with 0.2" in page
    act(scheduler, "labor-rates-page", None, "reset_rate", name="prepare")
    assert labor_rates().prepare.person_h == began
