"""The stock of remnants: what trucks bring back, what lies where, and who counts on it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render
from django.utils import timezone

from jobs.answer import Question
from jobs.calc import say
from jobs.errors import BadInput
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import STOCK
from jobs.queries import today_on_sites
from jobs.signed_in import signed_in
from materials import queries, services
from materials.forms import EnterRemnantForm, ScrapForm, SettleForm, where_of
from materials.models import PlannedRoll, PullSheet, Remnant
from openings.calc.tape import format_length

REMNANTS = "remnants-page"
CORRECTED_WITHIN = timedelta(days=14)
"""How long the page offers what was entered for correction (our choice); the API takes one at any time."""


@Page
def remnants(request: HttpRequest) -> HttpResponse:
    """Rolls to settle, remnants by product, and a form for one that was found."""
    enter_form = EnterRemnantForm(entered(request, "enter"))
    where = where_of(enter_form)
    places = list(where.iterator(where))
    where.choices = places
    sent = entered(request, "settle")
    since = timezone.now() - CORRECTED_WITHIN

    def forms_of(rolls: Iterable[PlannedRoll]) -> list[tuple[PullSheet, SettleForm]]:
        return [
            (one.sheet, SettleForm(_of_rolls(sent, one.rolls), rolls=one.rolls, places=places))
            for one in queries.by_sheet(rolls)
        ]

    on_hand = queries.remnants_on_hand()
    return render(
        request,
        "materials/remnants.html",
        {
            "to_settle": forms_of(queries.rolls_to_settle()),
            "never_loaded": queries.by_sheet(queries.rolls_never_loaded()),
            "settled": forms_of(queries.rolls_settled_since(since)),
            "settled_since": since,
            "on_hand": on_hand,
            "reserved_count": sum(remnant.reserved_for_id is not None for remnant in on_hand),
            "enter_form": enter_form,
            "may_enter": may(signed_in(request), STOCK),
        },
    )


@remnants.act(by=STOCK)
def settle(request: HttpRequest) -> HttpResponse:
    """Enter what a truck brought back of the rolls of a sheet: all that were measured, or none."""
    form = SettleForm(request.POST)
    asked = values_of(form)
    if not form.came_back_in:
        raise BadInput("enter the length that came back of at least one roll")
    settled = services.settle_rolls(
        sheet_id=asked["sheet"], came_back_in=form.came_back_in, place=asked["place"], by=signed_in(request)
    )
    codes = [_written(one.remnant) for one in settled if one.remnant]
    write = f". Mark what came back: {'; '.join(codes)}" if codes else ""
    follows = "".join(f". {sentence}" for one in settled for sentence in one.follows)
    said = f"{say.counted(len(settled), 'roll')} settled{write}{follows}"
    return done(request, said, REMNANTS, at=f"sheet-{asked['sheet']} settled")


@remnants.act(by=STOCK)
def enter(request: HttpRequest) -> HttpResponse:
    """Enter a remnant that was found or brought."""
    remnant = services.enter_remnant(by=signed_in(request), **values_of(EnterRemnantForm(request.POST)))
    said = f"Remnant added. Mark it: {_written(remnant)}"
    return done(request, said, REMNANTS, at=f"product-{remnant.product_id} on-hand")


def what_is_scrapped(request: HttpRequest) -> Question | None:
    """Ask about the remnant, and who goes without it; nothing about one that is scrapped already."""
    remnant = services.remnant_to_scrap(values_of(ScrapForm(request.POST))["remnant"])
    if remnant.fate:
        return None
    kept, follows = f"kept at {remnant.place}", "It is off the books from then on, and this cannot be undone."
    if day := remnant.reserved_for:
        on = say.day(day.on, today_on_sites())
        kept = f"kept for {day.crew} on {on}"
        follows += f" {day.crew} will not have it: the pull sheet for {on} is revised."
    return Question(asks=f"Scrap {_written(remnant)}, {kept}?", follows=follows, yes="Scrap it", no="Keep it")


@remnants.act(by=STOCK, asks=what_is_scrapped)
def scrap(request: HttpRequest) -> HttpResponse:
    """Enter that a remnant is gone."""
    remnant = services.scrap_remnant(remnant_id=values_of(ScrapForm(request.POST))["remnant"], by=signed_in(request))
    return done(request, f"{remnant.code} is scrapped", REMNANTS, at=f"product-{remnant.product_id} on-hand")


def _of_rolls(sent: QueryDict | None, rolls: Iterable[PlannedRoll]) -> QueryDict | None:
    """Return what was sent where it was for one of these rolls."""
    return sent if sent and any(f"roll-{roll.pk}" in sent for roll in rolls) else None


def _written(remnant: Remnant) -> str:
    return f"{remnant.code}, {format_length(remnant.length_in)} of {remnant.product.name}"
