"""Changing what stock is kept by: places, lots and products, as far as no history rests on what they mean."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeVar, Unpack

from django.db import models
from django.db.models import Q

from jobs import transaction
from jobs.about import about
from jobs.calc.say import field_name
from jobs.errors import Conflict, Fault, NotFound
from jobs.services import change
from materials.calc.staged import ANCHORS, LOAD
from materials.models import DetailProduct, Lot, Movement, Place, PlannedRoll, Product, PullSheetLine, Remnant
from materials.models.values import LotValues, PlaceValues, ProductValues
from materials.queries import Choices
from materials.services.choose import require_still_serves
from materials.services.tell import tell_fasteners
from openings import services as openings
from openings.models import InstallationDetail

Row = TypeVar("Row", Place, Lot, Product)

WHAT_A_PLACE_IS = ("kind", "crew", "opening")
WHAT_A_PACKAGE_HOLDS = ("measure", "package_quantity")
WHAT_IT_SERVES = ("width_in", "serves_from_in", "serves_up_to_in")


@transaction.atomic
def change_place(*, place_id: int, **values: Unpack[PlaceValues]) -> Place:
    """Change the named columns of a place.

    Raises:
        NotFound: there is no such place.
        Conflict: stock was moved or a remnant lies there, and the change would make it another kind of place.
        ValidationError: a value or a constraint is not kept.
    """
    place = _lock(Place, place_id)
    moved = Movement.objects.filter(Q(source=place) | Q(destination=place))
    _require_kept(place, values, WHAT_A_PLACE_IS, moved, Remnant.objects.filter(place=place))
    return change(place, **values)


@transaction.atomic
def change_lot(*, lot_id: int, **values: Unpack[LotValues]) -> Lot:
    """Change the named columns of a lot.

    Raises:
        NotFound: there is no such lot.
        Conflict: stock of it was moved or a remnant is of it, and it would become one of another product.
        ValidationError: a value or a constraint is not kept.
    """
    lot = _lock(Lot, lot_id)
    _require_kept(lot, values, ("product",), Movement.objects.filter(lot=lot), Remnant.objects.filter(lot=lot))
    return change(lot, **values)


@transaction.atomic
def change_product(*, product_id: int, **values: Unpack[ProductValues]) -> Product:
    """Change the named columns of a product.

    Raises:
        NotFound: there is no such product.
        Conflict: its stock, its remnants or sheets are counted in the packages and the measure that it has.
        NoLongerServes: it would no longer serve a part that it is chosen for.
        OpeningBound: anchors are counted by it, and material for one of their openings is on a truck.
        ValidationError: a value or a constraint is not kept.
    """
    _lock_anchored(product_id, values)
    product = _lock(Product, product_id)
    reached = _lock_anchored(product_id, values)  # again, for what was chosen before it was locked
    uses = (model.objects.filter(product=product) for model in (Movement, Remnant, PlannedRoll, PullSheetLine))
    _require_kept(product, values, WHAT_A_PACKAGE_HOLDS, *uses)
    if not _changed(product, values, WHAT_IT_SERVES):
        changed = change(product, **values)
    else:
        details = list(InstallationDetail.objects.values_list("pk", flat=True))
        before = Choices(details)
        changed = change(product, **values)
        require_still_serves(before, Choices(details))
    if reached is None or reached:
        tell_fasteners(reached)
    return changed


def _lock_anchored(product_id: int, values: Mapping[str, object]) -> list[int] | None:
    """Return whose anchors the change of a product may change, None for all details; held with their openings."""
    if LOAD.isdisjoint(values):
        return []
    uses = DetailProduct.objects.filter(product=product_id, part__in=ANCHORS).order_by()
    ids = set(uses.values_list("detail", flat=True))
    reached = None if None in ids else sorted(pk for pk in ids if pk is not None)
    if reached is None or reached:
        openings.lock_details(reached)
    return reached


def _lock(model: type[Row], pk: int) -> Row:
    row = model.objects.select_for_update().filter(pk=pk).first()
    if row is None:
        raise NotFound(f"there is no {model._meta.verbose_name} {pk}")
    return row


def _changed(row: Place | Lot | Product, values: Mapping[str, object], fields: tuple[str, ...]) -> list[str]:
    return [name for name in fields if name in values and values[name] != getattr(row, name)]


def _require_kept(
    row: Place | Lot | Product, values: Mapping[str, object], fields: tuple[str, ...], *history: models.QuerySet[Any]
) -> None:
    """Raise Conflict if one of `fields` would change while there is history of the row."""
    changed = _changed(row, values, fields)
    found = next((rows.model._meta.verbose_name_plural for rows in history if rows.exists()), None) if changed else None
    if found:
        what, another = " and ".join(map(field_name, changed)), f"add another {row._meta.verbose_name} instead"
        faults = [
            Fault(
                field=name,
                value=str(values[name]),
                detail=f"{row} already has {found}, so this stays {getattr(row, name)}; {another}",
            )
            for name in changed
        ]
        raise Conflict(
            f"the {what} of {row} cannot change: it already has {found}; {another}", faults=faults, about=[about(row)]
        )
