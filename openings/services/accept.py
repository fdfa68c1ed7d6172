"""Taking what was measured of a rough opening for its size."""

from __future__ import annotations

from textwrap import shorten
from zoneinfo import ZoneInfo

from django.utils import timezone

from jobs import transaction
from jobs.about import about
from jobs.calc import say
from jobs.errors import Conflict, NotFound
from jobs.models import Person
from jobs.services import change
from openings.calc.as_built import built_size_in, why_no_room
from openings.calc.binding import Answer, Decision, Verb
from openings.calc.units import US, Units
from openings.models import FieldMeasurement, Hold, Opening
from openings.models.hold import LONGEST_REASON
from openings.queries.binding import require_free
from openings.services.hold import place_hold
from openings.services.lock import lock_opening


@transaction.atomic
def accept_measurement(*, measurement_id: int, by: Person, units: Units = US) -> FieldMeasurement:
    """Take a measured rough opening for its size as built, in place of the drawn one and of what was accepted before.

    Every figure follows by itself, issued sheets too. Where what is loaded or laid may be short by it, the opening
    goes on hold. Accepted once more, nothing changes.

    Args:
        units: in which measures a refusal is said.

    Raises:
        NotFound: there is no such measurement.
        OpeningBound: the install is done.
        Conflict: it is no measurement of the rough opening, the unit does not go in, or a later one is accepted.
        ValidationError: the detail does not fit the opening as built.
    """
    opening_id = FieldMeasurement.objects.filter(pk=measurement_id).values_list("opening", flat=True).first()
    if opening_id is None:
        raise NotFound(f"there is no measurement {measurement_id}")
    opening = lock_opening(opening_id)
    measurement = opening.measurements.select_related("measured_by").get(pk=measurement_id)
    if opening.built_from_id == measurement.pk:
        return measurement
    decision = require_free(opening, Verb.ACCEPT_BUILT, kept="keeps its size")
    _require_newest(measurement, opening)
    readings = measurement.as_readings()
    if why := why_no_room(readings, (opening.unit_width_in, opening.unit_height_in), units=units):
        raise Conflict(f"{opening} keeps its size: {why}", about=[about(opening), about(measurement)])
    was, (width_in, height_in) = opening.rough_opening.in_force_in, built_size_in(readings)
    change(opening, built_ro_width_in=width_in, built_ro_height_in=height_in, built_from=measurement)
    if was != (width_in, height_in):
        _hold(opening, decision, by)
    return change(measurement, accepted_by=by, accepted_at=timezone.now())


def _require_newest(measurement: FieldMeasurement, opening: Opening) -> None:
    accepted = opening.built_from
    if accepted and (accepted.measured_at, accepted.pk) > (measurement.measured_at, measurement.pk):
        at = say.moment(accepted.measured_at.astimezone(ZoneInfo(opening.job.time_zone)))
        sentence = f"{opening} was measured again {at}, and that is accepted; if it is wrong, measure once more"
        raise Conflict(sentence, about=[about(opening), about(accepted)])


def _hold(opening: Opening, decision: Decision, by: Person) -> None:
    """Place a hold where the table asks for one; one that waits for material already stands for it."""
    if decision.by is None or decision.answer is not Answer.HOLD:
        return
    if opening.holds.open().filter(kind=Hold.Kind.MATERIAL_SHORT).exists():
        return
    reason = (
        f"rough opening {opening.rough_opening.said()}, and {decision.by.said}: check that what is cut still reaches"
    )
    place_hold(
        opening_id=opening.pk,
        kind=Hold.Kind.MATERIAL_SHORT,
        reason=shorten(reason, LONGEST_REASON, placeholder=" …"),
        by=by,
    )
