"""Taking a window schedule into a job, or looking first at what it would do."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import OFFICE
from openings import queries, services
from openings.forms import ScheduleForm

OPENINGS_SHOWN = 200


@Page
def schedule(request: HttpRequest, job_id: int, plan: services.SchedulePlan | None = None) -> HttpResponse:
    """The file to send, and what the last look at one said."""
    job = queries.job_of(job_id)
    sent = entered(request, "look") or entered(request, "take")
    return render(
        request,
        "openings/schedule.html",
        {
            "job": job,
            "form": ScheduleForm(sent, request.FILES or None, job_id=job_id),
            "plan": plan,
            "shown": plan.openings[:OPENINGS_SHOWN] if plan else (),
            "schedules": queries.schedules_of(job_id),
            "may_take": may(request.user, OFFICE),
        },
    )


@schedule.act(by=OFFICE)
def look(request: HttpRequest, job_id: int) -> HttpResponse:
    """Show what the file would do, and write nothing."""
    return request.show_again(plan=services.preview_schedule(job_id=job_id, **_sent(request, job_id)))


@schedule.act(by=OFFICE)
def take(request: HttpRequest, job_id: int) -> HttpResponse:
    """Take the file: every row or none."""
    taken = services.import_schedule(job_id=job_id, by=request.user, **_sent(request, job_id))
    count = taken.openings.count()
    return done(
        request, f"{taken.filename} is taken as revision {taken.revision}: {count} openings", "job-page", job_id=job_id
    )


def _sent(request: HttpRequest, job_id: int) -> dict[str, Any]:
    sent = values_of(ScheduleForm(request.POST, request.FILES, job_id=job_id))
    return {"filename": sent["file"].name, "content": sent["file"].read(), "detail": sent["detail"]}
