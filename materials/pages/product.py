"""The product catalogue: its list, one product with what it is used in, and a list to start from."""

from __future__ import annotations

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.answer import Question
from jobs.calc.say import counted
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import SHELF
from jobs.services import add
from jobs.signed_in import signed_in
from materials import queries, services
from materials.calc.ranges import product_ranges
from materials.calc.starting_products import STARTING_PRODUCTS
from materials.forms import ProductForm, StartForm
from materials.models import Product

ONE, LIST = "product-page", "products-page"
ON_A_PAGE = 50
"""So many products are shown at once (our choice)."""


@Page
def products(request: HttpRequest) -> HttpResponse:
    """The products in service, or the retired ones, by name; those that a word is looked for in."""
    text = request.GET.get("q", "")[:80]
    retired = request.GET.get("show") == "retired"
    found = Paginator(queries.product_list(text=text, retired=retired), ON_A_PAGE)
    return render(
        request,
        "materials/products.html",
        {
            "page": found.get_page(request.GET.get("page")),
            "text": text,
            "retired": retired,
            "is_empty": not found.count and not text and not Product.objects.exists(),
            "may_change": may(signed_in(request), SHELF),
        },
    )


@Page
def new_product(request: HttpRequest) -> HttpResponse:
    """A form for one product more."""
    return render(
        request,
        "materials/new_product.html",
        {"form": ProductForm(entered(request, "add_product")), "may_change": may(signed_in(request), SHELF)},
    )


@new_product.act(by=SHELF)
def add_product(request: HttpRequest) -> HttpResponse:
    """Add a product."""
    added = add(Product(**values_of(ProductForm(request.POST))))
    return done(request, f"{added} is added", ONE, at="product", product_id=added.pk)


@Page
def product(request: HttpRequest, product_id: int) -> HttpResponse:
    """One product: what it is used in, and its form."""
    one = queries.product_of(product_id)
    return render(
        request,
        "materials/product.html",
        {
            "product": one,
            "uses": queries.uses_of(one),
            "advice": product_ranges(one.as_facts()),
            "form": ProductForm(entered(request, "save"), product=one),
            "may_change": may(signed_in(request), SHELF),
        },
    )


@product.act(by=SHELF)
def save(request: HttpRequest, product_id: int) -> HttpResponse:
    """Change a product."""
    form = ProductForm(request.POST, product=queries.product_of(product_id))
    changed = services.change_product(product_id=product_id, **values_of(form))
    return done(request, f"{changed} is saved", ONE, at="product", product_id=product_id)


def what_is_retired(request: HttpRequest, product_id: int) -> Question | None:
    """Ask about a product of which there is stock; nothing where nobody has any."""
    uses = queries.uses_of(queries.product_of(product_id))
    if uses.is_chosen or not (uses.held or uses.remnants_count):
        return None
    return Question(
        asks=f"Retire {queries.product_of(product_id)}, though there is stock of it?",
        follows="Its stock stays on the books; nobody can choose it for a part until it is back in service.",
        yes="Retire it",
    )


@product.act(by=SHELF, asks=what_is_retired)
def retire(request: HttpRequest, product_id: int) -> HttpResponse:
    """Choose it no more."""
    retired = services.retire_product(product_id=product_id)
    return done(request, f"{retired} is retired", ONE, at="product", product_id=product_id)


@product.act(by=SHELF)
def reinstate(request: HttpRequest, product_id: int) -> HttpResponse:
    """Take it back into service."""
    back = services.reinstate_product(product_id=product_id)
    return done(request, f"{back} is back in service", ONE, at="product", product_id=product_id)


@Page
def starting_products(request: HttpRequest) -> HttpResponse:
    """The products that a firm may start from, those it has already marked."""
    known = set(Product.objects.values_list("code", flat=True))
    sent = entered(request, "start")
    return render(
        request,
        "materials/starting_products.html",
        {
            "rows": [(one, one.facts.code in known) for one in STARTING_PRODUCTS],
            "selected": sent.getlist("codes") if sent else [one.facts.code for one in STARTING_PRODUCTS],
            "may_change": may(signed_in(request), SHELF),
        },
    )


@starting_products.act(by=SHELF)
def start(request: HttpRequest) -> HttpResponse:
    """Add what was selected, each as the standard of what it serves."""
    choices = [(one.facts.code, one.facts.name) for one in STARTING_PRODUCTS]
    added = services.start_catalogue(codes=values_of(StartForm(request.POST, choices=choices))["codes"])
    return done(request, f"{counted(len(added), 'product')} added", LIST, at="list")
