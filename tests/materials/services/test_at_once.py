"""Several people at the same moment: nobody waits for somebody who waits for them."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from functools import partial
from itertools import repeat

import pytest

from materials import services
from materials.models import Movement, Place, PullSheet
from materials.queries import on_hand
from materials.services.stock import move_oldest
from openings import services as openings
from openings.models import Assignment
from tests.factories import CrewFactory, PersonFactory, ProductFactory, make_catalogue, make_stock
from tests.materials.at_once import at_once
from tests.materials.crew_days import make_crew_day, request

pytestmark = pytest.mark.django_db(transaction=True)

ROUNDS = 15


def make_truck() -> Place:
    crew = CrewFactory()
    return Place.objects.create(kind=Place.Kind.TRUCK, name=f"Truck of {crew}", crew=crew)


def again_and_again(work: Callable[[], object]) -> None:
    for _ in repeat(None, ROUNDS):
        work()


@pytest.mark.parametrize("move", [services.move, move_oldest], ids=["a move", "what expires first"])
def test_moves_both_ways_between_two_places_end(move):
    products = [ProductFactory() for _ in range(4)]
    truck = make_truck()
    for product in products:
        warehouse = make_stock(product, 2 * ROUNDS)
        services.move(product=product, source=warehouse, destination=truck, packages=Decimal(ROUNDS), by=None)
    before = Movement.objects.count()
    ways = [(warehouse, truck), (truck, warehouse)] * 2
    at_once(
        *(
            partial(
                again_and_again,
                partial(move, product=product, source=source, destination=destination, packages=Decimal(1), by=None),
            )
            for product, (source, destination) in zip(products, ways, strict=True)
        )
    )
    assert Movement.objects.count() == before + 4 * ROUNDS
    in_stock = {(entry["place"], entry["product"]): entry["packages"] for entry in on_hand()}
    assert {in_stock[truck, product] for product in products[::2]} == {Decimal(2 * ROUNDS)}
    assert {in_stock[warehouse, product] for product in products[1::2]} == {Decimal(2 * ROUNDS)}


def test_a_sheet_is_written_while_its_openings_are_withdrawn():
    make_catalogue()
    by = PersonFactory()
    for _ in range(4):
        crew_day = make_crew_day(openings=6)
        sheet = request(crew_day)
        given = list(Assignment.objects.filter(crew_day=crew_day))
        at_once(
            partial(services.write_pull_sheet, sheet_id=sheet.pk),
            *(partial(openings.withdraw, assignment_id=assignment.pk, by=by) for assignment in given[:5]),
        )
        sheet.refresh_from_db()
        assert sheet.state == PullSheet.State.WRITTEN
        assert Assignment.objects.filter(crew_day=crew_day, withdrawn_at__isnull=True).count() == 1
