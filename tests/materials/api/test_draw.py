from __future__ import annotations

from collections import Counter

import pytest

from tests.factories import DetailFactory, JobFactory, OpeningFactory, make_catalogue, make_openings

pytestmark = pytest.mark.django_db


def by_part(lines: list[dict]) -> dict[str, dict]:
    return {line["part"]: line for line in lines}


def test_each_line_of_a_draw_says_part_amount_product_reason_and_source(warehouse):
    make_catalogue(strip_width_in=9)
    (opening,) = make_openings(1)
    draw = warehouse.get(f"/api/v1/openings/{opening.pk}/draw").json()
    assert set(draw) == {"opening", "lines", "faults", "missing", "touching", "advice", "held", "load_list", "caution"}
    assert draw["opening"] == opening.pk
    assert {frozenset(line) for line in draw["lines"]} == {
        frozenset(
            {"part", "count", "each", "quantity", "spare", "unit", "product", "packages", "reason", "source"},
        )
    }
    assert by_part(draw["lines"])["jamb strip"] == {
        "part": "jamb strip",
        "count": 2,
        "each": 71,
        "quantity": 142,
        "spare": 0,
        "unit": "in",
        "product": {
            "code": "jamb-strip",
            "name": "jamb-strip",
            "package": "roll",
            "measure": "in",
            "package_quantity": 900,
            "spare_pct": 0,
            "spare_pieces": 0,
        },
        "packages": 0.15778,
        "reason": 'jamb strip, 2 × 5\' 11": rough-opening height 4\' 6" + 2 × (9" strip width − 1/2"), one a side',
        "source": "company default, editable (AAMA 2400, text not checked)",
    }


# AAMA 2400-10 note 3 (sill and head: width + 2 × strip); jambs height + 2 × (strip − 1/2), from memory.
# Pan: width + 6 in up each trimmer, JLC photo guide.
@pytest.mark.parametrize(
    ("width_in", "height_in", "strip_in", "sill", "jamb", "total", "pan"),
    [(36, 54, 9, 54, 71, 250, 48), (36, 54, 12, 60, 77, 274, 48), (60, 48, 12, 84, 71, 310, 72)],
    ids=["3046, 9 in", "3046, 12 in", "5040, 12 in"],
)
def test_strips_and_pan(warehouse, width_in, height_in, strip_in, sill, jamb, total, pan):
    opening = OpeningFactory(
        ro_width_in=width_in,
        ro_height_in=height_in,
        unit_width_in=width_in,
        unit_height_in=height_in,
        detail__strip_width_in=strip_in,
    )
    lines = by_part(warehouse.get(f"/api/v1/openings/{opening.pk}/draw/").json()["lines"])
    assert lines["sill strip"]["each"] == lines["head strip"]["each"] == sill
    assert (lines["jamb strip"]["count"], lines["jamb strip"]["each"]) == (2, jamb)
    assert sum(line["quantity"] for part, line in lines.items() if part.endswith("strip")) == total
    assert lines["pan membrane"]["quantity"] == pan


def test_the_draw_defers_to_the_product_approval(warehouse):
    (opening,) = make_openings(1)
    assert "approv" in warehouse.get(f"/api/v1/openings/{opening.pk}/draw/").json()["caution"]


def test_a_part_without_a_product_is_drawn_all_the_same(warehouse):
    (opening,) = make_openings(1)
    line = warehouse.get(f"/api/v1/openings/{opening.pk}/draw/").json()["lines"][0]
    assert (line["product"], line["packages"]) == (None, None)
    assert line["quantity"] > 0


def test_the_draw_of_a_job_is_the_sum_over_its_openings(warehouse):
    make_catalogue()
    job = JobFactory()
    box_frame = DetailFactory(job=job, mounting="box frame", jamb_flashing_over_flange=False)
    counted = [*make_openings(4, job=job), OpeningFactory(job=job, detail=box_frame)]
    make_openings(1, job=job, is_void=True)
    make_openings(2)  # of another job
    total = warehouse.get(f"/api/v1/jobs/{job.pk}/draw/").json()
    assert (total["job"], total["openings_count"]) == (job.pk, 5)
    sums: Counter[str] = Counter()
    for opening in counted:
        for line in warehouse.get(f"/api/v1/openings/{opening.pk}/draw/").json()["lines"]:
            sums[line["part"]] += line["quantity"]
    assert {line["part"]: line["quantity"] for line in total["lines"]} == pytest.approx(sums, abs=1e-4)


@pytest.mark.parametrize("openings", [1, 40])
def test_the_draw_of_a_job_takes_four_queries_however_many_openings(warehouse, django_assert_num_queries, openings):
    make_catalogue()
    job = make_openings(openings)[0].job
    with django_assert_num_queries(4):
        answer = warehouse.get(f"/api/v1/jobs/{job.pk}/draw/").json()
    assert by_part(answer["lines"])["sill strip"]["quantity"] == 54 * openings


@pytest.mark.parametrize("path", ["openings/999999/draw/", "jobs/999999/draw/", f"openings/{10**30}/draw/"])
def test_what_there_is_not_has_no_draw(warehouse, path):
    answer = warehouse.get(f"/api/v1/{path}")
    assert (answer.status_code, answer["Content-Type"]) == (404, "application/problem+json")
