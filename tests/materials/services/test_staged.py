"""The fastener that is staged is the one by which anchors are counted: in the draw, in labor, and on the sheet."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from jobs.errors import Conflict
from jobs.models import CrewDay
from materials import services
from materials.calc.parts import Part
from materials.models import DetailProduct, Product, PullSheet
from materials.queries import opening_draw
from materials.services.tell import tell_fasteners
from openings import services as openings
from openings.errors import OpeningBound
from openings.models import InstallationDetail, Opening
from openings.queries import opening_labor
from tests.factories import (
    CrewFactory,
    DetailFactory,
    JobFactory,
    OpeningFactory,
    ProductFactory,
    make_catalogue,
    make_stock,
    tomorrow,
)
from tests.materials.crew_days import make_crew_day, written
from tests.openings.rows import finish, start

pytestmark = pytest.mark.django_db

NAIL = {"fastener_kind": "nail", "fastener_diameter_in": Decimal("0.12"), "fastener_penetration_in": Decimal(1)}
RATED = {"design_pressure_psf": Decimal(50), "unit_width_in": 48, "unit_height_in": 72, "ro_width_in": 49,
         "ro_height_in": 73}  # fmt: skip
PART = Part.FLANGE_FASTENER

# 48 × 72 at 50 psf: 18 No. 8 screws, 48 roofing nails of 0.120 in, 1 in deep, in G 0.42 (NDS 12.2).
SCREWS, NAILS = 18, 48


def nail(**values: object) -> Product:
    return ProductFactory(name="Roofing nail", **NAIL | values)


def choose(product: Product, detail: InstallationDetail | None = None, part: Part = PART) -> DetailProduct:
    return services.choose_product(part=part.value, product=product, detail=detail)


def counted(opening: Opening) -> int:
    """Return how many fasteners an opening takes, the same in its draw and in its labor."""
    found = Opening.objects.select_related("detail", "job").get(pk=opening.pk)
    (line,) = [line for line, _ in opening_draw(found).lines if line.part is PART]
    (labor,) = [line for line in opening_labor(found)["lines"] if line.task == "fasten flange"]
    assert labor.quantity == line.count
    return line.count


def test_the_choice_of_a_detail_is_what_its_anchors_are_counted_by():
    opening, other = OpeningFactory(**RATED), OpeningFactory(**RATED)
    assert counted(opening) == SCREWS
    choose(nail(), opening.detail)
    assert (counted(opening), counted(other)) == (NAILS, SCREWS)
    opening.detail.refresh_from_db()
    assert opening.detail.told_flange_fastener_name == "Roofing nail"
    assert opening.detail.fastener_diameter_in == Decimal("0.164")  # what the detail assumes stays


def test_a_standard_serves_every_detail_without_a_choice_of_its_own_and_new_ones():
    opening, own = OpeningFactory(**RATED), OpeningFactory(**RATED)
    choose(ProductFactory(allowable_lb=Decimal(100)), own.detail)
    choose(nail())
    assert (counted(opening), counted(own)) == (NAILS, SCREWS + 2)  # 600 lb a jamb by 100 lb
    added = openings.add_detail(job=opening.job, name="added later", starting_point="flange over, wrap after")
    assert counted(OpeningFactory(job=opening.job, detail=added, **RATED)) == NAILS


def test_a_product_that_says_nothing_leaves_the_assumption():
    opening = OpeningFactory(**RATED)
    choice = choose(ProductFactory(), opening.detail)
    assert counted(opening) == SCREWS
    services.change_choice(choice_id=choice.pk, product=nail())
    assert counted(opening) == NAILS
    services.change_choice(choice_id=choice.pk, product=ProductFactory())
    assert counted(opening) == SCREWS


def test_a_choice_that_is_given_to_another_detail_is_told_to_both():
    opening, other = OpeningFactory(**RATED), OpeningFactory(**RATED)
    choice = choose(nail(), opening.detail)
    services.change_choice(choice_id=choice.pk, detail=other.detail)
    assert (counted(opening), counted(other)) == (SCREWS, NAILS)
    services.change_choice(choice_id=choice.pk, detail=None)
    assert (counted(opening), counted(other)) == (NAILS, NAILS)


@pytest.mark.parametrize("is_own", [True, False], ids=["its own", "the standard"])
def test_a_changed_product_is_told_to_all_that_it_serves(is_own):
    opening = OpeningFactory(**RATED)
    product = nail()
    choose(product, opening.detail if is_own else None)
    services.change_product(product_id=product.pk, fastener_kind="screw", fastener_diameter_in=Decimal("0.164"))
    assert counted(opening) == SCREWS
    services.change_product(product_id=product.pk, name="Screw")
    opening.detail.refresh_from_db()
    assert opening.detail.told_flange_fastener_name == "Screw"


def test_material_on_a_truck_refuses_another_fastener_but_not_another_name():
    catalogue = make_catalogue()
    crew_day = make_crew_day(**RATED)
    opening = Opening.objects.get()
    sheet = written(crew_day)
    line = sheet.lines.get(product=catalogue[PART])
    make_stock(line.product, 5)
    services.load_line(sheet_id=sheet.pk, line_id=line.pk, packages=1, by=None)
    for refused in (
        lambda: services.change_product(product_id=line.product_id, **NAIL),
        lambda: choose(nail(), opening.detail),
        lambda: choose(nail(code="a-nail")),
    ):
        with pytest.raises(OpeningBound, match=f"the anchors of {opening} are counted by .* is on the truck"):
            refused()
        assert counted(opening) == SCREWS
    assert services.change_product(product_id=line.product_id, name="Nails").name == "Nails"
    services.load_line(sheet_id=sheet.pk, line_id=line.pk, packages=0, by=None)
    services.change_product(product_id=line.product_id, **NAIL)
    assert counted(opening) == NAILS


def test_an_install_that_was_begun_or_done_does_not_hold_the_shop_back():
    openings_ = [OpeningFactory(**RATED) for _ in range(2)]
    for opening in openings_:
        openings.assign(
            opening_ids=[opening.pk], crew_id=CrewFactory().pk, on=tomorrow(), by=None, short_crew_reason=""
        )
    finish(start(openings_[0]))
    start(openings_[1])
    choose(nail())
    assert [counted(opening) for opening in openings_] == [NAILS, NAILS]


def test_a_fastener_too_weak_for_an_opening_is_refused_by_its_name():
    opening = OpeningFactory(**RATED)
    with pytest.raises(Conflict, match=f"{opening} .* more than 500 anchors a side .* as Roofing nail holds"):
        choose(nail(fastener_penetration_in=Decimal("0.01")), opening.detail)
    assert not DetailProduct.objects.exists()
    assert counted(opening) == SCREWS


def test_the_issued_sheet_follows():
    catalogue = make_catalogue()
    crew_day = make_crew_day(**RATED)
    written(crew_day)
    services.change_product(product_id=catalogue[PART].pk, **NAIL)
    (sent,) = services.request_due_pull_sheets(now=timezone.now() + timedelta(minutes=1))
    services.write_pull_sheet(sheet_id=sent)
    assert PullSheet.objects.get(pk=sent).changes == [f"flange-fastener: {NAILS} needed, was {SCREWS}"]
    assert CrewDay.objects.get() == crew_day


@pytest.mark.parametrize("many", [1, 12])
def test_many_details_are_told_in_as_many_queries_as_one(many, django_assert_num_queries):
    job = JobFactory()
    for _ in range(many):
        OpeningFactory(detail=DetailFactory(job=job), job=job, **RATED)
    DetailProduct.objects.create(part=PART.value, product=nail())
    with django_assert_num_queries(17):
        tell_fasteners()
    with django_assert_num_queries(9):
        tell_fasteners()
    assert InstallationDetail.objects.filter(told_flange_fastener_name="Roofing nail").count() == many
