"""Packages that are opened on a truck: what is left of them is a remnant, not a package."""

from __future__ import annotations

from decimal import Decimal

from jobs.errors import Conflict
from jobs.models import Person
from materials.models import Lot, Movement, Place, PlannedRoll
from materials.services.stock import move, move_oldest

OPENED = "Opened packages"
"""The place, of kind scrap, where packages end that were opened."""


def open_package(roll: PlannedRoll, *, by: Person | None) -> None:
    """Take the package of a new roll out of those of its truck.

    Raises:
        Conflict: the crew has no truck, or it does not hold the package.
    """
    crew = roll.sheet.crew_day.crew
    truck = Place.objects.filter(kind=Place.Kind.TRUCK, crew=crew).first()
    if truck is None:
        raise Conflict(f"no truck of {crew} holds any {roll.product.package}; enter first what was loaded")
    end, _ = Place.objects.get_or_create(name=OPENED, defaults={"kind": Place.Kind.SCRAP})
    move_oldest(product=roll.product, source=truck, destination=end, packages=Decimal(1), by=by, reason=str(roll))


def close_package(roll: PlannedRoll, *, by: Person | None) -> None:
    """Put the package of a new roll that was not opened after all back on its truck."""
    if opened := _opening_of(roll):
        move(
            product=roll.product,
            lot=opened.lot,
            source=opened.destination,
            destination=opened.source,
            packages=opened.packages,
            by=by,
            reason=f"{roll}, not opened",
        )


def lot_opened(roll: PlannedRoll) -> Lot | None:
    """Return the lot of the package that a new roll was, if it has one."""
    opened = _opening_of(roll)
    return opened.lot if opened else None


def _opening_of(roll: PlannedRoll) -> Movement | None:
    ended = Movement.objects.filter(product=roll.product, destination__name=OPENED, reason=str(roll))
    return ended.select_related("lot", "source", "destination").order_by("-pk").first()
