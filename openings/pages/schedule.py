"""The window schedules of a job: a file to upload, files that are not applied yet, and every revision."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.page import Page, entered, may, values_of
from jobs.permissions import OFFICE
from jobs.queries import job_of
from jobs.signed_in import signed_in
from openings import queries, services
from openings.forms import ScheduleForm
from openings.pages.schedule_draft import read_on


@Page
def schedule(request: HttpRequest, job_id: int) -> HttpResponse:
    """The form, and what was uploaded so far."""
    return render(
        request,
        "openings/schedule.html",
        {
            "job": job_of(job_id),
            "form": ScheduleForm(entered(request, "send"), request.FILES or None, job_id=job_id),
            "drafts": queries.drafts_of(job_id),
            "schedules": queries.schedules_of(job_id),
            "may_send": may(signed_in(request), OFFICE),
        },
    )


@schedule.act(by=OFFICE)
def send(request: HttpRequest, job_id: int) -> HttpResponse:
    """Keep the file and read it; nothing of the job is touched."""
    sent = values_of(ScheduleForm(request.POST, request.FILES, job_id=job_id))
    file = sent["file"]
    draft = services.send_schedule(
        job_id=job_id, filename=file.name, content=file.read(), detail=sent["detail"], by=signed_in(request)
    )
    return read_on(request, draft)
