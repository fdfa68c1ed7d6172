"""Counting stock: what lies at a place is entered, and the difference to the books becomes movements."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from jobs import transaction
from jobs.about import about
from jobs.errors import BadInput, Conflict, Fault
from jobs.models import Person
from jobs.queries import latest_today_on_sites
from jobs.services import add, change
from materials.models import Lot, Movement, Place
from materials.models.values import Counted
from materials.queries import stock_of
from materials.services.stock import lock_places, move
from openings.calc.figures import plain


@transaction.atomic
def count_stock(
    *, place: Place, counted: Sequence[Counted], by: Person | None, reason: str = "count"
) -> list[Movement]:
    """Enter what was counted at a place: what is more than the books say came from the supplier, what is less is scrap.

    What was not counted stays. The first stock of a firm is a count like any other.

    Returns:
        The movements, in the order of `counted`; none for what agrees with the books.

    Raises:
        BadInput: a count is negative, one product and lot is counted twice, or nothing was counted.
        Conflict: the place holds no stock that is counted.
    """
    if not counted:
        raise BadInput("enter how many packages there are of at least one product")
    if not place.holds_stock:
        raise Conflict(f"stock is counted in a warehouse or on a truck; {place} is neither", about=[about(place)])
    _require_counts(counted)
    supplier, scrap = end_of(Place.Kind.SUPPLIER), end_of(Place.Kind.SCRAP)
    lock_places(place, supplier, scrap)
    entries = []
    for one in counted:
        lot = _lot(one)
        held = stock_of(one.product.pk, place.pk).get(lot.pk if lot else None, Decimal(0))
        more = one.packages - held
        if more:
            source, destination = (supplier, place) if more > 0 else (place, scrap)
            entries.append(
                move(
                    product=one.product,
                    lot=lot,
                    source=source,
                    destination=destination,
                    packages=abs(more),
                    by=by,
                    reason=reason,
                )
            )
    return entries


def end_of(kind: Place.Kind) -> Place:
    """Return the first place of a kind where stock comes from or ends; it is added where there is none."""
    place = Place.objects.filter(kind=kind).order_by("pk").first()
    return place or add(Place(kind=kind, name=kind.label))


def _require_counts(counted: Sequence[Counted]) -> None:
    faults, seen = [], set()
    for item, one in enumerate(counted):
        key = one.product.pk, one.lot_code
        if one.packages < 0:
            detail = f"{plain(one.packages)} × {one.product} cannot lie anywhere; count from 0"
            faults.append(Fault(field="packages", value=plain(one.packages), detail=detail, item=item))
        if key in seen:
            lot = f", lot {one.lot_code}" if one.lot_code else " without a lot number"
            detail = f"{one.product}{lot} is counted twice; add the two up"
            faults.append(Fault(field="product", value=one.product.code, detail=detail, item=item))
        seen.add(key)
    if faults:
        raise BadInput("; ".join(fault.detail for fault in faults), faults=faults)


def _lot(one: Counted) -> Lot | None:
    """Return the lot that was counted, None for what has no lot number."""
    if not one.lot_code:
        return None
    lot = Lot.objects.filter(product=one.product, code=one.lot_code).first()
    if lot is None:
        today = latest_today_on_sites()
        return add(Lot(product=one.product, code=one.lot_code, received_on=today, expires_on=one.expires_on))
    if one.expires_on and lot.expires_on != one.expires_on:
        return change(lot, expires_on=one.expires_on)
    return lot
