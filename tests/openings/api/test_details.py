"""Installation details, sent and read as JSON."""

from __future__ import annotations

import pytest

from tests.factories import DetailFactory, OpeningFactory, ProductFactory
from tests.openings.api.clients import API, problem_of

pytestmark = pytest.mark.django_db


def test_a_detail_with_a_figure_out_of_its_range_is_taken_and_warned_of(scheduler):
    detail = DetailFactory()
    assert scheduler.get(f"{API}/details/{detail.pk}/").json()["advice"] == []
    answer = scheduler.patch(f"{API}/details/{detail.pk}/?units=metric", {"pan_turn_up_mm": 0}, format="json")
    # 4 to 6 in up each jamb: Fine Homebuilding 2013; an inch is 25.4 mm: NIST Handbook 44, appendix C.
    assert answer.json()["advice"] == [
        {
            "rule": "usual range: pan turn-up",
            "answer": "take care",
            "reason": "pan turn-up 0 mm; the usual range is from 101.6 mm to 152.4 mm",
            "source": "Fine Homebuilding 2013; 6 in: JLC photo guide",
        }
    ]


def test_an_opening_is_warned_of_its_detail_its_products_and_its_own_clearance(scheduler):
    opening = OpeningFactory(unit_width_in=33, detail__end_lap_in=0)
    advice = scheduler.get(f"{API}/openings/{opening.pk}/advice/").json()["advice"]
    rules = [one["rule"] for one in advice if one["rule"].startswith("usual range")]
    assert rules == ["usual range: clearance in width", "usual range: end lap"]


def test_a_product_out_of_its_range_is_warned_of(scheduler):
    product = ProductFactory(chemistry="butyl", width_in=2, measure="in", package="roll")
    (one,) = scheduler.get(f"{API}/products/{product.pk}/").json()["advice"]
    assert one["reason"] == f'{product.name}: width 2"; the usual range is from 4" to 9"'


def test_a_detail_that_allows_less_clearance_than_it_asks_for_is_refused(scheduler):
    detail = DetailFactory()
    body = {"ro_clearance_height_in": "2 1/2"}
    problem = problem_of(scheduler.patch(f"{API}/details/{detail.pk}/", body, format="json"), 400, "invalid")
    assert [fault["field"] for fault in problem["errors"]] == ["most_clearance_height_in"]
    assert (
        scheduler.patch(
            f"{API}/details/{detail.pk}/", body | {"most_clearance_height_in": "2 1/2"}, format="json"
        ).json()["most_clearance_height_in"]
        == 2.5
    )
