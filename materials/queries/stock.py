"""Read stock by place, and what is short."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby
from typing import TYPE_CHECKING, Any, TypedDict

from django.db.models import F, QuerySet, Sum
from django.db.models.functions import Coalesce
from django.utils import timezone

from jobs.calc.calendar import earliest_today
from materials.calc.shortage import goes_without
from materials.models import Movement, Place, Product, PullSheet, PullSheetLine

if TYPE_CHECKING:
    from django_stubs_ext import WithAnnotations

    class _Wanted(TypedDict):
        outstanding: int

    WantedLine = WithAnnotations[PullSheetLine, _Wanted]


def on_hand() -> list[dict[str, Any]]:
    """Return packages by place, product and lot where stock is counted, nothing left out but zeros. Four queries."""
    places = {place.pk: place for place in Place.objects.all() if place.holds_stock}
    products = Product.objects.in_bulk()
    return [
        {"place": places[place], "product": products[product], "lot": lot, "packages": packages}
        for (place, product, lot), packages in balances(places).items()
        if packages
    ]


def stock_places() -> QuerySet[Place]:
    """Return the places where stock is counted, the warehouses first, by name."""
    return Place.objects.filter(kind__in=(Place.Kind.WAREHOUSE, Place.Kind.TRUCK)).order_by("-kind", "name")


def held_at(place: Place) -> dict[int, dict[int | None, Decimal]]:
    """Return the packages at a place by product and lot, nothing left out but zeros. Two queries."""
    found: dict[int, dict[int | None, Decimal]] = {}
    for (_, product, lot), packages in balances([place.pk]).items():
        if packages:
            found.setdefault(product, {})[lot] = packages
    return found


def held_in_warehouses() -> dict[int, Decimal]:
    """Return the packages in all warehouses together by product. Three queries."""
    warehouses = Place.objects.filter(kind=Place.Kind.WAREHOUSE).values_list("pk", flat=True)
    held: dict[int, Decimal] = {}
    for (_, product, _), packages in balances(warehouses).items():
        held[product] = held.get(product, Decimal(0)) + packages
    return held


def stock_of(product_id: int, place_id: int) -> dict[int | None, Decimal]:
    """Return the packages of a product at a place by lot, None for those without a lot number. Two queries."""
    found = balances([place_id], product=product_id)
    return {lot: packages for (_, _, lot), packages in found.items() if packages}


def places_of_lots(lots: Iterable[int]) -> dict[int, list[Place]]:
    """Return by lot the warehouses and trucks in which packages of it lie. Three queries."""
    places = {place.pk: place for place in Place.objects.order_by("name") if place.holds_stock}
    found: dict[int, list[Place]] = {}
    for (place, _, lot), packages in sorted(balances(places, lot__in=list(lots)).items()):
        if packages > 0 and lot is not None:
            found.setdefault(lot, []).append(places[place])
    return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """What one sheet still wants of a product, and how much of that its truck goes without."""

    line: PullSheetLine
    packages: int
    short: int

    @property
    def sheet(self) -> PullSheet:
        return self.line.sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortage:
    """A product of which the sheets want more than the warehouses hold; the sheets in the order of loading."""

    product: Product
    on_hand: Decimal
    shares: tuple[Share, ...]

    @property
    def without(self) -> list[Share]:
        """The shares of the trucks that go without something."""
        return [share for share in self.shares if share.short]

    @property
    def reserved(self) -> int:
        """The packages that all sheets still want."""
        return sum(share.packages for share in self.shares)

    @property
    def short(self) -> int:
        """The packages that are short in all: once, however many trucks want them."""
        return sum(share.short for share in self.shares)


def shortages() -> list[Shortage]:
    """Return the products of which the written sheets want more than the warehouses hold, by code. Four queries.

    What a sheet still wants is what it lists less what is loaded; that is reserved for it until its day is past. Trucks
    are loaded day by day, and on one day by the name of the crew.
    """
    held = held_in_warehouses()
    listed = (
        PullSheetLine.objects.filter(
            sheet__in=PullSheet.objects.newest_written().values("pk"),
            sheet__crew_day__on__gte=earliest_today(timezone.now()),
            product__isnull=False,
        )
        .annotate(outstanding=F("packages") - Coalesce("loaded_packages", 0))
        .filter(outstanding__gt=0)
        .select_related("product", "sheet__crew_day__crew")
        .defer("sheet__workbook")
        .order_by("product__code", "sheet__crew_day__on", "sheet__crew_day__crew__name", "sheet")
    )
    wanted = groupby(listed, key=lambda line: line.product)
    found = [_shortage(product, held.get(product.pk, Decimal(0)), list(lines)) for product, lines in wanted]
    return [shortage for shortage in found if shortage.short]


def _shortage(product: Product, on_hand: Decimal, lines: Sequence[WantedLine]) -> Shortage:
    without = goes_without([line.outstanding for line in lines], on_hand=on_hand)
    shares = tuple(
        Share(line=line, packages=line.outstanding, short=short) for line, short in zip(lines, without, strict=True)
    )
    return Shortage(product=product, on_hand=on_hand, shares=shares)


def balances(places: Iterable[int], **of: object) -> dict[tuple[int, int, int | None], Decimal]:
    """Return packages by place, product and lot: what arrived less what left. Two queries."""
    places = list(places)
    found: dict[tuple[int, int, int | None], Decimal] = {}
    for end, sign in (("destination", 1), ("source", -1)):
        sums = (
            Movement.objects.filter(**{f"{end}__in": places}, **of)
            .order_by()
            .values_list(F(end), "product", "lot")
            .annotate(n=Sum("packages"))
        )
        for place, product, lot, packages in sums:
            key = place, product, lot
            found[key] = found.get(key, Decimal(0)) + sign * packages
    return found
