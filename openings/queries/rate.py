"""The rates that labor is calculated with."""

from __future__ import annotations

from typing import Any

from openings.calc.labor_rates import RATE_NAMES, LaborRates, rates_from
from openings.models import LaborRate


def labor_rates() -> LaborRates:
    """Return the starting rates, corrected by what the shop recorded. One query."""
    rows = LaborRate.objects.values_list("name", "person_h", "source")
    return rates_from({name: (person_h, source) for name, person_h, source in rows})


def named_rates() -> list[dict[str, Any]]:
    """Return every rate under its name. One query."""
    rates = labor_rates()
    return [_named(name, rates) for name in RATE_NAMES]


def own_rates() -> set[str]:
    """Return the names of the rates that the company set itself. One query."""
    return set(LaborRate.objects.values_list("name", flat=True))


def named_rate(name: str) -> dict[str, Any]:
    """Return one rate under its name, one of `RATE_NAMES`. One query."""
    return _named(name, labor_rates())


def _named(name: str, rates: LaborRates) -> dict[str, Any]:
    rate = getattr(rates, name)
    return {"name": name, "task": rate.task, "unit": rate.unit, "person_h": rate.person_h, "source": rate.source}
