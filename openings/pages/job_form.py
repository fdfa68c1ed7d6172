"""Adding a job, changing it, closing and archiving it."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.forms.job import JobForm
from jobs.models import Job
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import OFFICE
from jobs.queries import calendar, company, job_of
from jobs.services import add_job, change
from jobs.signed_in import signed_in
from openings import services

EDIT = "job-edit-page"


@Page
def job_new(request: HttpRequest) -> HttpResponse:
    """The form of a new job, which begins as the company does."""
    firm = company()
    return _form(request, Job(time_zone=firm.time_zone, cutoff=firm.default_cutoff), act="add")


@job_new.act(by=OFFICE)
def add(request: HttpRequest) -> HttpResponse:
    """Add it, and lead to its page, where its schedule is uploaded."""
    job = add_job(**values_of(JobForm(request.POST, job=Job())))
    said = f"{job} is added. Next: upload its window schedule, or add openings one by one"
    return done(request, f"{said}{_warned(job)}", "job-page", job_id=job.pk)


@Page
def job_edit(request: HttpRequest, job_id: int) -> HttpResponse:
    """A job with all that the office knows of it."""
    return _form(request, job_of(job_id), act="save")


@job_edit.act(by=OFFICE)
def save(request: HttpRequest, job_id: int) -> HttpResponse:
    """Change it."""
    job = job_of(job_id)
    changed = change(job, **values_of(JobForm(request.POST, job=job)))
    return done(request, f"{changed} is saved{_warned(changed)}", EDIT, at="save", job_id=job_id)


@job_edit.act(by=OFFICE)
def close(request: HttpRequest, job_id: int) -> HttpResponse:
    """Close it: nothing of it is assigned any more."""
    return done(request, f"{services.close_job(job_id=job_id)} is closed", EDIT, at="state", job_id=job_id)


@job_edit.act(by=OFFICE)
def archive(request: HttpRequest, job_id: int) -> HttpResponse:
    """Leave it out of lists."""
    return done(request, f"{services.archive_job(job_id=job_id)} is archived", EDIT, at="state", job_id=job_id)


@job_edit.act(by=OFFICE)
def reopen(request: HttpRequest, job_id: int) -> HttpResponse:
    """Take it up again."""
    return done(request, f"{services.reopen_job(job_id=job_id)} is open again", EDIT, at="state", job_id=job_id)


def _form(request: HttpRequest, job: Job, *, act: str) -> HttpResponse:
    return render(
        request,
        "openings/job_form.html",
        {
            "job": job,
            "act": act,
            "form": JobForm(entered(request, act), job=job),
            "warning": calendar().warning(job.promised_on) if job.promised_on else "",
            "may_change": may(signed_in(request), OFFICE),
        },
    )


def _warned(job: Job) -> str:
    """Return what speaks against the day promised, as the end of what is said."""
    said = calendar().warning(job.promised_on) if job.promised_on else ""
    return f". Look at the day promised: {said}" if said else ""
