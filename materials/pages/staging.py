"""The staging board: each crew's truck for a day."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.calc.say import counted
from jobs.dates import day_beside
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import STOCK
from jobs.signed_in import signed_in
from materials import queries, services, tasks
from materials.forms import LoadForm, RequestSheetForm
from materials.models import PullSheet
from materials.serializers import StagingDay

STAGING = "staging-page"


@Page
def staging(request: HttpRequest) -> HttpResponse:
    """The newest sheet of each crew on a day: lines to load, roll cuts, and what is short."""
    asked = StagingDay(data=request.GET)
    asked.is_valid(raise_exception=True)
    on = asked.validated_data.get("on") or queries.next_staging_day()
    staging = queries.staging_on(on)
    return render(
        request,
        "materials/staging.html",
        {
            "on": on,
            "previous": day_beside(on, -1),
            "next": day_beside(on, 1),
            "staging": staging,
            "trucks": staging.trucks,
            "entered": entered(request, "load") or {},
            "may_load": may(signed_in(request), STOCK),
        },
    )


@staging.act(by=STOCK)
def load(request: HttpRequest) -> HttpResponse:
    """Enter how many packages of each line lie on the truck."""
    form = LoadForm(request.POST)
    sheet_id = values_of(form)["sheet"]
    loaded = services.load_lines(sheet_id=sheet_id, packages=form.packages, by=signed_in(request))
    return done(request, f"{counted(len(loaded), 'line')} saved", STAGING)


@staging.act(by=STOCK)
def ask(request: HttpRequest) -> HttpResponse:
    """Update a crew's pull sheet; a worker writes it."""
    asked = values_of(RequestSheetForm(request.POST))
    sheet = services.request_pull_sheet(crew_id=asked["crew"], on=asked["on"], by=signed_in(request))
    if sheet.state != PullSheet.State.PENDING:
        return done(request, f"{sheet} is up to date: nothing has changed since it was issued", STAGING)
    tasks.write_pull_sheet.delay_on_commit(sheet.pk)
    return done(request, f"{sheet} is being written", STAGING)
