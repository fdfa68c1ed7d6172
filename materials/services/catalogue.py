"""What is in the catalogue: products retired and taken back, lists of products taken, and a list to start from."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from django.core.exceptions import ValidationError
from django.utils import timezone

from jobs import transaction
from jobs.about import about
from jobs.errors import CallerError, Fault, NotFound
from jobs.services import add, change, faults_of
from materials.calc.starting_products import STARTING_PRODUCTS, Starting
from materials.errors import DoesNotServe, ProductInUse
from materials.models import DetailProduct, Product
from materials.models.values import ProductValues
from materials.services.choose import SEVERAL_STANDARDS, choose_product
from materials.services.kept import change_product
from openings.errors import BadList

MOST_NAMED = 5
"""How many of the uses of a product are named; the rest are counted (our choice)."""


class Listed(StrEnum):
    """What a line of a list does to the catalogue."""

    ADDED = "added"
    CHANGED = "changed"
    UNCHANGED = "unchanged"


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedProduct:
    """What one line of a list does: to which product, and which of its columns it changes, from what to what."""

    does: Listed
    code: str
    name: str
    changes: tuple[tuple[str, Any, Any], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ListOutcome:
    """What a list of products does, line by line, and what is wrong in it, by `item` from 0."""

    lines: tuple[ListedProduct, ...]
    faults: tuple[Fault, ...]

    def count(self, does: str) -> int:
        """Return how many products are added, changed or unchanged."""
        return sum(line.does == does for line in self.lines)


@transaction.atomic
def retire_product(*, product_id: int) -> Product:
    """Retire a product: nobody chooses it any more; its stock, remnants and history stay. Safe to repeat.

    Raises:
        NotFound: there is no such product.
        ProductInUse: it serves a part; what for is named.
    """
    product = _lock(product_id)
    if product.retired_at:
        return product
    uses = list(product.uses.select_related("detail__job").order_by("detail__job__code", "part"))
    if uses:
        named = "; ".join(_said(use) for use in uses[:MOST_NAMED])
        more = f"; and {len(uses) - MOST_NAMED} more" if len(uses) > MOST_NAMED else ""
        sentence = f"{product} still serves: {named}{more}. Choose another product first"
        raise ProductInUse(sentence, about=[about(use) for use in uses])
    return change(product, retired_at=timezone.now())


@transaction.atomic
def reinstate_product(*, product_id: int) -> Product:
    """Take a retired product back into service. Safe to repeat.

    Raises:
        NotFound: there is no such product.
    """
    product = _lock(product_id)
    return change(product, retired_at=None) if product.retired_at else product


@transaction.atomic
def take_products(rows: Sequence[ProductValues]) -> ListOutcome:
    """Add the products of a list, and change those of which the code is known: all of it, or nothing.

    Args:
        rows: columns by name, with `code`; what a row does not name stays, or has its usual value.

    Raises:
        BadList: a line cannot be taken; `faults` name each by `item`.
    """
    outcome = _enter(rows)
    if outcome.faults:
        raise BadList(f"nothing was taken: {outcome.faults[0].detail}", faults=outcome.faults)
    return outcome


@transaction.atomic
def try_products(rows: Sequence[ProductValues]) -> ListOutcome:
    """Return what `take_products` would do, and everything wrong; nothing is written."""
    outcome = _enter(rows)
    transaction.take_back()
    return outcome


@transaction.atomic
def start_catalogue(*, codes: Iterable[str]) -> list[Product]:
    """Add products of the starting list whose codes are not taken, each as the standard of what it serves.

    Where a part has a standard already, or the details ask for something else, the product is added all the same.

    Raises:
        NotFound: the list has no product of one of the codes.
    """
    wanted = set(codes)
    if missing := sorted(wanted - {one.facts.code for one in STARTING_PRODUCTS}):
        raise NotFound(f"the starting list has no product {', '.join(missing)}")
    known = set(Product.objects.filter(code__in=wanted).values_list("code", flat=True))
    return [_started(one) for one in STARTING_PRODUCTS if one.facts.code in wanted - known]


def _started(one: Starting) -> Product:
    product = add(Product(**one.columns()))
    standard = set(DetailProduct.objects.filter(detail=None).values_list("part", flat=True))
    for part in one.parts:
        if part not in standard or part in SEVERAL_STANDARDS:
            with suppress(DoesNotServe):
                choose_product(part=part.value, product=product)
    return product


def _enter(rows: Sequence[ProductValues]) -> ListOutcome:
    """Add and change products one by one; what cannot be is a fault, and leaves nothing of its line."""
    known = {product.code: product for product in Product.objects.filter(code__in=[row["code"] for row in rows])}
    lines: list[ListedProduct] = []
    faults: list[Fault] = []
    for item, row in enumerate(rows):
        try:
            lines.append(_enter_one(row, known))
        except CallerError as error:
            given = error.faults or [Fault(field="", detail=error.detail)]
            faults += [Fault(field=one.field, value=one.value, detail=one.detail, item=item) for one in given]
        except ValidationError as error:
            faults += faults_of(error, row, item=item)
    return ListOutcome(lines=tuple(lines), faults=tuple(faults))


@transaction.atomic
def _enter_one(row: ProductValues, known: dict[str, Product]) -> ListedProduct:
    values: dict[str, Any] = dict(row)
    product = known.get(row["code"])
    if product is None:
        known[row["code"]] = added = add(Product(**values))
        return ListedProduct(does=Listed.ADDED, code=added.code, name=added.name)
    changes = tuple((name, old, new) for name, new in values.items() if (old := getattr(product, name)) != new)
    if not changes:
        return ListedProduct(does=Listed.UNCHANGED, code=product.code, name=product.name)
    known[row["code"]] = changed = change_product(product_id=product.pk, **{name: new for name, _, new in changes})
    return ListedProduct(does=Listed.CHANGED, code=changed.code, name=changed.name, changes=changes)


def _said(use: DetailProduct) -> str:
    if use.detail is None:
        return f"{use.part}, as the standard of the shop"
    return f"{use.part} of detail {use.detail} of {use.detail.job.code}"


def _lock(product_id: int) -> Product:
    product = Product.objects.select_for_update().filter(pk=product_id).first()
    if product is None:
        raise NotFound(f"there is no product {product_id}")
    return product
