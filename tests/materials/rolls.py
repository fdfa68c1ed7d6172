"""Written sheets with planned rolls, whatever the planner would make of them."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from typing import Any

from django.utils import timezone

from jobs.models import Crew, CrewDay
from materials.models import Lot, Place, PlannedRoll, Product, PullSheet, Remnant
from tests.factories import CrewFactory, ProductFactory


def make_strip(code: str = "strip", **values: Any) -> Product:
    """Return a strip in rolls of 75 ft, of which 24 in and more are kept."""
    package_quantity = Decimal(values.pop("package_quantity", 900))
    return ProductFactory(
        **{"code": code, "measure": "in", "package": "roll", "package_quantity": package_quantity} | values
    )


def make_day(*, days: int = 0, crew: Crew | None = None) -> CrewDay:
    """Return a crew's day, so many days from today where the tests' jobs are."""
    on = timezone.now().date() + timedelta(days=days)
    crew_day, _ = CrewDay.objects.get_or_create(crew=crew or CrewFactory(), on=on, defaults={"capacity_person_h": 24})
    return crew_day


def make_sheet(crew_day: CrewDay | None = None, *, revision: int = 1) -> PullSheet:
    """Return a written sheet: of today where no day is given."""
    now = timezone.now()
    return PullSheet.objects.create(
        crew_day=crew_day or make_day(),
        revision=revision,
        state=PullSheet.State.WRITTEN,
        requested_at=now,
        written_at=now,
        basis=None,
        workbook=b"a workbook",
    )


def make_roll(
    sheet: PullSheet, product: Product, *, left_in: int = 300, number: int = 1, remnant: Remnant | None = None
) -> PlannedRoll:
    """Return a roll that a sheet cuts from; with a remnant, which is then reserved for the sheet's day."""
    if remnant:
        remnant.reserved_for = sheet.crew_day
        remnant.save(update_fields=["reserved_for"])
    return PlannedRoll.objects.create(
        sheet=sheet,
        product=product,
        number=number,
        remnant=remnant,
        length_in=remnant.length_in if remnant else product.package_quantity,
        left_in=left_in,
    )


def make_loaded_roll(sheet: PullSheet, product: Product, **values: Any) -> PlannedRoll:
    """Return a new roll that a sheet cuts from, which is loaded."""
    roll = make_roll(sheet, product, **values)
    load(sheet, product, roll.number)
    return roll


def load(sheet: PullSheet, product: Product, packages: int | None, *, lot: Lot | None = None) -> None:
    """Enter on the sheet how many packages of a product lie on the truck, and put them there from the supplier."""
    sheet.lines.update_or_create(
        product=product,
        defaults={
            "parts": "sill strip", "quantity": 100, "measure": "in", "packages": packages or 1,
            "loaded_packages": packages,
        },
    )  # fmt: skip
    if packages:
        supplier, _ = Place.objects.get_or_create(kind=Place.Kind.SUPPLIER, name="Supplier")
        truck = truck_of(sheet.crew_day.crew)
        product.movements.create(source=supplier, destination=truck, packages=packages, lot=lot)


def truck_of(crew: Crew) -> Place:
    """Return the truck of a crew as a place."""
    truck, _ = Place.objects.get_or_create(kind=Place.Kind.TRUCK, crew=crew, defaults={"name": f"Truck of {crew}"})
    return truck
