"""Drives between the sites, and from the yard."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs import queries, services
from jobs.calc.say import counted
from jobs.forms import DrivesForm
from jobs.models import Job
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import OFFICE
from jobs.queries.drive import YARD
from jobs.serializers import DrivesAsked
from jobs.signed_in import signed_in

DRIVES = "drives-page"


def _job(request: HttpRequest) -> Job | None:
    """Return the site whose drives are asked for; the first open one where none is named."""
    asked = DrivesAsked(data=request.GET)
    asked.is_valid(raise_exception=True)
    job: Job | None = asked.validated_data["job"] or Job.objects.open().first()
    return job


@Page
def drives(request: HttpRequest) -> HttpResponse:
    """From one site to all others: minutes, where they come from, and a field to enter what is known better."""
    job = _job(request)
    rows = queries.drives_from(job) if job else []
    form = DrivesForm(entered(request, "enter"), rows=rows)
    return render(
        request,
        "jobs/drives.html",
        {
            "job": job,
            "jobs": Job.objects.open(),
            "rows": [(row, form[row.field]) for row in rows],
            "may_enter": may(signed_in(request), OFFICE),
        },
    )


@drives.act(by=OFFICE)
def enter(request: HttpRequest) -> HttpResponse:
    """Keep the minutes that were typed; an empty field goes back to what is worked out."""
    job = _job(request)
    form = DrivesForm(request.POST, rows=queries.drives_from(job) if job else [])
    values_of(form)
    changed = form.minutes()
    if job:
        services.enter_drives(
            site_id=job.pk, minutes={None if other == YARD else other: value for other, value in changed.items()}
        )
    return done(request, f"{counted(len(changed), 'drive')} changed", DRIVES, at="drives")
