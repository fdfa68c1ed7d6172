"""One installation detail: its steps, and whether it sheds water."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import OFFICE
from jobs.signed_in import signed_in
from openings import queries, services
from openings.calc.lay_order import steps_for
from openings.calc.water.verdict import CAUTION, SOURCES
from openings.forms import AcceptLeakForm, OrderForm, TriedOrderForm

DETAIL = "detail-page"


@Page
def detail(request: HttpRequest, detail_id: int) -> HttpResponse:
    """A detail in its own order of steps, or in one that is tried, with what water does on the wall."""
    steps = steps_for(queries.detail_of(detail_id).as_facts())
    form = TriedOrderForm(request.GET if steps[0].code.value in request.GET else None, steps=steps)
    sheet = queries.detail_sheet(detail_id, tried=form.order())
    return render(
        request,
        "openings/detail.html",
        {
            "sheet": sheet,
            "order_form": form,
            "accept_form": AcceptLeakForm(entered(request, "accept_leak")),
            "caution": CAUTION,
            "sources": SOURCES,
            "may_change": may(signed_in(request), OFFICE),
        },
    )


@detail.act(by=OFFICE)
def reorder(request: HttpRequest, detail_id: int) -> HttpResponse:
    """Keep an order of its own, or go back to the usual one."""
    order = values_of(OrderForm(request.POST))["own_order"]
    kept = services.revise_detail(detail_id=detail_id, own_order=order)
    said = f"{kept} is installed in an order of its own" if order else f"{kept} is installed in the usual order"
    return done(request, said, DETAIL, at="order", detail_id=detail_id)


@detail.act(by=OFFICE)
def accept_leak(request: HttpRequest, detail_id: int) -> HttpResponse:
    """Take it as it is, though it lets water in."""
    why = values_of(AcceptLeakForm(request.POST))["why"]
    accepted = services.accept_leak(detail_id=detail_id, by=signed_in(request), why=why)
    return done(request, f"{accepted} is accepted as it is", DETAIL, at="accepted", detail_id=detail_id)
