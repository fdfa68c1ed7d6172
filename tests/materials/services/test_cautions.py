"""What a crew is warned of: on its sheet, on the pages, and as openings are assigned."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest

from jobs.models import CrewDay, Job, SiteForecast
from jobs.services import set_weather_limits
from materials.calc.basis import differences
from materials.calc.caution import Kind
from materials.models import Compatibility, DetailProduct, Evidence, Lot, Place, Product
from materials.plans.compose import compose
from materials.queries import cautions_on
from openings.models import Hold, Opening
from openings.services import assign, place_hold
from tests.factories import CrewFactory, JobFactory, PersonFactory, ProductFactory, make_catalogue, make_openings
from tests.materials.crew_days import make_crew_day, texts, workbook_of, written

pytestmark = pytest.mark.django_db


def cautions(day: CrewDay, kind: Kind) -> list[str]:
    """Return the cautions of a kind on a day, which the sheet has in the same words."""
    found = [caution.text for caution in cautions_on([day.pk])[day.pk] if caution.kind is kind]
    assert set(found) <= set(compose(day).book.cautions)
    return found


def opening_of(day: CrewDay) -> Opening:
    return compose(day).openings[0]


def forecast(day: CrewDay, **weather: object) -> SiteForecast:
    values = {"low_f": 50, "high_f": 70} | weather
    return opening_of(day).job.forecasts.create(on=day.on, **values)


def test_products_that_must_not_touch_are_named_once_with_their_openings():
    products = make_catalogue()
    Product.objects.filter(pk=products["flange bead"].pk).update(chemistry="Plasticized PVC")
    Product.objects.filter(pk=products["sill strip"].pk).update(chemistry="rubberized asphalt")
    # Asphalt and plasticized PVC: fortifiber.com, product compatibility.
    day = make_crew_day(openings=2)
    (said,) = [text for text in cautions(day, Kind.TOUCHING) if "flange-bead must not touch sill-strip" in text]
    assert all(opening.mark in said for opening in compose(day).openings)
    assert "Do not set these openings" in said


def test_what_is_not_known_to_be_compatible_is_a_caution_each_pair_once():
    make_catalogue()
    day = make_crew_day(openings=2)
    (said,) = cautions(day, Kind.TOUCHING)
    # Jamb strips lap over the sill strip, and nobody says what either is made of: AAMA 713 asks for a test.
    assert said.count("jamb-strip and sill-strip") == 1
    assert "not known to be compatible" in said
    assert "Test them together first or ask both makers" in said
    assert all(opening.mark in said for opening in compose(day).openings)


def test_what_is_known_to_be_compatible_is_no_caution():
    products = make_catalogue()
    Product.objects.update(chemistry="butyl")
    day = make_crew_day()
    assert cautions(day, Kind.TOUCHING) == []
    Product.objects.filter(pk=products["pan membrane"].pk).update(chemistry="epdm")
    assert "pan-membrane and sill-strip" in cautions(day, Kind.TOUCHING)[0]
    Evidence.objects.create(
        product=products["pan membrane"],
        neighbor=products["sill strip"],
        verdict="compatible",
        document="letter of the maker",
        recorded_by=PersonFactory(),
    )
    assert "pan-membrane and sill-strip" not in cautions(day, Kind.TOUCHING)[0]
    Compatibility.objects.create(chemistry="butyl", neighbor="epdm", verdict="compatible", source="test of the shop")
    assert cautions(day, Kind.TOUCHING) == []


def test_a_rod_too_thin_for_the_gap_is_a_caution_on_the_sheet():
    # A rod is thicker than its gap (ASTM C1193: it is compressed); 3/8 in rod serves gaps up to 1/4 in here.
    products = make_catalogue()
    Product.objects.filter(pk=products["backer rod"].pk).update(
        name="Backer rod 3/8 in", serves_from_in=Decimal("0.125"), serves_up_to_in=Decimal("0.25")
    )
    job = JobFactory(code="weir-cottage")
    day = make_crew_day(job=job, mark="W7", unit_width_in=Decimal(34), unit_height_in=Decimal(52))  # 1 in all around
    said = cautions(day, Kind.DRAW)
    assert len(said) == 1
    assert said[0].startswith('weir-cottage W7: Backer rod 3/8 in serves from 1/8" up to 1/4"')
    assert 'a gap of 1"' in said[0]
    assert "have the office choose a product for this size" in said[0]
    sheet = written(day)
    assert said[0] in sheet.cautions
    assert said[0] in texts(workbook_of(sheet), "Cover")
    staged = texts(workbook_of(sheet), "Staging")
    assert [text for text in staged if "will not do for every opening: read the cautions" in text] == [
        "backer rod\n1 roll; no plan needs fewer; will not do for every opening: read the cautions"
    ]


def test_a_part_without_a_product_is_a_caution():
    make_catalogue()
    DetailProduct.objects.filter(part="shim").delete()
    (said,) = cautions(make_crew_day(mark="W9"), Kind.DRAW)
    assert "W9: no product is chosen for shim" in said
    assert "have the office choose a product" in said


@pytest.mark.parametrize(("low_f", "warned"), [(39, True), (41, False)], ids=["a cold morning", "warm enough"])
def test_a_day_too_cold_for_a_product_is_a_caution(low_f, warned):
    # Practical floor 40 °F: sealantsales.com, onsite consultation.
    products = make_catalogue()
    Product.objects.filter(pk=products["flange bead"].pk).update(min_application_temp_f=Decimal(40))
    day = make_crew_day(openings=1)
    forecast(day, low_f=low_f, high_f=60)
    assert any("flange-bead is applied from 40 °F" in text for text in cautions(day, Kind.TEMPERATURE)) is warned


# Limits of 20 mph and of 0.1 in a day: common practice, no source.
@pytest.mark.parametrize(
    ("weather", "kind", "warned"),
    [
        ({"wind_mph": 20}, Kind.WIND, False),
        ({"wind_mph": Decimal("20.1")}, Kind.WIND, True),
        ({"rain_in": Decimal("0.1")}, Kind.RAIN, False),
        ({"rain_in": Decimal("0.11")}, Kind.RAIN, True),
    ],
)
def test_wind_and_rain_above_the_limits_are_cautions(weather, kind, warned):
    make_catalogue()
    day = make_crew_day(job=JobFactory(code="weir-cottage"))
    forecast(day, **weather)
    said = cautions(day, kind)
    assert bool(said) is warned
    for text in said:
        for fact in (f"weir-cottage, {day.on:%a, %b} {day.on.day}", "common practice, no source", "move the day"):
            assert fact in text


def test_the_shop_sets_its_own_limits_with_their_source():
    make_catalogue()
    day = make_crew_day()
    forecast(day, wind_mph=26)
    set_weather_limits(most_wind_mph=Decimal(30), wind_source="safety plan, p. 4")
    assert cautions(day, Kind.WIND) == []
    set_weather_limits(most_wind_mph=Decimal(25), wind_source="safety plan, p. 5")
    assert "26 mph is forecast, above the limit of 25 mph (safety plan, p. 5)" in cautions(day, Kind.WIND)[0]


def test_weather_of_another_job_or_day_is_no_caution():
    make_catalogue()
    day = make_crew_day()
    JobFactory().forecasts.create(on=day.on, low_f=50, high_f=60, wind_mph=60)
    opening_of(day).job.forecasts.create(on=day.on + timedelta(days=1), low_f=50, high_f=60, wind_mph=60)
    assert cautions(day, Kind.WIND) == []


def stocked(product: Product, *, place: Place, expires_on: object, packages: int = 3) -> Lot:
    supplier, _ = Place.objects.get_or_create(kind=Place.Kind.SUPPLIER, name="Supplier")
    lot = Lot.objects.create(
        product=product, code="L-77", received_on=expires_on - timedelta(days=90), expires_on=expires_on
    )
    product.movements.create(source=supplier, destination=place, packages=packages, lot=lot)
    return lot


@pytest.mark.parametrize(("days", "warned"), [(-1, True), (0, False)], ids=["the day before", "that day"])
def test_a_lot_that_expires_before_the_day_is_a_caution(days, warned):
    products = make_catalogue()
    day = make_crew_day(mark="W7")
    warehouse = Place.objects.create(kind=Place.Kind.WAREHOUSE, name="Warehouse")
    stocked(products["flange bead"], place=warehouse, expires_on=day.on + timedelta(days=days))
    said = cautions(day, Kind.LOT)
    assert bool(said) is warned
    for text in said:
        for fact in ("W7", "lot L-77 of flange-bead", "Warehouse", "Do not load or use it"):
            assert fact in text


def test_an_expired_lot_counts_where_the_crew_can_take_it():
    products = make_catalogue()
    day = make_crew_day()
    own = Place.objects.create(kind=Place.Kind.TRUCK, name="own truck", crew=day.crew)
    other = Place.objects.create(kind=Place.Kind.TRUCK, name="other truck", crew=CrewFactory())
    lot = stocked(products["flange bead"], place=other, expires_on=day.on - timedelta(days=9))
    assert cautions(day, Kind.LOT) == []
    lot.product.movements.create(source=other, destination=own, packages=1, lot=lot)
    assert "own truck" in cautions(day, Kind.LOT)[0]
    assert "other truck" not in cautions(day, Kind.LOT)[0]


def test_an_expired_lot_that_is_gone_or_of_another_product_is_no_caution():
    products = make_catalogue()
    day = make_crew_day()
    warehouse = Place.objects.create(kind=Place.Kind.WAREHOUSE, name="Warehouse")
    lot = stocked(products["flange bead"], place=warehouse, expires_on=day.on - timedelta(days=9))
    scrap = Place.objects.create(kind=Place.Kind.SCRAP, name="Scrap")
    lot.product.movements.create(source=warehouse, destination=scrap, packages=3, lot=lot)
    stocked(ProductFactory(), place=warehouse, expires_on=day.on - timedelta(days=9))
    assert cautions(day, Kind.LOT) == []


def test_a_lift_beyond_the_equation_is_a_caution_and_stands_in_the_row():
    # Hands at 87 in: DHHS/NIOSH 94-110 ends at 70 in.
    make_catalogue()
    day = make_crew_day(mark="W7", weight_lb=60, unit_height_in=54, sill_above_floor_in=60)
    (said,) = cautions(day, Kind.LIFT)
    assert "W7" in said
    assert "7' 3\" above the floor" in said
    assert "competent person decide, by name" in said
    (row,) = compose(day).book.openings
    assert (row.people, row.needs_aid, row.needs_decision) == (3, True, True)


def test_every_caution_names_an_opening_or_a_job_and_a_remedy():
    products = make_catalogue()
    job = JobFactory(code="weir-cottage", built_year=1950)
    day = make_crew_day(openings=2, job=job, sill_above_floor_in=60)
    DetailProduct.objects.filter(part="shim").delete()
    Product.objects.filter(pk=products["flange bead"].pk).update(min_application_temp_f=Decimal(40))
    forecast(day, low_f=30, wind_mph=45, rain_in=1)
    warehouse = Place.objects.create(kind=Place.Kind.WAREHOUSE, name="Warehouse")
    stocked(products["flange bead"], place=warehouse, expires_on=day.on - timedelta(days=9))
    held = compose(day).openings[1]
    place_hold(opening_id=held.pk, kind=Hold.Kind.ACCESS, reason="scaffold missing", by=PersonFactory())
    found = cautions_on([day.pk])[day.pk]
    assert {caution.kind for caution in found} == set(Kind) - {Kind.TIME_ZONES}  # of a day with several jobs
    for caution in found:
        assert "weir-cottage" in caution.wrong
        assert caution.remedy.endswith(".")


def test_a_forecast_that_moves_on_above_its_limit_needs_no_new_sheet():
    make_catalogue()
    day = make_crew_day()
    basis = compose(day).basis
    windy = forecast(day, wind_mph=25)
    warned = compose(day).basis
    assert differences(basis, warned) != ()
    SiteForecast.objects.filter(pk=windy.pk).update(wind_mph=28)
    assert differences(warned, compose(day).basis) == ()
    SiteForecast.objects.filter(pk=windy.pk).update(wind_mph=10)
    assert differences(basis, compose(day).basis) == ()


def test_what_is_not_known_to_be_compatible_revises_no_issued_sheet_until_it_is_found_to_be_bad():
    make_catalogue()
    Product.objects.update(chemistry="butyl")
    Product.objects.filter(code="pan-membrane").update(chemistry="epdm")
    day = make_crew_day()
    untested = compose(day)
    pair = {"chemistry": "butyl", "neighbor": "epdm", "source": "test of the shop"}
    row = Compatibility.objects.create(**pair, verdict="compatible")
    assert differences(untested.basis, compose(day).basis) == ()
    Compatibility.objects.filter(pk=row.pk).update(verdict="not compatible")
    assert differences(untested.basis, compose(day).basis) != ()


def test_loading_an_expired_lot_needs_no_new_sheet():
    products = make_catalogue()
    day = make_crew_day()
    warehouse = Place.objects.create(kind=Place.Kind.WAREHOUSE, name="Warehouse")
    truck = Place.objects.create(kind=Place.Kind.TRUCK, name="truck", crew=day.crew)
    lot = stocked(products["flange bead"], place=warehouse, expires_on=day.on - timedelta(days=9))
    basis = compose(day).basis
    lot.product.movements.create(source=warehouse, destination=truck, packages=1, lot=lot)
    assert differences(basis, compose(day).basis) == ()


def test_a_new_revision_says_which_caution_is_new_and_which_is_gone():
    products = make_catalogue()
    day = make_crew_day(mark="W7")
    DetailProduct.objects.filter(part="shim").delete()
    written(day)
    DetailProduct.objects.create(detail=None, part="shim", product=products["shim"])
    forecast(day, wind_mph=45)
    changes = written(day).changes
    assert any(change.startswith("no longer a caution: ") and "W7: no product" in change for change in changes)
    assert any(change.startswith("new caution: ") and "45 mph" in change for change in changes)


@pytest.mark.parametrize("openings", [1, 12])
def test_cautions_take_as_many_queries_however_many_days_and_openings(django_assert_num_queries, openings):
    make_catalogue()
    job: Job = JobFactory()
    days = [make_crew_day(openings=openings, job=job).pk for _ in range(openings)]
    with django_assert_num_queries(8):
        cautions_on(days)


@pytest.mark.parametrize(
    ("zone", "warned"),
    # IANA time zone database: Boise keeps Mountain Time as Denver does, Chicago is an hour ahead.
    [("America/Chicago", True), ("America/Boise", False)],
)
def test_a_day_in_two_time_zones_says_whose_time_the_sheet_has(zone, warned):
    make_catalogue()
    day = make_crew_day(job=JobFactory(time_zone="America/Denver"))
    (other,) = make_openings(1, job=JobFactory(code="zinc-yard", time_zone=zone))
    assign(opening_ids=[other.pk], crew_id=day.crew_id, on=day.on, by=None)
    here = opening_of(day).job.code
    said = [f"({here}: Mountain Time; zinc-yard: Central Time)"] if warned else []
    found = cautions(day, Kind.TIME_ZONES)
    assert [part for text in found for part in said if part in text] == said
    assert bool(found) is warned
