"""The page of the firm."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs import queries, services
from jobs.forms.company import CompanyForm
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import OFFICE
from jobs.signed_in import signed_in


@Page
def company(request: HttpRequest) -> HttpResponse:
    """The firm, its yard, and what new jobs and crews begin with."""
    firm = queries.company()
    return render(
        request,
        "jobs/company.html",
        {
            "company": firm,
            "form": CompanyForm(entered(request, "save"), company=firm),
            "may_change": may(signed_in(request), OFFICE),
        },
    )


@company.act(by=OFFICE)
def save(request: HttpRequest) -> HttpResponse:
    """Enter it, or change it."""
    firm = services.set_company(**values_of(CompanyForm(request.POST, company=queries.company())))
    return done(request, f"{firm} is saved", "company-page", at="save")
