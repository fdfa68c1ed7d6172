"""The page of an installation detail: its steps, its water path, and what the office does about it.

Sill, jambs, head from the bottom up: AWDI manual p. 23. A pan turns up 4 to 6 in: Fine Homebuilding, sill pan.
"""

from __future__ import annotations

from decimal import Decimal
from html import unescape

import pytest
from django.urls import reverse

from openings.calc.lay_order import usual_order
from openings.models import InstallationDetail
from tests.factories import DetailFactory, OpeningFactory
from tests.pages.html import html_of

pytestmark = pytest.mark.django_db


def page_of(client, detail: InstallationDetail, **asked: object) -> str:
    return html_of(client.get(reverse("detail-page", args=[detail.pk]), asked))


def act(client, detail: InstallationDetail, name: str, **sent: object):
    return client.post(reverse("detail-page", args=[detail.pk]), {"act": name, **sent}, follow=True)


def places(detail: InstallationDetail, first: str) -> dict[str, int]:
    """Return what is typed to have one step before all others."""
    codes = usual_order(detail.as_facts())
    return {code.value: 1 if code == first else number for number, code in enumerate(codes, start=2)}


def test_a_right_detail_sheds_water_and_the_page_says_what_it_cannot_see(owner) -> None:
    page = page_of(owner, DetailFactory())
    assert "It sheds water." in page
    assert "It cannot see wind-driven rain" in page
    assert page.count("<svg") == 3
    for layer in ("sill strip", "pan", "left jamb strip", "unit", "head strip", "WRB"):
        assert f'<th scope="row">{layer}</th>' in page


def test_a_wrong_one_says_what_is_wrong_at_which_step_and_what_helps(owner) -> None:
    page = page_of(owner, DetailFactory(pan_turn_up_in=Decimal(2)))
    assert "It lets water in." in page
    assert 'The pan turns up less than 4"' in unescape(page)
    assert "Step: Lay the pan membrane" in page


def test_a_figure_out_of_its_usual_range_stands_there_with_range_and_source(owner) -> None:
    # First fastener about 10 in from the corner at most: from memory; 4 to 6 in up each jamb as above.
    detail = DetailFactory(flange_fastener_corner_in=Decimal(30))
    page = unescape(page_of(owner, detail))
    assert 'flange fastener corner 2\' 6"; the usual range is from 3" to 10"' in page
    assert "Worth a look" not in page_of(owner, DetailFactory())


def test_an_order_is_tried_before_it_is_saved(owner) -> None:
    detail = DetailFactory()
    page = page_of(owner, detail, **places(detail, "head-strip"))
    assert "This order is tried, not saved." in page
    assert "laid before the jamb strips" in page
    assert 'class="leak"' in page
    assert InstallationDetail.objects.get().own_order == []


def test_a_saved_order_is_that_of_the_steps(owner) -> None:
    detail = DetailFactory()
    codes = [code.value for code in usual_order(detail.as_facts())]
    codes[0], codes[1] = codes[1], codes[0]
    act(owner, detail, "reorder", own_order=" ".join(codes))
    assert InstallationDetail.objects.get().own_order == codes
    assert "in an order of its own" in page_of(owner, detail)
    act(owner, detail, "reorder")
    assert InstallationDetail.objects.get().own_order == []


@pytest.mark.parametrize(
    ("sent", "said"),
    [("pan sill-strip", "missing: "), ("nail-it", "no such install step"), ("x" * 2000, "at most 1000")],
)
def test_an_order_that_is_none_is_refused_and_says_what_would_be_right(owner, sent: str, said: str) -> None:
    answer = act(owner, DetailFactory(), "reorder", own_order=sent)
    assert (answer.status_code, said in html_of(answer)) == (400, True)


def test_a_place_that_is_no_number_is_said_at_its_step(owner) -> None:
    detail = DetailFactory()
    page = page_of(owner, detail, **places(detail, "pan") | {"pan": "first"})
    assert 'class="fault"' in page
    assert "This order is tried" not in page


def test_who_accepted_a_leak_stands_on_the_page(owner) -> None:
    detail = DetailFactory(pan_turn_up_in=Decimal(2))
    act(owner, detail, "accept_leak", why="under a deep porch")
    page = page_of(owner, detail)
    assert "Accepted as it is" in page
    assert "under a deep porch" in page


def test_a_box_frame_is_not_judged_and_the_page_says_what_was_looked_at(owner) -> None:
    page = page_of(owner, DetailFactory(mounting="box frame", jamb_flashing_over_flange=False))
    assert "only the pan was looked at" in page
    assert "<svg" not in page.split("<main", 1)[1]


@pytest.mark.parametrize("count", [1, 20])
def test_it_asks_as_often_however_many_openings_have_it(owner, count: int, django_assert_max_num_queries) -> None:
    detail = DetailFactory()
    for _ in range(count):
        OpeningFactory(job=detail.job, detail=detail)
    with django_assert_max_num_queries(8):
        page_of(owner, detail)
