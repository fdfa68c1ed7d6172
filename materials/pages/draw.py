"""What a whole job draws."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.page import Page
from jobs.queries import job_of
from materials import queries


@Page
def job_draw(request: HttpRequest, job_id: int) -> HttpResponse:
    """Every part and product of a job with exact quantity and packages, void openings left out."""
    job = job_of(job_id)
    return render(request, "materials/job_draw.html", {"job": job, "draw": queries.job_draw(job_id)})
