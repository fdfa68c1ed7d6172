"""What the demo's office has entered besides jobs, crews and people: its units, deliveries, days and forecasts.

Dates of the fixture are counted from today, so that the demo is never out of date.
"""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from jobs import services as jobs
from jobs.models import Crew, Job, Person
from jobs.queries import today_on_sites
from openings import services as openings
from openings.calc.readiness import Condition
from openings.models import Opening, Unit


def enter_days(site: dict[str, Any], *, by: Person) -> None:
    """Enter the days on which the company or one of its crews works otherwise."""
    for one in site["company_days"]:
        openings.set_company_day(on=_day(one["in_days"]), name=one["name"], shift_h=Decimal(one["shift_h"]), by=by)
    for one in site["days_off"]:
        first, last = (_day(count) for count in one["in_days"])
        crew = Crew.objects.get(name=one["crew"])
        openings.set_days_off(crew=crew, first=first, last=last, off_reason=one["off_reason"])


def enter_job(job: Job, one: dict[str, Any], *, received_by: Person) -> None:
    """Enter what is known of a job's weather, of the trades before, and of its units."""
    for forecast in one["forecasts"]:
        on, figures = _day(forecast["in_days"]), {key: Decimal(forecast[key]) for key in FIGURES}
        jobs.set_forecast(job=job, on=on, **figures)
    for trade in one["trades_before"]:
        openings.add_trade_before(job=job, **_columns(trade))
    for delivery in one["deliveries"]:
        _deliver(job, delivery, by=received_by)


FIGURES = ("low_f", "high_f", "wind_mph", "rain_in")


def _deliver(job: Job, one: dict[str, Any], *, by: Person) -> None:
    """Order the units of some floors for one delivery, and receive it where it has come."""
    ids = Opening.objects.filter(job=job, floor__in=one["floors"]).values_list("pk", flat=True)
    delivery = openings.add_delivery(
        job=job, supplier=one["supplier"], reference=one["reference"], expected_on=_day(one["expected_in_days"])
    )
    openings.order_units(
        opening_ids=list(ids),
        ordered_on=_day(one["ordered_in_days"]),
        order_ref=one["reference"],
        delivery=delivery,
    )
    if "stands_at" not in one:
        return
    damaged = one["damaged"]
    units = Unit.objects.filter(delivery=delivery, opening__mark__in=damaged).select_related("opening")
    flaws = {unit.pk: openings.Flaw(condition=Condition.DAMAGED, note=damaged[unit.opening.mark]) for unit in units}
    openings.receive_delivery(delivery_id=delivery.pk, by=by, stands_at=one["stands_at"], flaws=flaws)


def _columns(one: dict[str, Any]) -> dict[str, Any]:
    """Return what a fixture says of a row, with `expected_in_days` read as the date `expected_on`."""
    ends = "_in_days"
    return {key.replace(ends, "_on"): _day(value) if key.endswith(ends) else value for key, value in one.items()}


def _day(in_days: int) -> date:
    return today_on_sites() + timedelta(days=in_days)
