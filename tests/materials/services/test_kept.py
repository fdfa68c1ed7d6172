"""What history rests on keeps its meaning: in services, and in the database whoever writes to it."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.db import IntegrityError, connection, transaction
from django.utils import timezone

from config.errors import describe
from jobs.errors import Conflict
from jobs.models import CrewDay
from materials import services
from materials.models import Evidence, Lot, Movement, Place, Settlement
from openings.models import (
    Assignment,
    Callback,
    FieldMeasurement,
    Hold,
    HourRecord,
    InstallRecord,
    StepRecord,
    WindowSchedule,
)
from tests.factories import (
    CrewFactory,
    DetailFactory,
    JobFactory,
    OpeningFactory,
    PersonFactory,
    ProductFactory,
    make_remnant,
    make_stock,
)
from tests.materials.at_once import at_once
from tests.materials.rolls import load, make_day, make_roll, make_sheet, make_strip, truck_of


def refused(statement: str, *values: object) -> dict:
    """Return how the database's refusal of a statement is answered."""
    with pytest.raises(IntegrityError) as error, transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(statement, values)
    return describe(error.value)


def change(row: object, column: str, value: object) -> dict:
    return refused(f'UPDATE {row._meta.db_table} SET "{column}" = %s WHERE id = %s', value, row.pk)


def make_history() -> dict[str, tuple[object, str, object]]:
    """Return by rule the row that it keeps, and the column that was to become something else."""
    now, by = timezone.now(), PersonFactory()
    opening = OpeningFactory()
    other = OpeningFactory(job=opening.job, detail=opening.detail)
    crew_day, another_day = make_day(), make_day(days=1)
    job = JobFactory()
    sides = dict.fromkeys(("width_top_in", "width_middle_in", "width_bottom_in"), 36)
    sides |= dict.fromkeys(("height_left_in", "height_middle_in", "height_right_in"), 54)
    sides |= dict.fromkeys(("diagonal_rising_in", "diagonal_falling_in"), 65)
    measured = FieldMeasurement.objects.create(opening=opening, measured_by=by, is_within_tolerance=True, **sides)
    hold = Hold.objects.create(opening=opening, kind="weather", reason="rain")
    assignment = Assignment.objects.create(opening=opening, crew_day=crew_day, person_h=3)
    record = InstallRecord.objects.create(opening=opening, crew=crew_day.crew, started_by=by, started_at=now)
    another = InstallRecord.objects.create(opening=other, crew=crew_day.crew, started_by=by, started_at=now)
    step = StepRecord.objects.create(record=record, step="sill-strip", recorded_by=by, recorded_at=now)
    hours = HourRecord.objects.create(record=record, person="Ivo", on=crew_day.on, person_h=2)
    callback = Callback.objects.create(opening=opening, reported_on=crew_day.on, complaint="it leaks")
    schedule = WindowSchedule.objects.create(job=job, revision=1, filename="a.csv", content=b"a", sha256="a" * 64)

    product, strip_2 = make_strip(), make_strip("strip-2")
    warehouse = make_stock(product, 3)
    lot = Lot.objects.create(product=product, code="L1", received_on=crew_day.on)
    movement = Movement.objects.get()
    sheet, next_sheet = make_sheet(crew_day), make_sheet(another_day)
    load(sheet, product, 1, lot=lot)
    line, truck = sheet.lines.get(), truck_of(crew_day.crew)
    went = make_remnant(product, 500)
    roll, new = make_roll(sheet, product, number=1, remnant=went), make_roll(sheet, product, number=2)
    cut = roll.cuts.create(place_in_roll=1, opening=opening, part="sill strip", length_in=36)
    settled = services.settle_roll(roll_id=new.pk, came_back_in=Decimal(300), by=by)
    services.settle_roll(roll_id=roll.pk, came_back_in=Decimal(500), by=by)
    settlement = Settlement.objects.get(roll=new)
    paper = Evidence.objects.create(
        product=product, neighbor=strip_2, verdict="compatible", document="letter 7", recorded_by=by
    )
    another_place = Place.objects.create(kind="warehouse", name="Barn")
    return {
        "crew_day_keeps_its_crew": (crew_day, "crew_id", another_day.crew_id),
        "crew_day_keeps_its_date": (crew_day, "on", "2020-03-02"),
        "opening_keeps_its_job": (opening, "job_id", job.pk),
        "detail_keeps_its_job": (opening.detail, "job_id", job.pk),
        "assignment_keeps_its_opening": (assignment, "opening_id", other.pk),
        "assignment_keeps_its_crew_day": (assignment, "crew_day_id", another_day.pk),
        "measurement_keeps_its_opening": (measured, "opening_id", other.pk),
        "hold_keeps_its_opening": (hold, "opening_id", other.pk),
        "hold_keeps_its_kind": (hold, "kind", "other"),
        "install_record_keeps_its_opening": (record, "opening_id", OpeningFactory().pk),
        "step_keeps_its_install_record": (step, "record_id", another.pk),
        "step_record_keeps_its_step": (step, "step", "head-strip"),
        "hours_keep_their_install_record": (hours, "record_id", another.pk),
        "callback_keeps_its_opening": (callback, "opening_id", other.pk),
        "schedule_keeps_its_job": (schedule, "job_id", opening.job_id),
        "schedule_keeps_its_revision": (schedule, "revision", 2),
        "schedule_keeps_its_file": (schedule, "sha256", "b" * 64),
        "place_keeps_its_kind": (warehouse, "kind", "supplier"),
        "place_keeps_its_crew": (truck, "crew_id", another_day.crew_id),
        "place_keeps_its_opening": (warehouse, "opening_id", opening.pk),
        "lot_keeps_its_product": (lot, "product_id", strip_2.pk),
        "product_keeps_its_measure": (product, "measure", "each"),
        "movement_keeps_its_product": (movement, "product_id", strip_2.pk),
        "movement_keeps_its_lot": (movement, "lot_id", lot.pk),
        "movement_keeps_its_source": (movement, "source_id", another_place.pk),
        "movement_keeps_its_destination": (movement, "destination_id", another_place.pk),
        "movement_keeps_its_packages": (movement, "packages", 4),
        "movement_keeps_who_moved_it": (movement, "moved_by_id", by.pk),
        "pull_sheet_keeps_its_crew_day": (sheet, "crew_day_id", make_day().pk),
        "pull_sheet_keeps_its_revision": (sheet, "revision", 2),
        "line_keeps_its_pull_sheet": (line, "sheet_id", next_sheet.pk),
        "line_keeps_its_product": (line, "product_id", strip_2.pk),
        "roll_keeps_its_pull_sheet": (roll, "sheet_id", next_sheet.pk),
        "roll_keeps_its_product": (roll, "product_id", strip_2.pk),
        "roll_keeps_its_remnant": (roll, "remnant_id", make_remnant(product, 500).pk),
        "roll_keeps_its_length": (roll, "length_in", 600),
        "cut_keeps_its_roll": (cut, "roll_id", new.pk),
        "cut_keeps_its_opening": (cut, "opening_id", other.pk),
        "cut_keeps_its_length": (cut, "length_in", 35),
        "settlement_keeps_its_roll": (settlement, "roll_id", roll.pk),
        "settlement_keeps_its_length": (settlement, "came_back_in", 299),
        "settlement_keeps_who_entered_it": (settlement, "entered_by_id", PersonFactory().pk),
        "remnant_keeps_its_product": (went, "product_id", strip_2.pk),
        "remnant_keeps_its_roll": (settled.remnant, "left_of_id", roll.pk),
        "remnant_that_went_keeps_its_length": (went, "length_in", 499),
        "evidence_keeps_its_product": (paper, "product_id", ProductFactory().pk),
        "evidence_keeps_its_neighbor": (paper, "neighbor_id", ProductFactory().pk),
        "evidence_keeps_its_verdict": (paper, "verdict", "not compatible"),
        "evidence_keeps_its_document": (paper, "document", "letter 8"),
    }


@pytest.mark.django_db
def test_the_database_keeps_what_history_rests_on_and_says_which_rule_and_field():
    kept = make_history()
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT tgname FROM pg_trigger JOIN pg_proc ON pg_proc.oid = tgfoid"
            " WHERE proname = 'history_keeps_its_meaning' AND tgname <> 'movement_is_never_deleted'"
        )
        assert set(kept) == {name for (name,) in cursor.fetchall()}
    for rule, (row, column, value) in kept.items():
        row.refresh_from_db()
        answer = change(row, column, value)
        assert (answer["status"], answer["code"]) == (409, rule.replace("_", "-")), rule
        assert answer["errors"][0]["field"] == column.removesuffix("_id")
        with transaction.atomic():  # what stays the same may be written again
            row.save()


@pytest.mark.django_db
def test_a_movement_is_never_deleted():
    make_stock(ProductFactory(), 3)
    assert refused("DELETE FROM materials_movement")["code"] == "movement-is-never-deleted"


@pytest.mark.django_db
@pytest.mark.parametrize("kind", ["warehouse", "truck"])
def test_the_database_leaves_no_stock_below_nothing(kind):
    product, truck = ProductFactory(code="tape"), truck_of(CrewFactory())
    warehouse = make_stock(product, 2)
    services.move(product=product, source=warehouse, destination=truck, packages=Decimal(1), by=None)
    source, end = (warehouse, truck) if kind == "warehouse" else (truck, warehouse)
    leave = (
        "INSERT INTO materials_movement (product_id, source_id, destination_id, packages, reason, moved_at)"
        " VALUES (%s, %s, %s, %s, '', now())"
    )
    answer = refused(leave, product.pk, source.pk, end.pk, "1.5")
    assert (answer["status"], answer["code"]) == (409, "stock-is-never-below-nothing")
    assert answer["detail"] == f"{source} does not hold 1.5; it would be left with -0.5"
    with connection.cursor() as cursor:
        cursor.execute(leave, [product.pk, source.pk, end.pk, 1])


@pytest.mark.django_db
def test_each_lot_by_itself_is_never_below_nothing_and_is_one_of_its_product():
    product = ProductFactory()
    warehouse, truck = make_stock(product, 2), truck_of(CrewFactory())
    lot = Lot.objects.create(product=product, code="L1", received_on="2026-01-05")
    wrong = Lot.objects.create(product=ProductFactory(), code="L1", received_on="2026-01-05")
    for one, rule in ((lot, "stock_is_never_below_nothing"), (wrong, "movement_is_of_the_product_of_its_lot")):
        with pytest.raises(IntegrityError) as error, transaction.atomic():
            Movement.objects.create(product=product, lot=one, source=warehouse, destination=truck, packages=1)
        assert error.value.__cause__.diag.constraint_name == rule


@pytest.mark.django_db
def test_a_place_lot_or_product_without_history_becomes_what_it_should_have_been():
    place = Place.objects.create(kind=Place.Kind.SCRAP, name="Yard")
    assert services.change_place(place_id=place.pk, kind="warehouse").kind == "warehouse"
    product, rod = ProductFactory(), ProductFactory()
    lot = Lot.objects.create(product=product, code="L1", received_on="2026-01-05")
    assert services.change_lot(lot_id=lot.pk, product=rod).product == rod
    assert services.change_product(product_id=product.pk, measure="in").measure == "in"


@pytest.mark.django_db
def test_a_product_keeps_what_its_package_holds_while_stock_of_it_is_counted_in_packages():
    product = make_strip()
    assert services.change_product(product_id=product.pk, package_quantity=Decimal(600)).package_quantity == 600
    make_stock(product, 3)
    with pytest.raises(Conflict, match=r"package quantity of .* cannot change: it already has movements"):
        services.change_product(product_id=product.pk, package_quantity=Decimal(900))
    assert services.change_product(product_id=product.pk, package_quantity=Decimal(600), name="Strip").name == "Strip"


@pytest.mark.django_db
def test_the_name_of_a_place_may_change_at_any_time():
    place = make_stock(ProductFactory(), 3)
    assert services.change_place(place_id=place.pk, name="Barn", kind="warehouse").name == "Barn"


@pytest.mark.django_db
@pytest.mark.parametrize("rests", ["arrival", "departure", "remnant"])
def test_what_lies_or_was_moved_keeps_the_kind_of_its_place(rests):
    place = Place.objects.create(kind=Place.Kind.WAREHOUSE, name="Barn")
    product = make_strip()
    match rests:
        case "arrival":
            other = Place.objects.create(kind="supplier", name="Maker")
            Movement.objects.create(product=product, source=other, destination=place, packages=1)
        case "departure":
            place.kind = "supplier"
            place.save()
            make_stock(product, 1)
            Movement.objects.create(
                product=product, source=place, destination=Place.objects.get(name="Warehouse"), packages=1
            )
        case "remnant":
            make_remnant(product, 100, place=place)
    with pytest.raises(
        Conflict, match=r"kind of Barn cannot change: it already has .*; add another place instead"
    ) as no:
        services.change_place(place_id=place.pk, kind="scrap")
    assert (no.value.faults[0].field, no.value.faults[0].value) == ("kind", "scrap")


@pytest.mark.django_db(transaction=True)
def test_a_place_that_stock_is_moved_to_at_the_same_moment_is_counted_or_was_no_warehouse():
    product = ProductFactory()
    place, end = (Place.objects.create(kind="scrap", name=name) for name in ("Yard", "Barn"))

    def become_a_warehouse() -> None:
        services.change_place(place_id=place.pk, kind="warehouse")

    def move_out() -> None:
        try:
            services.move(product=product, source=place, destination=end, packages=Decimal(5), by=None)
        except IntegrityError as error:
            raise Conflict(str(error)) from error

    outcomes = at_once(become_a_warehouse, move_out)
    assert any(isinstance(outcome, Conflict) for outcome in outcomes)
    place.refresh_from_db()
    assert (place.kind == "warehouse") != Movement.objects.filter(source=place).exists()


@pytest.mark.django_db
def test_a_crew_day_that_is_planned_keeps_its_other_columns_free():
    crew_day = make_day()
    make_sheet(crew_day)
    CrewDay.objects.filter(pk=crew_day.pk).update(capacity_person_h=0, off_reason="snow")
    assert CrewDay.objects.get().off_reason == "snow"


@pytest.mark.django_db
def test_a_detail_and_its_openings_are_of_one_job_for_good():
    detail = DetailFactory()
    opening = OpeningFactory(job=detail.job, detail=detail)
    assert change(opening, "job_id", JobFactory().pk)["detail"].endswith("void it and add it to the other job")
