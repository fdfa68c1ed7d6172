"""Moving stock from place to place."""

from __future__ import annotations

from decimal import Decimal

from django.db import transaction

from jobs.errors import Conflict
from jobs.models import Person
from jobs.services import add
from materials.models import Lot, Movement, Place, Product
from materials.queries import stock_of


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
        Conflict: the source does not hold that many, or the lot is one of another product.
        ValidationError: nothing is moved, or it goes nowhere.
    """
    if lot and lot.product_id != product.pk:
        raise Conflict(f"lot {lot.code} is one of {lot.product}, not of {product}")
    if source.holds_stock:
        Place.objects.select_for_update().get(pk=source.pk)
        held = stock_of(product.pk, source.pk, lot_id=lot.pk if lot else None)
        if packages > held:
            raise Conflict(f"{source} holds {held:g} × {product}; {packages:g} cannot leave it")
    return add(
        Movement,
        product=product,
        lot=lot,
        source=source,
        destination=destination,
        packages=packages,
        moved_by=by,
        reason=reason,
    )
