from __future__ import annotations

from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from openings.models import Opening
from tests.factories import OpeningFactory, ProductFactory, make_catalogue, make_openings

pytestmark = pytest.mark.django_db

PATH = "/api/v1/compute/draw/"
FLANGE = {
    "mounting": "flange", "barrier_before_window": True, "jamb_flashing_over_flange": True, "strip_width_in": 9,
    "has_pan": False, "has_head_membrane": False, "has_air_seal": False,
}  # fmt: skip
ASKED = {"opening": {"ro_width_in": 36, "ro_height_in": 54}, "detail": FLANGE}
ROLL = {"code": "tape", "measure": "in", "package": "roll", "package_quantity": 900, "width_in": 9}
BOX = {"code": "box", "measure": "each", "package": "box", "package_quantity": 100}
TUBE = {"code": "tube", "measure": "cu in", "package": "cartridge", "package_quantity": 18.23}
PRODUCTS = {
    "sill strip": ROLL, "jamb strip": ROLL, "head strip": ROLL, "flange bead": TUBE, "flange fastener": BOX,
    "shim": BOX,
}  # fmt: skip


def by_part(answer) -> dict[str, dict]:
    return {line["part"]: line for line in answer.json()["lines"]}


def test_a_draw_without_products_tells_quantities_and_saves_nothing(warehouse):
    lines = by_part(warehouse.post(PATH, ASKED, format="json"))
    # AAMA 2400-10 note 3: 36 + 2 × 9.
    assert lines["sill strip"]["each"] == 54
    assert lines["sill strip"]["product"] is None
    assert '3\' 0" + 2 × 9"' in lines["sill strip"]["reason"]
    assert "AAMA 2400-10 note 3" in lines["sill strip"]["source"]
    assert not Opening.objects.exists()


def test_a_draw_with_products_tells_packages(warehouse):
    lines = by_part(warehouse.post(PATH, ASKED | {"products": PRODUCTS}, format="json"))
    assert lines["sill strip"]["packages"] == 0.06  # 54 of 900 in
    assert lines["jamb strip"]["product"]["code"] == "tape"


def test_a_product_of_the_shelf_is_named_by_its_code(warehouse):
    ProductFactory(code="box-of-shims", package_quantity=20)
    products = PRODUCTS | {"shim": {"code": "box-of-shims"}}
    lines = by_part(warehouse.post(PATH, ASKED | {"products": products}, format="json"))
    assert lines["shim"]["product"]["package_quantity"] == 20
    products["shim"] = {"code": "none-such"}
    assert warehouse.post(PATH, ASKED | {"products": products}, format="json").status_code == 404


@pytest.mark.parametrize(
    ("products", "code", "field", "figure"),
    [
        ({name: one for name, one in PRODUCTS.items() if name != "shim"}, "missing-product", "products.shim", "shim"),
        (
            PRODUCTS | {"sill strip": ROLL | {"width_in": 6}},
            "strip-wider-than-roll",
            "products.sill strip",
            'only 6" wide',
        ),
        (
            PRODUCTS | {"head strip": ROLL | {"serves_up_to_in": 30}},
            "out-of-range",
            "products.head strip",
            "of 3' 0\"",
        ),
    ],
    ids=["a part without product", "a strip wider than its roll", "an opening outside the range"],
)
def test_products_that_do_not_do_are_named_with_their_figures(warehouse, products, code, field, figure):
    answer = warehouse.post(PATH, ASKED | {"products": products}, format="json")
    assert (answer.status_code, answer.json()["code"]) == (400, code)
    assert [fault["field"] for fault in answer.json()["errors"]] == [field]
    assert figure in answer.json()["detail"]


def test_a_part_that_does_not_exist_is_refused(warehouse):
    answer = warehouse.post(PATH, ASKED | {"products": {"gasket": BOX}}, format="json")
    assert answer.status_code == 400
    assert "gasket" in answer.json()["detail"]


def test_a_draw_in_metric(warehouse):
    asked = {"opening": {"ro_width_mm": 914.4, "ro_height_mm": 1371.6}, "detail": {**FLANGE}}
    asked["detail"]["strip_width_mm"] = 228.6
    del asked["detail"]["strip_width_in"]
    line = by_part(warehouse.post(f"{PATH}?units=metric", asked, format="json"))["sill strip"]
    assert (line["each"], line["unit"]) == (1371.6, "mm")  # 54 in of 25.4 mm
    assert "914.4 + 2 × 228.6" in line["reason"]


def test_anchors_by_load_govern_where_the_load_asks_for_more(warehouse):
    # 40 psf on a unit of 36 × 60: 2.16 clips, 3 on each long side (AWDI manual p. 89).
    asked = {
        "opening": {"unit_width_in": 36, "unit_height_in": 60, "design_pressure_psf": 40},
        "detail": FLANGE | {"has_straps": True, "strap_spacing_in": 60},
    }
    line = by_part(warehouse.post(PATH, asked, format="json"))["strap"]
    assert "3 on each jamb" in line["reason"]
    assert "load governs" in line["reason"]
    caution = warehouse.post(PATH, asked, format="json").json()["caution"]
    assert "product approval" in caution
    assert "licensed practice" in caution


def test_a_draw_is_anchored_by_the_fastener_that_is_given_with_it(warehouse):
    # 48 × 72 at 50 psf: 20 roofing nails of 0.120 in a jamb, 1 in deep in G 0.42, where No. 8 screws are 5 (NDS 12.2).
    asked = {"opening": {"unit_width_in": 48, "unit_height_in": 72, "design_pressure_psf": 50}, "detail": FLANGE}
    assert by_part(warehouse.post(PATH, asked, format="json"))["flange fastener"]["count"] == 18
    nail = {"fastener_kind": "nail", "fastener_diameter_in": 0.12, "fastener_penetration_in": 1}
    asked["products"] = PRODUCTS | {"flange fastener": BOX | nail}
    assert by_part(warehouse.post(PATH, asked, format="json"))["flange fastener"]["count"] == 48
    asked["products"]["flange fastener"] = BOX | nail | {"fastener_penetration_in": None}
    answer = warehouse.post(PATH, asked, format="json")
    assert answer.status_code == 400
    assert "fastener diameter is given and the fastener penetration is not" in answer.json()["detail"]


def test_a_stored_draw_says_what_touches_and_what_its_products_do_not_do(warehouse):
    make_catalogue(strip_width_in=9)
    (opening,) = make_openings(1)
    draw = warehouse.get(f"/api/v1/openings/{opening.pk}/draw/").json()
    assert draw["faults"] == []
    # What nobody tested is to be tested first: AAMA 713.
    assert {one["verdict"] for one in draw["touching"]} == {"test first"}
    assert {advice["rule"] for advice in draw["advice"]} >= {"back dam", "backer rod", "joint movement"}


def test_evidence_lifts_a_verdict(client_of):
    scheduler = client_of("scheduler")
    products = make_catalogue(strip_width_in=9)
    (opening,) = make_openings(1)
    body = {
        "product": products["flange bead"].pk, "neighbor": products["sill strip"].pk, "verdict": "compatible",
        "document": "maker's letter of 3 May, binder 2",
    }  # fmt: skip
    assert scheduler.post("/api/v1/compatibility-evidence/", body, format="json").status_code == 201
    touching = scheduler.get(f"/api/v1/openings/{opening.pk}/draw/").json()["touching"]
    (one,) = [pair for pair in touching if (pair["part"], pair["neighbor"]) == ("flange bead", "sill strip")]
    assert (one["verdict"], one["source"]) == ("compatible", "maker's letter of 3 May, binder 2")


def test_a_product_is_no_evidence_against_itself(client_of):
    product = ProductFactory()
    body = {"product": product.pk, "neighbor": product.pk, "verdict": "compatible", "document": "letter"}
    assert client_of("scheduler").post("/api/v1/compatibility-evidence/", body, format="json").status_code == 400


def test_advice_of_an_opening_names_edition_and_section(warehouse):
    opening = OpeningFactory(sill_above_floor_in=20, sill_above_grade_in=100)
    said = warehouse.get(f"/api/v1/openings/{opening.pk}/advice/").json()
    # IRC R312.2: bottom more than 72 in above grade and less than 24 in above the floor.
    (fall,) = [advice for advice in said["advice"] if "R312" in advice["source"]]
    assert fall["answer"] in ("take care", "not met")
    assert "Advice only" in said["caution"]


@pytest.mark.parametrize("units", ["us", "metric"])
def test_explain_prints_the_whole_reasoning(units):
    make_catalogue(strip_width_in=9)
    (opening,) = make_openings(1, sill_above_floor_in=30)
    out = StringIO()
    call_command("explain", f"{opening.job.code}/{opening.mark}", units=units, stdout=out)
    text = " ".join(out.getvalue().split())
    sections = (
        "INSTALL STEPS",
        "DRAW",
        "MATERIALS THAT TOUCH",
        "WEIGHT AND LIFT",
        "LABOR",
        "MEASURED",
        "CODE CHECKS AND ADVICE",
    )
    assert [section for section in sections if section in text] == list(sections)
    assert ('3\' 0" + 2 × 9" strip width' if units == "us" else "914.4 + 2 × 228.6 strip width") in text
    assert "product approval" in text


def test_explain_refuses_an_opening_that_does_not_exist():
    with pytest.raises(CommandError, match="there is no opening"):
        call_command("explain", "none/W1")
