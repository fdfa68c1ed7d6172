"""Forecasts of the sites, and the weather from which on nothing is set."""

from __future__ import annotations

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs import queries, services
from jobs.calc import say
from jobs.forms.weather import ForecastForm, WeatherLimitsForm
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import OFFICE
from jobs.signed_in import signed_in

FORECASTS_A_PAGE = 60


@Page
def forecasts(request: HttpRequest) -> HttpResponse:
    """What is expected from today on, and the form that enters it; `?change=` fills it with one that is there."""
    chosen = request.GET.get("change", "")
    forecast = queries.forecast_of(int(chosen) if chosen.isdecimal() and len(chosen) < 10 else None)
    return render(
        request,
        "jobs/forecasts.html",
        {
            "page": Paginator(queries.forecasts_to_come(), FORECASTS_A_PAGE).get_page(request.GET.get("page")),
            "form": ForecastForm(entered(request, "enter"), forecast=forecast),
            "limits": queries.weather_limits(),
            "may_change": may(signed_in(request), OFFICE),
        },
    )


@forecasts.act(by=OFFICE)
def enter(request: HttpRequest) -> HttpResponse:
    """Enter the weather of a day, or replace what was entered."""
    kept = services.set_forecasts(**values_of(ForecastForm(request.POST)))
    where = str(kept[0].job) if len(kept) == 1 else say.counted(len(kept), "job")
    return done(request, f"The forecast of {where} for {say.day(kept[0].on)} is saved", "forecasts-page", at="enter")


@Page
def weather_limits(request: HttpRequest) -> HttpResponse:
    """The wind and the rain above which crews and the office are warned, each with its source."""
    limits = queries.weather_limits()
    return render(
        request,
        "jobs/weather_limits.html",
        {
            "limits": limits,
            "form": WeatherLimitsForm(entered(request, "set_limits"), limits=limits),
            "may_change": may(signed_in(request), OFFICE),
        },
    )


@weather_limits.act(by=OFFICE)
def set_limits(request: HttpRequest) -> HttpResponse:
    """Set the shop's own."""
    services.set_weather_limits(**values_of(WeatherLimitsForm(request.POST, limits=queries.weather_limits())))
    return done(request, "The limits are saved", "weather-limits-page", at="limits")


@weather_limits.act(by=OFFICE)
def reset(request: HttpRequest) -> HttpResponse:
    """Go back to those that the service starts with."""
    services.reset_weather_limits()
    return done(request, "The limits are those that the service starts with", "weather-limits-page", at="limits")
