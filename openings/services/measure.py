"""Field measurements and what they decide."""

from __future__ import annotations

from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from jobs.models import Person
from jobs.services import add
from openings.calc.readings import Measured, Readings
from openings.calc.tolerance import checks_of, is_within
from openings.models import FieldMeasurement, Hold
from openings.services.hold import place_hold
from openings.services.lock import lock_opening

SETTLED_BY_MEASURING = (Hold.Kind.NOT_MEASURED, Hold.Kind.OUT_OF_TOLERANCE)


@transaction.atomic
def record_measurement(
    *, opening_id: int, by: Person, measured: str = Measured.ROUGH_OPENING, **readings_in: Decimal
) -> FieldMeasurement:
    """Record what was measured. What is out of tolerance gets a hold; within, it loses that hold.

    Args:
        readings_in: the fields of `Readings`, inches.

    Raises:
        NotFound: there is no such opening.
        BadLength: a reading cannot be one of a rough opening.
    """
    opening = lock_opening(opening_id)
    readings = Readings(**readings_in, measured=Measured(measured))
    checks = checks_of(readings, opening.as_facts(), opening.detail.as_facts())
    measurement = add(
        FieldMeasurement,
        opening=opening,
        measured_by=by,
        is_within_tolerance=is_within(checks),
        measured=measured,
        **readings_in,
    )
    opening.holds.filter(kind__in=SETTLED_BY_MEASURING, released_at__isnull=True).update(
        released_by=by, released_at=timezone.now(), release_note="measured again"
    )
    if not measurement.is_within_tolerance:
        reason = "; ".join(check.reason for check in checks if not check.passed)[:300]
        place_hold(opening_id=opening.pk, kind=Hold.Kind.OUT_OF_TOLERANCE, reason=reason, by=by)
    return measurement
