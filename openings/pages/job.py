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
    """The jobs with their openings by state; with `?show=archived` those that were archived."""
    is_archived = request.GET.get("show") == "archived"
    return render(
        request,
        "openings/job_list.html",
        {
            "jobs": queries.jobs_with_counts(is_archived=is_archived),
            "is_archived": is_archived,
            "may_add": may(signed_in(request), OFFICE),
        },
    )


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
