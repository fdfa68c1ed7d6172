"""Products chosen by part: the standards of the shop, and those of one detail."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.page import Page, done, may, values_of
from jobs.permissions import OFFICE
from jobs.signed_in import signed_in
from materials import queries, services
from materials.calc.parts import MEASURES, Part
from materials.calc.product import ProductFacts
from materials.calc.serves import drawn_by
from materials.forms import ChooseForm, DropForm
from materials.models import DetailProduct, Product
from materials.queries import Candidates, Choices
from openings.models import InstallationDetail
from openings.queries import detail_of


@dataclass(frozen=True, slots=True, kw_only=True)
class PartChoice:
    """A part, what is chosen for it, and what could be.

    Args:
        standard: what a detail takes without a choice of its own; None on the page of the standards.
        lacks: why there is no product.
    """

    part: Part
    chosen: Sequence[DetailProduct]
    candidates: Candidates
    standard: ProductFacts | None = None
    lacks: str = ""

    @property
    def counted_in(self) -> str:
        return MEASURES[self.part].plainly

    @property
    def anchor(self) -> str:
        """Where the part stands on its page."""
        return self.part.value.replace(" ", "-")


@Page
def standards(request: HttpRequest) -> HttpResponse:
    """The products that serve each part where a detail has none of its own."""
    return _show(request, None)


@standards.act(by=OFFICE)
def choose(request: HttpRequest) -> HttpResponse:
    """Choose a standard: in place of the one before, or beside those of other widths."""
    choice = _chosen(request, None)
    return done(request, _said(choice), "standards-page", at=choice.part.replace(" ", "-"))


@standards.act(by=OFFICE)
def drop(request: HttpRequest) -> HttpResponse:
    """Take a standard off the list."""
    choice = services.drop_choice(choice_id=values_of(DropForm(request.POST))["choice"])
    said = f"{choice.product} is no longer a standard for {choice.part}"
    return done(request, said, "standards-page", at=choice.part.replace(" ", "-"))


@Page
def detail_products(request: HttpRequest, detail_id: int) -> HttpResponse:
    """The products of one detail by part: its own, else the standards."""
    return _show(request, detail_of(detail_id))


@detail_products.act(by=OFFICE)
def choose_own(request: HttpRequest, detail_id: int) -> HttpResponse:
    """Choose a product for this detail alone."""
    choice = _chosen(request, detail_of(detail_id))
    at = choice.part.replace(" ", "-")
    return done(request, _said(choice), "detail-products-page", at=at, detail_id=detail_id)


@detail_products.act(by=OFFICE)
def use_standard(request: HttpRequest, detail_id: int) -> HttpResponse:
    """Go back to the standard."""
    choice = services.drop_choice(choice_id=values_of(DropForm(request.POST))["choice"])
    said = f"{choice.part} takes the standard again"
    at = choice.part.replace(" ", "-")
    return done(request, said, "detail-products-page", at=at, detail_id=detail_id)


def _chosen(request: HttpRequest, detail: InstallationDetail | None) -> DetailProduct:
    asked = values_of(ChooseForm(request.POST))
    return services.set_choice(part=asked["part"], product=asked["product"], detail=detail)


def _said(choice: DetailProduct) -> str:
    return f"{choice.part}: {choice.product}"


def _show(request: HttpRequest, detail: InstallationDetail | None) -> HttpResponse:
    return render(
        request,
        "materials/choices.html",
        {
            "detail": detail,
            "choices": list(_of_detail(detail) if detail else _of_shop()),
            "has_products": Product.objects.exists(),
            "may_change": may(signed_in(request), OFFICE),
        },
    )


def _of_shop() -> Iterator[PartChoice]:
    fitness, products = queries.fitness(None), list(Product.objects.in_service())
    chosen = queries.chosen(None)
    for part in Part:
        own = [choice for choice in chosen if choice.part == part]
        lacks = "" if own else "no standard is chosen"
        yield PartChoice(part=part, chosen=own, candidates=fitness.candidates(part, products), lacks=lacks)


def _of_detail(detail: InstallationDetail) -> Iterator[PartChoice]:
    fitness, products = queries.fitness(detail), list(Product.objects.in_service())
    chosen, choices, facts = queries.chosen(detail.pk), Choices([detail.pk]), detail.as_facts()
    drawn = {line.part for line in drawn_by(facts)} | {choice.part for choice in chosen}
    for part in Part:
        if part in drawn or part is Part.PRIMER:
            own = [choice for choice in chosen if choice.part == part]
            found = choices.find(part, detail_id=detail.pk, detail=facts)
            yield PartChoice(
                part=part,
                chosen=own,
                candidates=fitness.candidates(part, products),
                standard=None if own else found,
                lacks="" if found else choices.why_none(part, detail=facts) or "no standard is chosen",
            )
