"""The calendar of the firm: public holidays to confirm, and days on which it works otherwise."""

from __future__ import annotations

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.answer import Question
from jobs.calc import say
from jobs.calc.say import counted
from jobs.forms.company import CompanyDayForm, YearForm
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import OFFICE
from jobs.queries import company, holidays_of, other_days_of, today_on_sites
from jobs.signed_in import signed_in
from openings import services

CALENDAR = "calendar-page"


class DayIdForm(forms.Form):
    """A day of the company, one of those that its calendar shows."""

    day = forms.IntegerField(widget=forms.HiddenInput)


@Page
def calendar(request: HttpRequest) -> HttpResponse:
    """A year of the firm."""
    asked = YearForm(request.GET)
    year = asked.cleaned_data["year"] if asked.is_valid() else today_on_sites().year
    holidays = holidays_of(year)
    return render(
        request,
        "openings/calendar.html",
        {
            "year": year,
            "years": [year - 1, year + 1],
            "company": company(),
            "holidays": holidays,
            "others": other_days_of(year, holidays),
            "form": CompanyDayForm(entered(request, "confirm")),
            "may_change": may(signed_in(request), OFFICE),
        },
    )


def what_is_stranded(request: HttpRequest) -> Question | None:
    """Ask where openings are assigned to crews on that day."""
    values = values_of(CompanyDayForm(request.POST))
    stranded = services.company_day_would_strand(**values, by=signed_in(request))
    if not stranded:
        return None
    return Question(
        asks=f"Set the company so on {say.day(values['on'])}?",
        follows=f"{stranded}. They stay on the crew board until somebody moves them.",
        yes="Confirm the day",
    )


@calendar.act(by=OFFICE, asks=what_is_stranded)
def confirm(request: HttpRequest) -> HttpResponse:
    """Say how the company works on a day."""
    day, stranded = services.set_company_day(**values_of(CompanyDayForm(request.POST)), by=signed_in(request))
    to_move = f"; {counted(len(stranded), 'opening')} to move, see the crew board" if stranded else ""
    return done(request, f"{day.name}, {say.day(day.on)}, is confirmed{to_move}", CALENDAR, at=f"day-{day.on:%m%d} add")


@calendar.act(by=OFFICE)
def unset(request: HttpRequest) -> HttpResponse:
    """Let a day be as usual again."""
    on = services.unset_company_day(company_day_id=values_of(DayIdForm(request.POST))["day"])
    return done(request, f"{say.day(on)} is worked as usual", CALENDAR, at=f"day-{on:%m%d} add")
