"""One opening entered by hand: added, changed, copied, made void and restored."""

from __future__ import annotations

from collections.abc import Sequence
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.answer import Question, say
from jobs.calc.say import counted
from jobs.page import Page, done, entered, may, to_answer, values_of
from jobs.permissions import OFFICE
from jobs.queries import job_of
from jobs.signed_in import signed_in
from openings import queries, services
from openings.forms import CopyForm, NewOpeningForm, OpeningForm, VoidForm
from openings.forms.one_opening import HOW
from openings.models import Opening

EDIT = "edit-opening-page"


@Page
def new_opening(request: HttpRequest, job_id: int) -> HttpResponse:
    """The form of an opening to add; where it is and its detail are filled in as they were last."""
    job, details = job_of(job_id), queries.details_of_job(job_id)
    default = next((str(detail.pk) for detail in details if detail.is_default or len(details) == 1), "")
    return render(
        request,
        "openings/new_opening.html",
        {
            "job": job,
            "form": NewOpeningForm(
                entered(request, "add"), details=details, initial={"detail": default} | _kept(request)
            ),
            "may_change": may(signed_in(request), OFFICE),
        },
    )


def _kept(request: HttpRequest) -> dict[str, str]:
    return {name: request.GET[name] for name in ("detail", "floor", "access") if name in request.GET}


@new_opening.act(by=OFFICE)
def add(request: HttpRequest, job_id: int) -> HttpResponse:
    """Add the openings, and be ready for the next."""
    job = job_of(job_id)
    values = values_of(NewOpeningForm(request.POST, details=queries.details_of_job(job_id)))
    added = services.add_openings(job=job, by=signed_in(request), how=HOW, **values)
    say(request, f"{_added(added)}. Enter the next one here")
    kept = {"detail": added[0].detail_id, "floor": added[0].floor, "access": added[0].access}
    return to_answer(request.path, asked=urlencode(kept))


def _added(openings: Sequence[Opening]) -> str:
    first, last = openings[0].mark, openings[-1].mark
    return f"{first} is added" if first == last else f"{counted(len(openings), 'opening')} added: {first} to {last}"


@Page
def edit_opening(request: HttpRequest, opening_id: int) -> HttpResponse:
    """What an opening is, to change, copy, make void or restore."""
    opening = queries.opening_of(opening_id)
    details = queries.details_of_job(opening.job_id)
    return render(
        request,
        "openings/edit_opening.html",
        {
            "opening": opening,
            "form": OpeningForm(entered(request, "revise"), row=opening, details=details),
            "copy_form": CopyForm(entered(request, "copy"), initial={"floor": opening.floor}, auto_id="copy_%s"),
            "void_form": VoidForm(entered(request, "void")),
            "may_change": may(signed_in(request), OFFICE),
        },
    )


@edit_opening.act(by=OFFICE)
def revise(request: HttpRequest, opening_id: int) -> HttpResponse:
    """Save what was typed."""
    opening = queries.opening_of(opening_id)
    details = queries.details_of_job(opening.job_id)
    values = values_of(OpeningForm(request.POST, row=opening, details=details))
    values["weight_confirmed"] = values["weight_confirmed"] or None  # left unchecked, what was confirmed before stays
    revised = services.revise_opening(opening_id=opening_id, by=signed_in(request), how=HOW, **values)
    return done(request, f"{revised} is saved", "opening-page", opening_id=opening_id)


@edit_opening.act(by=OFFICE)
def copy(request: HttpRequest, opening_id: int) -> HttpResponse:
    """Add openings like this one."""
    asked = values_of(CopyForm(request.POST))
    copies = services.copy_opening(opening_id=opening_id, **asked)
    return done(request, _added(copies), EDIT, at="copied", opening_id=opening_id)


def what_is_voided(request: HttpRequest, opening_id: int) -> Question:
    """Ask about the opening, which no crew can be given then."""
    opening: Opening = services.voiding(opening_id=opening_id)
    values_of(VoidForm(request.POST))
    return Question(
        asks=f"Make {opening.mark} of {opening.job.code} void?",
        follows="It is kept with its history, no crew can be given it, and no later window schedule brings it back. "
        "It can be restored here.",
        yes="Make it void",
    )


@edit_opening.act(by=OFFICE, asks=what_is_voided)
def void(request: HttpRequest, opening_id: int) -> HttpResponse:
    """Take the opening out of the work."""
    why = values_of(VoidForm(request.POST))["why"]
    voided = services.void_opening(opening_id=opening_id, by=signed_in(request), why=why)
    return done(request, f"{voided} is void", EDIT, at="voided", opening_id=opening_id)


@edit_opening.act(by=OFFICE)
def restore(request: HttpRequest, opening_id: int) -> HttpResponse:
    """Take back that the opening is void."""
    restored = services.restore_opening(opening_id=opening_id)
    return done(request, f"{restored} is restored", EDIT, at="voided", opening_id=opening_id)
