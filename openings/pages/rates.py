"""The labor rates of the company, each with its source."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import OFFICE
from jobs.signed_in import signed_in
from openings import queries, services
from openings.calc.labor_rates import STARTING_RATES
from openings.forms import RateForm, RateNameForm

RATES = "labor-rates-page"


@Page
def labor_rates(request: HttpRequest) -> HttpResponse:
    """Every rate with its source and what the service began with, and what stretches the work."""
    typed, own = entered(request, "set_rate"), queries.own_rates()
    rates = [
        rate
        | {
            "began_with": getattr(STARTING_RATES, rate["name"]),
            "is_own": rate["name"] in own,
            "form": RateForm(
                typed if typed and typed.get("name") == rate["name"] else None,
                initial=rate,
                auto_id=f"{rate['name']}_%s",
            ),
        }
        for rate in queries.named_rates()
    ]
    return render(
        request,
        "openings/labor_rates.html",
        {
            "rates": rates,
            "own_count": len(own),
            "factors": (
                *STARTING_RATES.operation_factors,
                *STARTING_RATES.access_factors,
                *STARTING_RATES.experience_factors,
            ),
            "may_change": may(signed_in(request), OFFICE),
        },
    )


@labor_rates.act(by=OFFICE)
def set_rate(request: HttpRequest) -> HttpResponse:
    """Set a rate of the company's own."""
    asked = values_of(RateForm(request.POST))
    said = services.set_rate(**asked)
    return done(request, f"Saved: {said}", RATES, at=f"rate-{asked['name']}")


@labor_rates.act(by=OFFICE)
def reset_rate(request: HttpRequest) -> HttpResponse:
    """Go back to the rate that the service began with."""
    name = values_of(RateNameForm(request.POST))["name"]
    services.reset_rate(name=name)
    return done(request, "This rate is back to what the service began with", RATES, at=f"rate-{name}")
