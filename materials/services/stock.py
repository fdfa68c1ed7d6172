"""Moving stock from place to place."""

from __future__ import annotations

from decimal import Decimal

from django.db.models import F

from jobs import transaction
from jobs.about import about
from jobs.errors import Conflict
from jobs.models import Person
from jobs.services import add
from materials.models import Lot, Movement, Place, Product
from materials.queries import stock_of
from openings.calc.figures import plain


@transaction.atomic
def move(
    *,
    product: Product,
    source: Place,
    destination: Place,
    packages: Decimal,
    by: Person | None,
    lot: Lot | None = None,
    reason: str = "",
) -> Movement:
    """Enter that packages went from one place to another.

    Raises:
        Conflict: the source does not hold that many of the lot (without one: of what has no lot number), or
            the lot is one of another product.
        ValidationError: nothing is moved, or it goes nowhere.
    """
    if lot and lot.product_id != product.pk:
        raise Conflict(f"lot {lot.code} is one of {lot.product}, not of {product}", about=[about(lot), about(product)])
    lock_places(source, destination)
    if source.holds_stock:
        held = stock_of(product.pk, source.pk)
        of_lot = held.pop(lot.pk if lot else None, Decimal(0))
        if packages > of_lot:
            which = f", lot {lot.code}" if lot else " without a lot number" if held else ""
            sentence = f"{source} holds {plain(of_lot)} × {product}{which}; {plain(packages)} cannot leave it"
            raise Conflict(sentence, about=[about(source), about(product), *([about(lot)] if lot else [])])
    return add(
        Movement(
            product=product,
            lot=lot,
            source=source,
            destination=destination,
            packages=packages,
            moved_by=by,
            reason=reason,
        )
    )


@transaction.atomic
def move_oldest(
    *, product: Product, source: Place, destination: Place, packages: Decimal, by: Person | None, reason: str = ""
) -> list[Movement]:
    """Enter that packages went from a place that holds stock, out of the lots that expire first.

    Raises:
        Conflict: the source does not hold that many.

    Source:
        First expired, first out: common practice, no source.
    """
    lock_places(source, destination)
    held = stock_of(product.pk, source.pk)
    total = sum(held.values(), Decimal(0))
    if packages > total:
        sentence = f"{source} holds {plain(total)} × {product}; {plain(packages)} cannot leave it"
        raise Conflict(sentence, about=[about(source), about(product)])
    lots = Lot.objects.filter(pk__in=[lot for lot in held if lot])
    entries = []
    for lot in [*lots.order_by(F("expires_on").asc(nulls_last=True), "received_on", "pk"), None]:
        taken = min(packages, held.get(lot.pk if lot else None, Decimal(0)))
        if taken:
            entries.append(
                move(
                    product=product,
                    lot=lot,
                    source=source,
                    destination=destination,
                    packages=taken,
                    by=by,
                    reason=reason,
                )
            )
        packages -= taken
    return entries


def first_warehouse(*, else_say: str) -> Place:
    """Return the warehouse that loads go out of and come back to.

    Raises:
        Conflict: there is none, in these words.
    """
    warehouse = Place.objects.filter(kind=Place.Kind.WAREHOUSE).order_by("pk").first()
    if warehouse is None:
        raise Conflict(else_say)
    return warehouse


def lock_places(*places: Place) -> None:
    """Let nobody move anything into or out of these places until the transaction ends.

    Both ends of a move, in the order of their ids: otherwise of two who move the other way round at the same moment
    each would wait for the other. Not as for a deletion: an entry that only names one of them need not wait.
    """
    ids = {place.pk for place in places}
    list(Place.objects.select_for_update(no_key=True).filter(pk__in=ids).order_by("pk").values_list("pk"))
