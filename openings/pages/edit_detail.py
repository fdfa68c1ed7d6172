"""The answers of one installation detail, with the elevation that they make."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.answer import outcome, say
from jobs.errors import BadInput
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import OFFICE
from jobs.signed_in import signed_in
from openings import queries, services
from openings.calc.lay_order import CAUTION
from openings.calc.units import US
from openings.forms import DetailForm
from openings.models import InstallationDetail
from openings.plans.draw_detail import DrawnDetail, draw_detail

KEPT_APART = {"name", "is_default"}


@Page
def edit_detail(request: HttpRequest, detail_id: int) -> HttpResponse:
    """The form, as it is stored or as it was typed, and the drawing of that."""
    detail = queries.detail_of(detail_id)
    form = DetailForm(entered(request, "revise") or entered(request, "preview"), row=detail)
    return render(
        request,
        "openings/edit_detail.html",
        {
            "detail": detail,
            "form": form,
            "drawn": _drawn(form, detail),
            "units": US,
            "openings_count": queries.openings_having(detail_id),
            "caution": CAUTION,
            "may_change": may(signed_in(request), OFFICE),
        },
    )


def _drawn(form: DetailForm, detail: InstallationDetail) -> DrawnDetail:
    """Return the drawing of what was typed as far as it can be read."""
    if form.is_bound:
        form.is_valid()
    typed: dict[str, Any] = form.cleaned_data if form.is_bound else {}
    return draw_detail({name: value for name, value in typed.items() if name not in KEPT_APART}, of=detail)


@Page
def detail_drawing(request: HttpRequest, detail_id: int) -> HttpResponse:
    """The drawing alone, of the answers in the address; nothing is saved."""
    detail = queries.detail_of(detail_id)
    drawn = _drawn(DetailForm(request.GET or None, row=detail), detail)
    return render(request, "openings/detail_drawing.html", {"drawn": drawn, "units": US})


@edit_detail.act(by=OFFICE)
def revise(request: HttpRequest, detail_id: int) -> HttpResponse:
    """Save the answers: they reach every opening that has the detail."""
    answers = values_of(DetailForm(request.POST, row=queries.detail_of(detail_id)))
    revised = services.revise_detail(detail_id=detail_id, **answers)
    return done(request, f"{revised} is saved", "detail-page", detail_id=detail_id)


@edit_detail.act(by=OFFICE)
def preview(request: HttpRequest, detail_id: int) -> HttpResponse:
    """Draw what was typed, and save nothing."""
    detail = queries.detail_of(detail_id)
    form = DetailForm(request.POST, row=detail)
    values_of(form)
    if wrong := _drawn(form, detail).wrong:
        raise BadInput(wrong)
    say(request, "Drawn as typed. Nothing is saved yet.")
    show = outcome(request).show_again
    return show() if show else edit_detail(request, detail_id=detail_id)
