"""Jobs and their openings."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.page import Page, may
from jobs.permissions import OFFICE
from jobs.signed_in import signed_in
from openings import queries
from openings.serializers import JobAsked


@Page
def job_list(request: HttpRequest) -> HttpResponse:
    """Every job with its openings by state."""
    return render(request, "openings/job_list.html", {"jobs": queries.jobs_with_counts()})


@Page
def job(request: HttpRequest, job_id: int) -> HttpResponse:
    """A job's openings, all or in one state, its hours and its schedules."""
    asked = JobAsked(data=request.GET)
    asked.is_valid(raise_exception=True)
    state, page = asked.validated_data["state"], asked.validated_data["page"]
    return render(
        request,
        "openings/job.html",
        {
            "sheet": queries.job_sheet(job_id, state=state, page=page),
            "state": state,
            "may_take": may(signed_in(request), OFFICE),
        },
    )
