"""The stock of a place to count, and the places where stock is kept."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.calc.say import counted
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import SHELF
from jobs.services import add
from jobs.signed_in import signed_in
from materials import queries, services
from materials.forms import CountForm, PlaceForm, RenameForm
from materials.models import Lot, Place, Product

STOCK, PLACES = "stock-page", "places-page"


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldLot:
    """Packages of a lot, and how the field for its count is called."""

    field: str
    lot: Lot
    packages: Decimal
    entered: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StockRow:
    """A product at a place: its packages without a lot number, and those of each lot."""

    product: Product
    packages: Decimal
    lots: list[HeldLot]
    entered: str
    lot_entered: str
    expires_entered: str


@Page
def stock(request: HttpRequest) -> HttpResponse:
    """What the books say is at a place, with a field for what is counted."""
    places = list(queries.stock_places())
    sent = entered(request, "count")
    wanted = sent.get("place", "") if sent else request.GET.get("place", "")
    place = next((one for one in places if str(one.pk) == wanted), places[0] if places else None)
    text = request.GET.get("q", "")[:80]
    return render(
        request,
        "materials/stock.html",
        {
            "places": places,
            "place": place,
            "text": text,
            "rows": _rows(place, text, sent or {}) if place else [],
            "may_change": may(signed_in(request), SHELF),
        },
    )


def _rows(place: Place, text: str, sent: dict[str, str]) -> list[StockRow]:
    held = queries.held_at(place)
    lots = Lot.objects.in_bulk([lot for of_lot in held.values() for lot in of_lot if lot])
    found = queries.product_list(text=text) | Product.objects.filter(pk__in=[] if text else held)
    rows = []
    for product in found.distinct():
        of_lot = held.get(product.pk, {})
        shown = [
            HeldLot(
                field=(field := f"packages-{product.pk}-{lot}"),
                lot=lots[lot],
                packages=packages,
                entered=sent.get(field, ""),
            )
            for lot, packages in of_lot.items()
            if lot
        ]
        rows.append(
            StockRow(
                product=product,
                packages=of_lot.get(None, Decimal(0)),
                lots=shown,
                entered=sent.get(f"packages-{product.pk}", ""),
                lot_entered=sent.get(f"lot-{product.pk}", ""),
                expires_entered=sent.get(f"expires-{product.pk}", ""),
            )
        )
    return rows


@stock.act(by=SHELF)
def count(request: HttpRequest) -> HttpResponse:
    """Enter what was counted: all of it, or nothing."""
    products = Product.objects.in_bulk()
    form = CountForm(request.POST, names={str(pk): product.name for pk, product in products.items()})
    place = values_of(form)["place"]
    lots = dict(Lot.objects.filter(product__in=products).values_list("pk", "code"))
    entries = services.count_stock(place=place, counted=list(form.counted(products, lots)), by=signed_in(request))
    changed = counted(len({entry.product_id for entry in entries}), "product")
    said = f"{place}: {changed} changed" if entries else f"{place}: the books agree with the count"
    return done(request, said, STOCK, at="stock")


@Page
def places(request: HttpRequest) -> HttpResponse:
    """Where stock comes from, is kept and ends."""
    return render(
        request,
        "materials/places.html",
        {
            "places": Place.objects.exclude(kind=Place.Kind.OPENING).select_related("crew"),
            "form": PlaceForm(entered(request, "add_place")),
            "sent": entered(request, "rename") or {},
            "may_change": may(signed_in(request), SHELF),
        },
    )


@places.act(by=SHELF)
def add_place(request: HttpRequest) -> HttpResponse:
    """Add a warehouse, a truck or another place."""
    added = add(Place(**values_of(PlaceForm(request.POST))))
    return done(request, f"{added} is added", PLACES, at="places")


@places.act(by=SHELF)
def rename(request: HttpRequest) -> HttpResponse:
    """Give a place another name."""
    asked = values_of(RenameForm(request.POST))
    renamed = services.change_place(place_id=asked["place"].pk, name=asked["name"])
    return done(request, f"{renamed} is saved", PLACES, at=f"place-{renamed.pk}")
