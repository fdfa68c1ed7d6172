"""What a job still takes in whole packages, and what of it is to be ordered."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.page import Page
from jobs.queries import job_of
from materials.plans.takeoff import takeoff_of


@Page
def takeoff(request: HttpRequest, job_id: int) -> HttpResponse:
    """Every product of a job: need, spare, packages, on hand, to order, and how rolls are cut."""
    return render(request, "materials/takeoff.html", {"takeoff": takeoff_of(job_of(job_id))})
