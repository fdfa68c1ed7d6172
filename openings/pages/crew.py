"""Crews: all of them, a new one, and one with its days off."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.answer import Question
from jobs.calc import say
from jobs.calc.say import counted
from jobs.forms.crew import CrewDayForm, CrewForm, DaysOffForm
from jobs.models import Crew
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import OFFICE
from jobs.queries import company, today_on_sites
from jobs.services import add_crew, change
from jobs.signed_in import signed_in
from openings import queries, services

CREW = "crew-page"


@Page
def crews(request: HttpRequest) -> HttpResponse:
    """Every crew with its truck and its people, the retired last."""
    shown = sorted(Crew.objects.all(), key=lambda crew: crew.is_retired)
    return render(request, "openings/crews.html", {"crews": shown, "may_change": may(signed_in(request), OFFICE)})


@Page
def crew_new(request: HttpRequest) -> HttpResponse:
    """The form of a new crew, which begins as the company does."""
    crew = Crew(shift_h=company().default_shift_h)
    return render(
        request,
        "openings/crew_new.html",
        {"form": CrewForm(entered(request, "add"), crew=crew), "may_change": may(signed_in(request), OFFICE)},
    )


@crew_new.act(by=OFFICE)
def add(request: HttpRequest) -> HttpResponse:
    """Add it."""
    crew = add_crew(**values_of(CrewForm(request.POST, crew=Crew())))
    return done(request, f"{crew} is added", CREW, at="save", crew_id=crew.pk)


@Page
def crew(request: HttpRequest, crew_id: int) -> HttpResponse:
    """One crew, and its days off to come."""
    shown = queries.crew_of(crew_id)
    return render(
        request,
        "openings/crew.html",
        {
            "crew": shown,
            "form": CrewForm(entered(request, "save"), crew=shown),
            "off_form": DaysOffForm(entered(request, "set_off")),
            "off": queries.days_off_to_come(shown, since=today_on_sites()),
            "planned": say.and_list([say.day(on) for on in queries.days_planned(shown)]),
            "may_change": may(signed_in(request), OFFICE),
        },
    )


@crew.act(by=OFFICE)
def save(request: HttpRequest, crew_id: int) -> HttpResponse:
    """Change it."""
    row = queries.crew_of(crew_id)
    changed = change(row, **values_of(CrewForm(request.POST, crew=row)))
    return done(request, f"{changed} is saved", CREW, at="save", crew_id=crew_id)


def what_is_stranded(request: HttpRequest, crew_id: int) -> Question | None:
    """Ask where openings are assigned to the days."""
    crew, days = queries.crew_of(crew_id), values_of(DaysOffForm(request.POST))
    stranded = services.days_off_would_strand(crew=crew, **days)
    if not stranded:
        return None
    return Question(
        asks=f"Set {crew} off from {say.day(days['first'])} to {say.day(days['last'])}?",
        follows=f"{stranded[:1].upper()}{stranded[1:]}. They stay on the crew board until somebody moves them.",
        yes="Set the days off",
    )


@crew.act(by=OFFICE, asks=what_is_stranded)
def set_off(request: HttpRequest, crew_id: int) -> HttpResponse:
    """Set days off in a row."""
    crew, days = queries.crew_of(crew_id), values_of(DaysOffForm(request.POST))
    stranded = services.set_days_off(crew=crew, **days)
    return done(request, f"{crew} is off {_span(days)}{_stranded(len(stranded))}", CREW, at="off", crew_id=crew_id)


@crew.act(by=OFFICE)
def work(request: HttpRequest, crew_id: int) -> HttpResponse:
    """Let the crew work on a day that was off."""
    day = queries.crew_day_of(queries.crew_of(crew_id), values_of(CrewDayForm(request.POST))["day"])
    services.change_crew_day(crew_day_id=day.pk, off_reason="")
    return done(request, f"{day.crew} works on {say.day(day.on)}", CREW, at="off", crew_id=crew_id)


@crew.act(by=OFFICE)
def retire(request: HttpRequest, crew_id: int) -> HttpResponse:
    """Take it out of service."""
    retired = services.retire_crew(crew_id=crew_id)
    return done(request, f"{retired} is retired; its truck is free", CREW, at="service", crew_id=crew_id)


@crew.act(by=OFFICE)
def put_back(request: HttpRequest, crew_id: int) -> HttpResponse:
    """Put it back in service."""
    back = services.return_crew(crew_id=crew_id)
    return done(request, f"{back} is in service again", CREW, at="service", crew_id=crew_id)


def _span(days: dict[str, Any]) -> str:
    first, last = say.day(days["first"]), say.day(days["last"])
    return f"on {first}" if first == last else f"from {first} to {last}"


def _stranded(count: int) -> str:
    return f"; {counted(count, 'opening')} to move, see the crew board" if count else ""
