"""Field measurements and what they decide."""

from __future__ import annotations

from dataclasses import replace
from textwrap import shorten
from typing import Any, Unpack

from django.utils import timezone

from jobs import transaction
from jobs.models import Person
from jobs.services import add
from openings.calc.reading_slips import require_no_slips
from openings.calc.readings import Measured, Readings, ReadingsIn
from openings.calc.tolerance import Answer, Check, checks_of, is_within
from openings.calc.units import US, Units
from openings.models import FieldMeasurement, Hold, Opening
from openings.models.hold import LONGEST_REASON
from openings.services.hold import place_hold
from openings.services.lock import lock_opening

SETTLED_BY_MEASURING = (Hold.Kind.NOT_MEASURED, Hold.Kind.OUT_OF_TOLERANCE)


@transaction.atomic
def record_measurement(
    *,
    opening_id: int,
    by: Person,
    measured: str = Measured.ROUGH_OPENING,
    units: Units = US,
    **readings_in: Unpack[ReadingsIn],
) -> FieldMeasurement:
    """Record what was measured. What is out of tolerance gets a hold; within, it loses that hold.

    What failed earlier and was not measured again keeps its hold: leaving a field empty mends nothing. Where somebody
    released that hold, it stays released.

    Args:
        units: in which measures a refusal is said.
        readings_in: the fields of `Readings`, inches; a deviation left out was not measured.

    Raises:
        NotFound: there is no such opening.
        BadLength: a reading cannot be one of a rough opening, or not beside the others.
    """
    opening = lock_opening(opening_id)
    readings = Readings(**readings_in, measured=Measured(measured))
    require_no_slips(readings, units=units)
    checks = _checks(readings, opening)
    known = _checks(_with_earlier(readings, opening), opening) if _is_out_of_tolerance(opening) else checks
    measurement = add(
        FieldMeasurement(
            opening=opening, measured_by=by, is_within_tolerance=is_within(checks), measured=measured, **readings_in
        )
    )
    opening.holds.open().filter(kind__in=SETTLED_BY_MEASURING).update(
        released_by=by, released_at=timezone.now(), release_note="measured again"
    )
    if not is_within(known):
        place_hold(opening_id=opening.pk, kind=Hold.Kind.OUT_OF_TOLERANCE, reason=_reason(known, checks), by=by)
    return measurement


def _is_out_of_tolerance(opening: Opening) -> bool:
    return opening.holds.open().filter(kind=Hold.Kind.OUT_OF_TOLERANCE).exists()


def _checks(readings: Readings, opening: Opening) -> tuple[Check, ...]:
    return checks_of(readings, opening.as_facts(), opening.detail.as_facts())


def _with_earlier(readings: Readings, opening: Opening) -> Readings:
    """Return the readings, with what was not measured this time as it was measured last. One query."""
    missing = readings.not_measured
    if not missing:
        return readings
    earlier = opening.measurements.filter(measured=readings.measured).values(*missing)
    known: dict[str, Any] = {
        name: next((row[name] for row in earlier if row[name] is not None), None) for name in missing
    }
    return replace(readings, **known)


def _reason(known: tuple[Check, ...], checks: tuple[Check, ...]) -> str:
    """Return what fails, this time's readings first."""
    now = {check.reason for check in checks if check.answer is Answer.FAILED}
    before = [check.reason for check in known if check.answer is Answer.FAILED and check.reason not in now]
    said = [check.reason for check in checks if check.reason in now]
    whole = "; ".join([*said, *(f"not measured again: {reason}" for reason in before)])
    return shorten(whole, LONGEST_REASON, placeholder=" …")
