"""The installation details of a job: listed, and begun from a starting point or from a detail that is there."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import OFFICE
from jobs.queries import job_of
from jobs.signed_in import signed_in
from openings import queries, services
from openings.forms import NewDetailForm


@Page
def details(request: HttpRequest, job_id: int) -> HttpResponse:
    """Each detail with how many openings have it."""
    return render(
        request,
        "openings/details.html",
        {
            "job": job_of(job_id),
            "details": queries.details_of_job(job_id),
            "form": NewDetailForm(entered(request, "begin"), details=queries.details_to_copy()),
            "may_change": may(signed_in(request), OFFICE),
        },
    )


@details.act(by=OFFICE)
def begin(request: HttpRequest, job_id: int) -> HttpResponse:
    """Add a detail, and go on to its answers."""
    form = NewDetailForm(request.POST, details=queries.details_to_copy())
    values_of(form)
    added = services.add_detail(job=job_of(job_id), **form.asked)
    return done(request, f"{added} is added: change what differs in this job", "edit-detail-page", detail_id=added.pk)
