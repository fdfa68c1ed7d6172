"""The shop's own labor rates."""

from __future__ import annotations

from decimal import Decimal

from jobs import transaction
from jobs.errors import NotFound
from jobs.services import add, change
from openings.calc.labor_rates import RATE_NAMES
from openings.models import LaborRate


@transaction.atomic
def set_rate(*, name: str, person_h: Decimal, source: str) -> LaborRate:
    """Set a rate of the shop's own. Openings assigned already keep the hours they were assigned with.

    Raises:
        NotFound: there is no such rate.
        ValidationError: the hours are not above 0 and at most 100, or no source is named.
    """
    row = LaborRate.objects.select_for_update().filter(name=_known(name)).first()
    if row is None:
        return add(LaborRate(name=name, person_h=person_h, source=source))
    return change(row, person_h=person_h, source=source)


def reset_rate(*, name: str) -> None:
    """Go back to the starting rate. Safe to repeat.

    Raises:
        NotFound: there is no such rate.
    """
    LaborRate.objects.filter(name=_known(name)).delete()


def _known(name: str) -> str:
    if name not in RATE_NAMES:
        raise NotFound(f"there is no rate {name}; there are {', '.join(RATE_NAMES)}")
    return name
