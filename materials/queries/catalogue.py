"""Read the product catalogue: what is in it, and what each product is used in."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Q, QuerySet

from jobs.errors import NotFound
from materials.models import DetailProduct, Place, Product
from materials.queries.stock import balances


@dataclass(frozen=True, slots=True, kw_only=True)
class ProductUses:
    """What a product is chosen for, and where it lies.

    Args:
        standards: its choices as the shop's standard.
        details: its choices for one detail each, with detail and job joined.
        held: packages by place, nothing left out but zeros.
        remnants_count: of it that are on hand.
    """

    standards: tuple[DetailProduct, ...]
    details: tuple[DetailProduct, ...]
    held: tuple[tuple[Place, Decimal], ...]
    remnants_count: int

    @property
    def is_chosen(self) -> bool:
        return bool(self.standards or self.details)


def product_list(*, text: str = "", retired: bool = False) -> QuerySet[Product]:
    """Return the products in service, or the retired ones, by name; of those whose words hold all of `text`."""
    found = Product.objects.filter(retired_at__isnull=False) if retired else Product.objects.in_service()
    for word in text.split()[:8]:
        found = found.filter(Q(name__icontains=word) | Q(code__icontains=word) | Q(chemistry__icontains=word))
    return found.order_by("name", "pk")


def product_of(product_id: int) -> Product:
    """Return one product. One query.

    Raises:
        NotFound: there is no such product.
    """
    product = Product.objects.filter(pk=product_id).first()
    if product is None:
        raise NotFound(f"there is no product {product_id}")
    return product


def uses_of(product: Product) -> ProductUses:
    """Return what a product is used in. Five queries."""
    choices = list(product.uses.select_related("detail__job").order_by("detail__job__code", "detail__name", "part"))
    places = {place.pk: place for place in Place.objects.all() if place.holds_stock}
    held: dict[int, Decimal] = {}
    for (place, _, _), packages in balances(places, product=product.pk).items():
        held[place] = held.get(place, Decimal(0)) + packages
    return ProductUses(
        standards=tuple(choice for choice in choices if choice.detail is None),
        details=tuple(choice for choice in choices if choice.detail),
        held=tuple((places[place], packages) for place, packages in held.items() if packages),
        remnants_count=product.remnants.filter(fate="").count(),
    )


def chosen(detail_id: int | None) -> list[DetailProduct]:
    """Return what is chosen for a detail, or the standards of the shop for None, by product. One query."""
    return list(DetailProduct.objects.filter(detail=detail_id).select_related("product").order_by("product__code"))
