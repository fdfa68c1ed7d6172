"""The crew's own days, made for a phone."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.page import Page, values_of
from jobs.queries import today_on_sites
from jobs.signed_in import signed_in
from materials.queries import cautions_on
from openings import queries
from openings.calc.lift import CAUTION
from openings.forms import CrewForm


@Page
def crew_day(request: HttpRequest) -> HttpResponse:
    """What is open from earlier days, then today's and the next days' openings of a crew in order, with cautions."""
    form = CrewForm(request.GET or None, initial={"crew": signed_in(request).crew_id})
    crew = values_of(form)["crew"] if form.is_bound else signed_in(request).crew
    today = today_on_sites()
    days = queries.days_of_crew(crew, since=today) if crew else []
    cautions = cautions_on([day.crew_day.pk for day in days])
    return render(
        request,
        "materials/crew_day.html",
        {
            "crew": crew,
            "form": form,
            "today": today,
            "days": [(day, cautions[day.crew_day.pk]) for day in days],
            "still_open": [
                one for one in (queries.stranded(crew_id=crew.pk) if crew else []) if one.assignment.crew_day.on < today
            ],
            "caution": CAUTION,
        },
    )
