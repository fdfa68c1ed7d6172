"""What lies where, and what is missing."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django.db.models import F, Sum
from django.utils import timezone

from jobs.calc.calendar import earliest_today
from materials.models import Movement, Place, Product, PullSheetLine
from materials.queries.pull_sheet import latest_written


def on_hand() -> list[dict[str, Any]]:
    """Return packages by place, product and lot where stock is counted, nothing left out but zeros. Four queries."""
    places = {place.pk: place for place in Place.objects.all() if place.holds_stock}
    products = Product.objects.in_bulk()
    return [
        {"place": places[place], "product": products[product], "lot": lot, "packages": packages}
        for (place, product, lot), packages in _balances(places).items()
        if packages
    ]


def stock_of(product_id: int, place_id: int) -> dict[int | None, Decimal]:
    """Return the packages of a product at a place by lot, None for those without a lot number. Two queries."""
    balances = _balances([place_id], product=product_id)
    return {lot: packages for (_, _, lot), packages in balances.items() if packages}


def places_of_lots(lots: Iterable[int]) -> dict[int, list[Place]]:
    """Return by lot the warehouses and trucks in which packages of it lie. Three queries."""
    places = {place.pk: place for place in Place.objects.order_by("name") if place.holds_stock}
    found: dict[int, list[Place]] = {}
    for (place, _, lot), packages in sorted(_balances(places, lot__in=list(lots)).items()):
        if packages > 0 and lot is not None:
            found.setdefault(lot, []).append(places[place])
    return found


def shortages() -> list[dict[str, Any]]:
    """Return the products of which the written sheets want more than the warehouses hold. Four queries.

    What a sheet still wants is what it lists less what is loaded; that is reserved for it until its day is past.
    """
    warehouses = Place.objects.filter(kind=Place.Kind.WAREHOUSE).values_list("pk", flat=True)
    held: dict[int, Decimal] = {}
    for (_, product, _), packages in _balances(warehouses).items():
        held[product] = held.get(product, Decimal(0)) + packages
    wanted = (
        PullSheetLine.objects.filter(
            sheet__in=latest_written().values("pk"),
            sheet__crew_day__on__gte=earliest_today(timezone.now()),
            product__isnull=False,
        )
        .select_related("product", "sheet__crew_day__crew")
        .order_by("product__code", "sheet__crew_day__on")
    )
    found: dict[int, dict[str, Any]] = {}
    for line in wanted:
        outstanding = line.packages - (line.loaded_packages or 0)
        if outstanding <= 0:
            continue
        entry = found.setdefault(
            line.product_id,
            {
                "product": line.product,
                "on_hand": held.get(line.product_id, Decimal(0)),
                "reserved": 0,
                "sheets": [],
            },
        )
        entry["reserved"] += outstanding
        entry["sheets"].append({"sheet": line.sheet_id, "crew": line.sheet.crew_day.crew.name,
                                "on": line.sheet.crew_day.on, "packages": outstanding})  # fmt: skip
    short = [entry | {"short": entry["reserved"] - entry["on_hand"]} for entry in found.values()]
    return [entry for entry in short if entry["short"] > 0]


def _balances(places: Iterable[int], **of: Any) -> dict[tuple[int, int, int | None], Decimal]:
    """Return packages by place, product and lot: what arrived less what left. Two queries."""
    places = list(places)
    balances: dict[tuple[int, int, int | None], Decimal] = {}
    for end, sign in (("destination", 1), ("source", -1)):
        sums = (
            Movement.objects.filter(**{f"{end}__in": places}, **of)
            .order_by()
            .values_list(F(end), "product", "lot")
            .annotate(n=Sum("packages"))
        )
        for place, product, lot, packages in sums:
            key = place, product, lot
            balances[key] = balances.get(key, Decimal(0)) + sign * packages
    return balances
