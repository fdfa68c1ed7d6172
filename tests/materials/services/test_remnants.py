"""Remnants reserved, settled and scrapped. What becomes of a remnant: common practice, no source."""

from __future__ import annotations

from contextlib import suppress
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from jobs.errors import CallerError, Conflict, NotFound
from materials import queries, services
from materials.calc.parts import Part
from materials.errors import CameBackWhole, MoreThanWent, NotLoaded
from materials.models import Lot, Movement, Place, PlannedRoll, Product, Remnant, Settlement
from tests.factories import CrewFactory, PersonFactory, ProductFactory, make_catalogue, make_remnant, make_stock
from tests.materials.at_once import at_once
from tests.materials.crew_days import make_crew_day, written
from tests.materials.rolls import load, make_day, make_loaded_roll, make_roll, make_sheet, make_strip, truck_of


def reserve(crew_day, *remnants: Remnant) -> None:
    services.reserve_remnants(crew_day_id=crew_day.pk, remnant_ids=[remnant.pk for remnant in remnants])


def settle(roll: PlannedRoll, came_back_in: int | str, **values) -> services.Settled:
    return services.settle_roll(roll_id=roll.pk, came_back_in=Decimal(came_back_in), by=None, **values)


def held(product: Product, place: Place) -> Decimal:
    return sum(queries.stock_of(product.pk, place.pk).values(), Decimal(0))


# Entering


@pytest.mark.django_db
def test_a_remnant_that_was_found_lies_there_for_anybody():
    product, by = make_strip(), PersonFactory()
    warehouse = make_stock(product, 1)
    remnant = services.enter_remnant(product=product, length_in=Decimal("310.5"), place=warehouse, by=by)
    assert (remnant.fate, remnant.reserved_for, remnant.entered_by) == ("", None, by)
    assert list(queries.free_remnants_on(make_day().on)) == [remnant]


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("length_in", "change", "field"),
    [
        (0, {}, "length_in"),
        (-1, {}, "length_in"),
        (901, {}, "length_in"),
        (9, {"product": "box"}, "product"),
        (9, {"place": "supplier"}, "place"),
        (9, {"lot": "another's"}, "lot"),
    ],
    ids=["nothing", "negative", "longer than a roll", "no lengths", "no stock there", "another's lot"],
)
def test_a_remnant_that_cannot_be_is_refused(length_in, change, field):
    product, box = make_strip(), ProductFactory(code="box")
    asked = {"product": product, "place": make_stock(product, 1), "lot": None}
    known = {
        "box": box,
        "supplier": Place.objects.get(kind=Place.Kind.SUPPLIER),
        "another's": Lot.objects.create(product=box, code="L1", received_on="2026-01-05"),
    }
    asked |= {name: known[value] for name, value in change.items()}
    with pytest.raises(ValidationError) as refused:
        services.enter_remnant(length_in=Decimal(length_in), by=None, **asked)
    assert field in refused.value.error_dict
    assert not Remnant.objects.exists()


# Reserving


@pytest.mark.django_db
def test_exactly_these_are_reserved_and_the_others_released():
    product, crew_day = make_strip(), make_day()
    first, second, third = (make_remnant(product, length) for length in (100, 200, 300))
    reserve(crew_day, first, second)
    reserve(crew_day, second, third)
    reserve(crew_day, third, second)
    assert set(Remnant.objects.filter(reserved_for=crew_day)) == {second, third}
    reserve(crew_day)
    assert not Remnant.objects.filter(reserved_for__isnull=False).exists()


@pytest.mark.django_db
def test_what_lies_on_the_crew_s_own_truck_is_reserved_too():
    crew_day = make_day()
    remnant = make_remnant(make_strip(), 100, place=truck_of(crew_day.crew))
    reserve(crew_day, remnant)
    remnant.refresh_from_db()
    assert remnant.reserved_for == crew_day


@pytest.mark.django_db
@pytest.mark.parametrize("how", ["cut up", "scrapped", "reserved", "truck"])
def test_what_another_has_or_nobody_has_is_not_reserved(how):
    product, crew_day, other = make_strip(), make_day(crew=CrewFactory(name="Rowan")), make_day()
    free, remnant = make_remnant(product, 200), make_remnant(product, 100)
    match how:
        case "reserved":
            reserve(other, remnant)
            said = f"reserved for {other}"
        case "truck":
            remnant.place = truck_of(other.crew)
            said = f"is at Truck of {other.crew}"
        case _:
            remnant.fate, remnant.gone_at, said = how, "2026-03-02T12:00Z", f"is {how}"
    if how != "reserved":
        remnant.save()
    with pytest.raises(Conflict, match=f"{remnant.code} cannot be reserved for {crew_day}: it .*{said}"):
        reserve(crew_day, free, remnant)
    assert not Remnant.objects.filter(reserved_for=crew_day).exists()


@pytest.mark.django_db
def test_there_must_be_such_a_crew_day_and_remnant():
    with pytest.raises(NotFound, match="no remnant R00007"):
        services.reserve_remnants(crew_day_id=make_day().pk, remnant_ids=[7])
    with pytest.raises(NotFound, match="no crew day 999999"):
        services.reserve_remnants(crew_day_id=999_999, remnant_ids=[])


@pytest.mark.django_db(transaction=True)
def test_two_crews_at_once_never_count_on_the_same_remnant():
    product, one, two = make_strip(), make_day(), make_day()
    remnants = [make_remnant(product, length) for length in (100, 200, 300)]
    outcomes = at_once(
        lambda: reserve(one, *remnants),
        lambda: reserve(two, *reversed(remnants)),
        lambda: reserve(one, *remnants),
    )
    holders = set(Remnant.objects.values_list("reserved_for", flat=True))
    assert len(holders) == 1
    assert holders <= {one.pk, two.pk}
    assert any(isinstance(outcome, Conflict) for outcome in outcomes)


@pytest.mark.django_db(transaction=True)
def test_one_crew_day_planned_twice_at_once_has_one_of_the_plans():
    product, crew_day = make_strip(), make_day()
    one, two = make_remnant(product, 100), make_remnant(product, 200)
    at_once(lambda: reserve(crew_day, one), lambda: reserve(crew_day, two))
    assert Remnant.objects.filter(reserved_for=crew_day).count() == 1


# Scrapping


@pytest.mark.django_db
def test_a_scrapped_remnant_is_gone_and_nobody_counts_on_it():
    remnant, crew_day, by = make_remnant(make_strip(), 100), make_day(), PersonFactory()
    reserve(crew_day, remnant)
    first = services.scrap_remnant(remnant_id=remnant.pk, by=by)
    again = services.scrap_remnant(remnant_id=remnant.pk, by=PersonFactory())
    assert (first.fate, first.reserved_for, first.gone_by) == ("scrapped", None, by)
    assert (again.gone_at, again.gone_by) == (first.gone_at, by)
    assert not queries.free_remnants_on(crew_day.on)


@pytest.mark.django_db
def test_one_that_is_longer_than_the_rolls_of_today_can_be_scrapped():
    remnant = make_remnant(make_strip(), 800)
    Product.objects.update(package_quantity=600)
    assert services.scrap_remnant(remnant_id=remnant.pk, by=None).fate == "scrapped"


@pytest.mark.django_db
def test_what_is_cut_up_is_not_scrapped():
    remnant = make_remnant(make_strip(), 100, fate="cut up", gone_at="2026-03-02T12:00Z")
    with pytest.raises(Conflict, match=f"{remnant.code} is already cut up"):
        services.scrap_remnant(remnant_id=remnant.pk, by=None)
    with pytest.raises(NotFound, match="no remnant"):
        services.scrap_remnant(remnant_id=remnant.pk + 1, by=None)


# Settling


@pytest.mark.django_db
def test_what_came_back_of_a_new_roll_is_a_remnant_in_the_warehouse():
    product, sheet, by = make_strip(), make_sheet(), PersonFactory()
    warehouse = make_stock(product, 1)
    roll = make_loaded_roll(sheet, product, left_in=300)
    settled = services.settle_roll(roll_id=roll.pk, came_back_in=Decimal("287.5"), by=by)
    remnant = Remnant.objects.get()
    assert settled.remnant == remnant
    assert remnant.left_of == roll
    assert (remnant.product, remnant.length_in, remnant.place) == (product, Decimal("287.5"), warehouse)
    assert (remnant.reserved_for, remnant.entered_by) == (None, by)
    roll.refresh_from_db()
    assert roll.came_back_in == Decimal("287.5")
    assert not queries.rolls_to_settle()


@pytest.mark.django_db
def test_the_remnant_that_was_cut_from_is_cut_up_and_keeps_its_lot_in_what_is_left():
    product, sheet = make_strip(), make_sheet()
    lot = Lot.objects.create(product=product, code="L1", received_on="2026-01-05")
    old = make_remnant(product, 500, lot=lot)
    by = PersonFactory()
    roll = make_roll(sheet, product, remnant=old, left_in=200)
    settled = services.settle_roll(roll_id=roll.pk, came_back_in=Decimal(200), by=by)
    old.refresh_from_db()
    assert (old.fate, old.reserved_for, old.gone_by) == ("cut up", None, by)
    assert old.gone_at is not None
    assert (settled.remnant.length_in, settled.remnant.lot, settled.remnant.fate) == (200, lot, "")


@pytest.mark.django_db
def test_a_remnant_that_came_back_whole_was_not_cut():
    product, sheet = make_strip(), make_sheet()
    truck = truck_of(sheet.crew_day.crew)
    old = make_remnant(product, 500)
    roll = make_roll(sheet, product, remnant=old, left_in=200)
    settled = settle(roll, 500, place=truck)
    old.refresh_from_db()
    assert settled.remnant == old == settle(roll, 500).remnant
    assert (old.fate, old.reserved_for, old.place) == ("", None, truck)
    assert Remnant.objects.count() == 1


@pytest.mark.django_db
@pytest.mark.parametrize("is_old", [False, True], ids=["new roll", "remnant"])
def test_nothing_worth_keeping_leaves_no_remnant(is_old):
    product, sheet = make_strip(), make_sheet()
    old = make_remnant(product, 500) if is_old else None
    roll = make_roll(sheet, product, remnant=old, left_in=10)
    load(sheet, product, 1)
    assert settle(roll, 0).remnant is settle(roll, 0).remnant is None
    assert not Remnant.objects.filter(fate="").exists()


@pytest.mark.django_db
def test_the_same_twice_is_entered_once():
    product, sheet = make_strip(), make_sheet()
    make_stock(product, 1)
    roll = make_loaded_roll(sheet, product)
    first = settle(roll, 300)
    assert settle(roll, "300.00000") == first
    assert (Remnant.objects.count(), Settlement.objects.count()) == (1, 1)
    make_sheet(sheet.crew_day, revision=2)
    assert settle(roll, 300) == first  # also after a newer revision
    with pytest.raises(Conflict, match="revision 1 is superseded"):
        settle(roll, 299)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("came_back_in", "error", "said"),
    [
        ("901", MoreThanWent, "had 75' 0\"; 75' 1\" cannot come back of it"),
        ("-1", MoreThanWent, '-1" cannot come back'),
        ("900", CameBackWhole, "is still a full roll, not a remnant; enter one roll fewer as loaded"),
    ],
    ids=["more than went", "less than nothing", "whole"],
)
def test_what_cannot_come_back_of_a_new_roll(came_back_in, error, said):
    product = make_strip()
    make_stock(product, 1)
    roll = make_loaded_roll(make_sheet(), product)
    with pytest.raises(error, match=said) as refused:
        settle(roll, came_back_in)
    assert refused.value.faults[0].field == "came_back_in"
    roll.refresh_from_db()
    assert roll.came_back_in is None
    assert not Remnant.objects.exists()


@pytest.mark.django_db
def test_a_superseded_sheet_is_not_settled_and_the_newest_is_named():
    product, sheet = make_strip(), make_sheet()
    roll = make_loaded_roll(sheet, product)
    newest = make_sheet(sheet.crew_day, revision=2)
    with pytest.raises(Conflict, match=f"revision 1 is superseded; enter the returns of {newest}"):
        settle(roll, 300)


@pytest.mark.django_db
def test_a_truck_that_has_not_left_brings_nothing_back():
    product, sheet = make_strip(), make_sheet(make_day(days=1))
    with pytest.raises(Conflict, match="once the truck is back"):
        settle(make_roll(sheet, product), 300)
    assert not queries.rolls_to_settle()


@pytest.mark.django_db
def test_of_a_remnant_that_was_scrapped_nothing_comes_back():
    product, sheet = make_strip(), make_sheet()
    old = make_remnant(product, 500)
    roll = make_roll(sheet, product, remnant=old)
    services.scrap_remnant(remnant_id=old.pk, by=None)
    with pytest.raises(Conflict, match=f"{old} is scrapped already; enter what is there"):
        settle(roll, 200)
    assert settle(roll, 0).remnant is None
    old.refresh_from_db()
    assert old.fate == "scrapped"


@pytest.mark.django_db
def test_without_a_warehouse_the_place_must_be_said():
    product, sheet = make_strip(), make_sheet()
    roll = make_loaded_roll(sheet, product)
    with pytest.raises(Conflict, match="no warehouse to bring it back to"):
        settle(roll, 300)
    truck = truck_of(sheet.crew_day.crew)
    assert settle(roll, 300, place=truck).remnant.place == truck


@pytest.mark.django_db
def test_where_no_stock_is_kept_nothing_is_brought():
    product = make_strip()
    make_stock(product, 1)
    roll = make_loaded_roll(make_sheet(), product)
    with pytest.raises(ValidationError, match="neither a warehouse nor a truck"):
        settle(roll, 300, place=Place.objects.get(kind=Place.Kind.SUPPLIER))
    roll.refresh_from_db()
    assert roll.came_back_in is None


@pytest.mark.django_db
def test_rolls_of_a_sheet_are_settled_all_or_none():
    product, sheet = make_strip(), make_sheet()
    make_stock(product, 1)
    one, two = (make_loaded_roll(sheet, product, number=number) for number in (1, 2))
    lengths = {one.pk: Decimal(300), two.pk: Decimal(901)}
    with pytest.raises(MoreThanWent):
        services.settle_rolls(sheet_id=sheet.pk, came_back_in=lengths, by=None)
    assert not Remnant.objects.exists()
    lengths[two.pk] = Decimal(0)
    settled = services.settle_rolls(sheet_id=sheet.pk, came_back_in=lengths, by=None)
    assert [one.remnant and one.remnant.length_in for one in settled] == [300, None]
    assert services.settle_rolls(sheet_id=sheet.pk, came_back_in=lengths, by=None) == settled
    assert services.settle_rolls(sheet_id=sheet.pk, came_back_in={}, by=None) == []


@pytest.mark.django_db
def test_a_roll_of_another_sheet_is_not_found():
    roll = make_roll(make_sheet(), make_strip())
    with pytest.raises(NotFound, match=f"no roll {roll.pk}"):
        services.settle_rolls(sheet_id=make_sheet().pk, came_back_in={roll.pk: Decimal(1)}, by=None)
    with pytest.raises(NotFound, match="no pull sheet 999999"):
        services.settle_rolls(sheet_id=999_999, came_back_in={}, by=None)
    with pytest.raises(NotFound, match="no roll 999999"):
        services.settle_roll(roll_id=999_999, came_back_in=Decimal(1), by=None)


@pytest.mark.django_db(transaction=True)
def test_two_who_settle_the_same_roll_at_once_enter_one_remnant():
    product, sheet = make_strip(), make_sheet()
    make_stock(product, 1)
    roll = make_loaded_roll(sheet, product)
    outcomes = at_once(*[lambda: settle(roll, 300)] * 4)
    assert {outcome.remnant for outcome in outcomes} == {Remnant.objects.get()}


@pytest.mark.django_db(transaction=True)
def test_settling_and_reserving_at_once_do_not_block_each_other():
    product, sheet = make_strip(), make_sheet()
    first, second = make_remnant(product, 500), make_remnant(product, 400)
    rolls = [  # the planner takes remnants in an order of its own
        make_roll(sheet, product, remnant=second, number=1),
        make_roll(sheet, product, remnant=first, number=2),
    ]
    lengths = {roll.pk: Decimal(100) for roll in rolls}
    other = make_day()
    outcomes = at_once(
        lambda: services.settle_rolls(sheet_id=sheet.pk, came_back_in=lengths, by=None),
        lambda: reserve(other, first, second),
        lambda: services.scrap_remnant(remnant_id=make_remnant(product, 50).pk, by=None),
    )
    assert isinstance(outcomes[1], Conflict)
    assert Remnant.objects.filter(fate="cut up").count() == 2


# Packages on the truck


@pytest.mark.django_db
def test_an_opened_roll_is_no_package_of_the_truck_any_more():
    catalogue = make_catalogue()
    product = catalogue[Part.SILL_STRIP]
    lot = Lot.objects.create(product=product, code="L1", received_on="2026-01-05")
    warehouse = make_stock(product, 3, lot=lot)
    sheet = written(make_crew_day(openings=3, on=make_day().on))
    line = sheet.lines.get(product=product)
    services.load_line(sheet_id=sheet.pk, line_id=line.pk, packages=2, by=None)
    truck = Place.objects.get(kind=Place.Kind.TRUCK)
    roll = sheet.rolls.get(product=product)
    settled = settle(roll, roll.left_in)
    assert (held(product, truck), held(product, warehouse)) == (1, 1)
    assert settled.remnant.lot.code == "L1"
    assert Movement.objects.filter(reason=str(roll)).count() == 1
    settle(roll, roll.left_in)
    assert held(product, truck) == 1
    # The other roll was not opened: it comes back as a package.
    services.load_line(sheet_id=sheet.pk, line_id=line.pk, packages=1, by=None)
    assert (held(product, truck), held(product, warehouse)) == (0, 2)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("packages", "number", "said"),
    [
        (None, 1, "roll 1 of .* was not loaded: no roll of strip is entered as loaded"),
        (0, 1, "no roll of strip is entered as loaded"),
        (1, 2, "roll 2 of .* was not loaded: of strip, 1 roll is entered as loaded"),
        (2, 3, "of strip, 2 rolls are entered as loaded"),
    ],
)
@pytest.mark.parametrize("came_back_in", ["300", "0"])
def test_nothing_comes_back_of_a_roll_that_was_not_loaded(packages, number, said, came_back_in):
    product, sheet = make_strip(), make_sheet()
    warehouse = make_stock(product, 3)
    load(sheet, product, packages)
    with pytest.raises(NotLoaded, match=said) as refused:
        settle(make_roll(sheet, product, number=number), came_back_in)
    assert refused.value.faults[0].field == "came_back_in"
    assert held(product, warehouse) == 3
    assert not Remnant.objects.exists()
    assert not Settlement.objects.exists()


@pytest.mark.django_db
def test_remnants_are_numbered_before_the_new_rolls_of_which_one_is_loaded():
    product, sheet = make_strip(), make_sheet()
    make_stock(product, 1)
    make_roll(sheet, product, number=1, remnant=make_remnant(product, 500))
    second, third = (make_roll(sheet, product, number=number) for number in (2, 3))
    load(sheet, product, 1)
    with pytest.raises(NotLoaded, match="roll 3"):
        settle(third, 300)
    assert settle(second, 300).remnant.length_in == 300


@pytest.mark.django_db
def test_a_package_that_the_truck_does_not_hold_any_more_leaves_no_remnant():
    product, sheet = make_strip(), make_sheet()
    warehouse = make_stock(product, 1)
    roll, truck = make_loaded_roll(sheet, product), truck_of(sheet.crew_day.crew)
    services.move(product=product, source=truck, destination=warehouse, packages=Decimal(1), by=None)
    with pytest.raises(Conflict, match=f"{truck} holds 0 × strip; 1 cannot leave it"):
        settle(roll, 300)
    assert not Remnant.objects.exists()


@pytest.mark.django_db
def test_no_fewer_were_loaded_than_were_opened():
    product, sheet = make_strip(), make_sheet()
    make_stock(product, 1)
    roll = make_loaded_roll(sheet, product)
    settle(roll, 300)
    make_stock(product, 1)
    load_line = {"sheet_id": sheet.pk, "line_id": sheet.lines.get().pk, "by": None}
    with pytest.raises(Conflict, match="1 × strip was opened on this truck and settled; 0 cannot be all that was"):
        services.load_line(**load_line, packages=0)
    assert services.load_line(**load_line, packages=2).loaded_packages == 2


@pytest.mark.django_db
@pytest.mark.parametrize("is_elsewhere", [True, False], ids=["another's", "nobody's"])
def test_a_remnant_that_did_not_go_with_the_crew_is_not_settled(is_elsewhere):
    product, sheet = make_strip(), make_sheet()
    old = make_remnant(product, 500)
    roll = make_roll(sheet, product, remnant=old)
    Remnant.objects.update(reserved_for=make_day() if is_elsewhere else None)
    with pytest.raises(Conflict, match=f"{old} did not go with {sheet.crew_day}"):
        settle(roll, 200)
    old.refresh_from_db()
    assert old.fate == ""


# Correcting


def corrected(product: Product, *lengths: int, remnant: Remnant | None = None) -> services.Settled:
    """Return what is settled of a roll once these lengths were entered, one after the other."""
    sheet = make_sheet()
    roll = make_roll(sheet, product, remnant=remnant) if remnant else make_loaded_roll(sheet, product)
    make_stock(product, 1)
    for length in lengths:
        settled = settle(roll, length)
    return settled


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("lengths", "lies_in"),
    [((300, 290), 290), ((300, 0), None), ((0, 300), 300), ((300, 0, 250), 250), ((300, 0, 0), None),
     ((300, 900), None), ((300, 900, 900), None), ((300, 900, 200), 200), ((0, 900), None), ((300, 290, 300), 300)],
)  # fmt: skip
def test_a_wrong_length_of_a_new_roll_is_corrected_under_the_same_code(lengths, lies_in):
    product = make_strip()
    roll, remnant, _ = corrected(product, *lengths)
    truck = truck_of(roll.sheet.crew_day.crew)
    is_opened = lengths[-1] != 900
    assert (remnant and remnant.length_in) == lies_in
    assert [one.length_in for one in Remnant.objects.filter(fate="")] == ([lies_in] if lies_in else [])
    assert Remnant.objects.count() <= 1
    assert held(product, truck) == (0 if is_opened else 1)
    roll.refresh_from_db()
    assert roll.came_back_in == (lengths[-1] if is_opened else None)
    entered = list(roll.settlements.order_by("pk").values_list("came_back_in", flat=True))
    assert entered == [length for n, length in enumerate(lengths) if n == 0 or length != lengths[n - 1]]


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("lengths", "old_fate", "left_in"),
    [((200, 150), "cut up", 150), ((200, 0), "cut up", None), ((200, 500), "", None), ((500, 200), "cut up", 200),
     ((0, 500), "", None), ((0, 200), "cut up", 200), ((500, 0), "cut up", None), ((200, 500, 100), "cut up", 100)],
)  # fmt: skip
def test_a_wrong_length_of_a_remnant_is_corrected_and_what_it_was_cut_from_follows(lengths, old_fate, left_in):
    product = make_strip()
    old = make_remnant(product, 500)
    _, remnant, _ = corrected(product, *lengths, remnant=old)
    old.refresh_from_db()
    assert (old.fate, old.reserved_for, old.gone_at is None) == (old_fate, None, old_fate == "")
    in_stock = {one.pk: one.length_in for one in Remnant.objects.filter(fate="")}
    assert in_stock == ({old.pk: 500} if not old_fate else {remnant.pk: left_in} if left_in else {})


@pytest.mark.django_db
def test_who_entered_what_and_when_stays():
    product, sheet = make_strip(), make_sheet()
    make_stock(product, 1)
    roll, first, second = make_loaded_roll(sheet, product), PersonFactory(), PersonFactory()
    services.settle_roll(roll_id=roll.pk, came_back_in=Decimal(300), by=first)
    services.settle_roll(roll_id=roll.pk, came_back_in=Decimal(280), by=second)
    assert list(roll.settlements.values_list("came_back_in", "entered_by")) == [(280, second.pk), (300, first.pk)]
    assert all(entry.entered_at for entry in roll.settlements.all())


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("lengths", "said"),
    [
        ((300,), ["{left}, 25' 0\" of strip, is at Warehouse"]),
        ((300, 240), ["{left}, 20' 0\" of strip, is at Warehouse"]),
        ((300, 0), ["{left} was entered by mistake and is out of stock"]),
        (
            (300, 900),
            [
                "{roll} was not opened: it is still a full roll on the truck; enter one fewer as loaded once it "
                "is back",
                "{left} was entered by mistake and is out of stock",
            ],
        ),
    ],
)
def test_it_is_said_what_follows(lengths, said):
    roll, _, follows = corrected(make_strip(), *lengths)
    assert list(follows) == [sentence.format(roll=roll, left=Remnant.objects.get().code) for sentence in said]


@pytest.mark.django_db
@pytest.mark.parametrize("how", ["reserved", "scrapped", "went"])
def test_what_was_used_since_is_not_corrected(how):
    product = make_strip()
    roll, left, _ = corrected(product, 300)
    match how:
        case "reserved":
            other = make_day(days=1)
            reserve(other, left)
            said = f"has since been reserved for {other}"
        case "scrapped":
            services.scrap_remnant(remnant_id=left.pk, by=None)
            said = "has since been scrapped"
        case "went":
            settle(make_roll(make_sheet(), product, remnant=left, left_in=0), 300)
            said = "has since gone out again"
    for came_back_in in (200, 0, 900):
        with pytest.raises(Conflict, match=f"25' 0\" came back of {roll}, and {left} {said}; enter what is there"):
            settle(roll, came_back_in)
    assert settle(roll, 300).roll == roll
    assert Settlement.objects.filter(roll=roll).count() == 1


@pytest.mark.django_db
def test_a_remnant_that_came_back_whole_and_was_reserved_since_is_not_corrected():
    product = make_strip()
    old = make_remnant(product, 500)
    roll, _, _ = corrected(product, 500, remnant=old)
    reserve(make_day(days=1), old)
    with pytest.raises(Conflict, match=f"41' 8\" came back of {roll}, and {old} has since been reserved for"):
        settle(roll, 200)


@pytest.mark.django_db
def test_the_lot_of_a_package_stays_with_what_is_left_of_it():
    product, sheet = make_strip(), make_sheet()
    make_stock(product, 1)
    lot = Lot.objects.create(product=product, code="L1", received_on="2026-01-05")
    roll = make_roll(sheet, product)
    load(sheet, product, 1, lot=lot)
    settle(roll, 0)
    assert settle(roll, 300).remnant.lot == lot
    settle(roll, 900)
    assert queries.stock_of(product.pk, truck_of(sheet.crew_day.crew).pk) == {lot.pk: 1}


@pytest.mark.django_db(transaction=True)
def test_two_who_correct_a_roll_at_once_leave_one_remnant():
    product, sheet = make_strip(), make_sheet()
    make_stock(product, 1)
    roll = make_loaded_roll(sheet, product)
    settle(roll, 0)
    at_once(*[lambda length=length: settle(roll, length) for length in (300, 200, 900, 100)])
    roll.refresh_from_db()
    (left,) = Remnant.objects.all()
    packages = held(product, truck_of(sheet.crew_day.crew))
    assert (packages, left.length_in if not left.fate else None) in ((1, None), (0, roll.came_back_in))


@pytest.mark.django_db
def test_a_remnant_is_never_counted_as_a_package():
    product, sheet = make_strip(), make_sheet()
    warehouse = make_stock(product, 3)
    settle(make_roll(sheet, product, remnant=make_remnant(product, 500)), 200)
    assert held(product, warehouse) == 3
    assert Movement.objects.count() == 1


# What is offered


@pytest.mark.django_db
def test_what_went_is_offered_for_return_with_what_is_worth_keeping():
    product, sheet = make_strip(shortest_remnant_in=24), make_sheet()
    make_roll(sheet, product, number=1, remnant=make_remnant(product, 500), left_in=0)
    make_roll(sheet, product, number=2, left_in=24)
    make_roll(sheet, product, number=3, left_in=23)  # dropped on the scaffold
    load(sheet, product, 2)
    offered = [(roll.number, roll.offered_in) for roll in queries.rolls_to_settle()]
    assert offered == [(1, 0), (2, 24), (3, 0)]


@pytest.mark.django_db
@pytest.mark.parametrize(("packages", "numbers"), [(None, [1]), (0, [1]), (1, [1, 2]), (2, [1, 2, 3]), (3, [1, 2, 3])])
def test_a_new_roll_is_asked_for_as_long_as_it_is_counted_on_the_truck(packages, numbers):
    product, sheet = make_strip(), make_sheet()
    make_roll(sheet, product, number=1, remnant=make_remnant(product, 500), left_in=0)
    make_roll(sheet, product, number=2, left_in=100)
    make_roll(sheet, product, number=3, left_in=5)
    load(sheet, product, packages)
    assert [roll.number for roll in queries.rolls_to_settle()] == numbers


@pytest.mark.django_db
@pytest.mark.parametrize(("packages", "numbers"), [(None, [2]), (0, []), (1, [])])
def test_a_roll_of_a_sheet_that_nobody_entered_as_loaded_is_in_sight(packages, numbers):
    product, sheet = make_strip(), make_sheet()
    make_roll(sheet, product, number=1, remnant=make_remnant(product, 500))
    make_roll(sheet, product, number=2, left_in=100)
    make_roll(sheet, product, number=3, left_in=5)
    load(sheet, product, packages)
    assert [roll.number for roll in queries.rolls_never_loaded()] == numbers


@pytest.mark.django_db
def test_the_oldest_day_is_settled_first_from_its_newest_sheet():
    product, crew_day = make_strip(), make_day(days=-2)
    make_loaded_roll(make_sheet(crew_day), product)
    old = make_loaded_roll(make_sheet(crew_day, revision=2), product)
    today = make_loaded_roll(make_sheet(), product)
    assert list(queries.rolls_to_settle()) == [old, today]


@pytest.mark.django_db
def test_who_may_count_on_a_remnant():
    product, other_product = make_strip(), make_strip("other")
    crew_day, other = make_day(), make_day()
    free = make_remnant(product, 100)
    own = make_remnant(product, 200, reserved_for=crew_day)
    on_truck = make_remnant(product, 300, place=truck_of(crew_day.crew))
    of_other = make_remnant(product, 400, reserved_for=other)
    on_other_truck = make_remnant(product, 500, place=truck_of(other.crew))
    of_other_day = make_remnant(product, 600, reserved_for=make_day(days=3))
    make_remnant(product, 700, fate="scrapped", gone_at="2026-03-02T12:00Z")
    scrap = make_remnant(product, 150, place=Place.objects.create(kind=Place.Kind.SCRAP, name="Scrap"))
    of_another_product = make_remnant(other_product, 800)
    whole_day = list(queries.free_remnants_on(crew_day.on))
    assert whole_day == [of_another_product, free, own, on_truck, of_other, on_other_truck]
    assert {of_other_day, scrap} <= set(queries.remnants_on_hand())


@pytest.mark.django_db
@pytest.mark.parametrize("count", [1, 9])
def test_remnants_are_read_in_as_many_queries_however_many_there_are(django_assert_num_queries, count):
    product, crew_day = make_strip(), make_day()
    for number in range(1, count + 1):
        make_remnant(product, 100, reserved_for=crew_day)
        make_roll(make_sheet(make_day()), product, number=number, remnant=make_remnant(product, 500))
    with django_assert_num_queries(1):
        assert (
            len([(one.place.crew, one.reserved_for_id) for one in queries.free_remnants_on(crew_day.on)]) == 2 * count
        )
    with django_assert_num_queries(1):
        [(str(r.product), str(r.place), str(r.reserved_for)) for r in queries.remnants_on_hand()]
    with django_assert_num_queries(2):
        assert len([str(roll) for roll in queries.rolls_to_settle()]) == count


class Conservation(TestCase):
    @settings(max_examples=25, deadline=None)
    @given(lengths=st.lists(st.decimals("0.00001", 900, places=5), min_size=1, max_size=4), data=st.data())
    def test_no_length_comes_from_nowhere(self, lengths, data):
        product, sheet = make_strip(f"strip-{Product.objects.count()}"), make_sheet()
        olds = [make_remnant(product, length) for length in lengths]
        rolls = [make_roll(sheet, product, number=n, remnant=old, left_in=0) for n, old in enumerate(olds, start=1)]
        came_back = {roll.pk: data.draw(st.decimals(0, roll.length_in, places=5)) for roll in rolls}
        for _ in range(2):
            services.settle_rolls(sheet_id=sheet.pk, came_back_in=came_back, by=None)
        in_stock = Remnant.objects.filter(product=product, fate="")
        assert sum(remnant.length_in for remnant in in_stock) == sum(came_back.values())
        assert not Remnant.objects.filter(product=product, reserved_for__isnull=False).exists()

    @settings(max_examples=40, deadline=None)
    @given(data=st.data())
    def test_packages_and_remnants_never_hold_more_than_went_in(self, data):
        product, sheet = make_strip(f"strip-{Product.objects.count()}"), make_sheet()
        rolls = [make_roll(sheet, product, number=1, remnant=make_remnant(product, 500), left_in=0)]
        rolls += [make_roll(sheet, product, number=number, left_in=0) for number in (2, 3)]
        load(sheet, product, None)
        warehouse, line = make_stock(product, 3), sheet.lines.get()
        went_in = 3 * product.package_quantity + 500
        for _ in range(data.draw(st.integers(1, 10))):
            is_load = data.draw(st.booleans())
            with suppress(CallerError, ValidationError):
                if is_load:
                    count = data.draw(st.integers(0, 4))
                    services.load_line(sheet_id=sheet.pk, line_id=line.pk, packages=count, by=None)
                else:
                    length = data.draw(st.sampled_from([0, 1, 300, 499, 500, 899, 900, 901]))
                    settle(data.draw(st.sampled_from(rolls)), length)
            packages = held(product, warehouse) + held(product, truck_of(sheet.crew_day.crew))
            in_stock = sum(one.length_in for one in Remnant.objects.filter(product=product, fate=""))
            assert packages * product.package_quantity + in_stock <= went_in
            opened = sum(roll.came_back_in is not None for roll in sheet.rolls.filter(remnant=None))
            assert packages == 3 - opened
