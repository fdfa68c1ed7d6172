"""Adding an opening by hand, and changing what one is."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Unpack

from django.db.models import Max

from jobs import transaction
from jobs.errors import Fault
from jobs.models import Person
from jobs.services import add, change
from openings.calc.binding import revising, say_columns
from openings.calc.marks import numbered
from openings.calc.units import US, Units
from openings.calc.weight_doubt import require_weight
from openings.errors import BadWeight
from openings.models import InstallationDetail, Opening
from openings.models.opening import WEIGHED_BY
from openings.models.values import OpeningChanges, OpeningValues
from openings.queries.binding import require_free
from openings.queries.existing import COMPARED
from openings.services.copy import copy_opening
from openings.services.detail import add_detail
from openings.services.follow import follow_rules
from openings.services.leak import require_shedding
from openings.services.lock import lock_detail, lock_opening

HOW = "send weight_confirmed as true"
"""How the weight of one opening is confirmed over the API."""

SAID_BY_SCHEDULES = frozenset({*COMPARED, "detail"})


@transaction.atomic
def add_opening(
    *,
    detail: InstallationDetail,
    by: Person | None = None,
    weight_confirmed: bool = False,
    how: str = HOW,
    units: Units = US,
    **values: Unpack[OpeningValues],
) -> Opening:
    """Add one opening, with a detail that it can take; it is the last of its job.

    Args:
        weight_confirmed: whether `by` says that the weight is right, whatever glass and frame weigh.
        how: how the weight is confirmed where this is asked, for a refusal.
        units: in which measures a refusal is said.

    Raises:
        ValidationError: a value or a constraint is not kept, or the detail does not fit the opening.
        DetailLeaks: the detail lets water in, and nobody has accepted that.
        BadWeight: the weight cannot be that of the unit and is not confirmed, or is to be confirmed and not given.
    """
    detail = lock_detail(detail.pk)
    require_shedding(detail)
    last = Opening.objects.filter(job=values["job"]).aggregate(last=Max("position"))["last"] or 0
    added = add(Opening(detail=detail, position=last + 1, **values))
    if weight_confirmed:
        change(added, weight_confirmed_by=_confirming(added, by))
    else:
        require_weight(added.as_facts(), how=how, units=units)
    follow_rules([added.pk])
    return added


@transaction.atomic
def add_openings(
    *,
    count: int,
    detail: InstallationDetail | str,
    by: Person | None = None,
    weight_confirmed: bool = False,
    how: str = HOW,
    units: Units = US,
    **values: Unpack[OpeningValues],
) -> Sequence[Opening]:
    """Add openings of one kind, `mark`, with marks as a schedule of that quantity gives them: W3, or W3-01, W3-02, …

    Args:
        detail: of the job, or the name of a starting point of which the job gets a copy.

    Raises:
        BadInput, Conflict: as `copy_opening`.
        ValidationError, DetailLeaks, BadWeight: as `add_opening`.
    """
    values["schedule_mark"] = values["mark"]
    if count > 1:
        values["mark"] = numbered(values["mark"], 1)
    if isinstance(detail, str):
        detail = add_detail(job=values["job"], name=detail, starting_point=detail)
    first = add_opening(detail=detail, by=by, weight_confirmed=weight_confirmed, how=how, units=units, **values)
    return [first, *(copy_opening(opening_id=first.pk, count=count - 1) if count > 1 else ())]


@transaction.atomic
def revise_opening(
    *,
    opening_id: int,
    by: Person | None = None,
    weight_confirmed: bool | None = None,
    how: str = HOW,
    units: Units = US,
    **values: Unpack[OpeningChanges],
) -> Opening:
    """Change the named columns of an opening; of one from a schedule it is kept which, for its next revision.

    A confirmed weight is confirmed no more once it, the unit's size, its glass or its frame changes.

    Args:
        weight_confirmed: whether `by` says that the weight is right, whatever glass and frame weigh; False takes back
            what somebody said, None leaves it.
        how: how the weight is confirmed where this is asked, for a refusal.
        units: in which measures a refusal is said.

    Raises:
        NotFound: there is no such opening.
        OpeningBound: the change would touch what is recorded, or what the material on a truck was cut or counted for.
        ValidationError: a value or a constraint is not kept, or the detail does not fit the opening.
        DetailLeaks: the detail is another one, lets water in, and nobody has accepted that.
        BadWeight: as `add_opening`.
    """
    opening = lock_opening(opening_id)
    changed = [name for name, value in values.items() if value != getattr(opening, name)]
    require_free(opening, revising(changed), kept=f"stays as it is ({say_columns(changed)})")
    is_weighed_anew = not set(WEIGHED_BY).isdisjoint(changed)
    detail = lock_detail(values.get("detail", opening.detail).pk)
    if "detail" in changed:
        require_shedding(detail)
    is_confirmed_no_more = weight_confirmed is False or is_weighed_anew
    confirmed_by = {"weight_confirmed_by": None} if is_confirmed_no_more else {}
    by_hand = {"changed_by_hand": _changed_by_hand(opening, changed)}
    change(opening, **values | {"detail": detail}, **confirmed_by, **by_hand)
    if weight_confirmed:
        change(opening, weight_confirmed_by=_confirming(opening, by))
    elif is_confirmed_no_more:
        require_weight(opening.as_facts(), how=how, units=units)
    if "floor" in changed:
        follow_rules([opening.pk])
    return opening


def _changed_by_hand(opening: Opening, changed: Collection[str]) -> list[str]:
    """Return the columns that a schedule gave and somebody changed since, with these."""
    if opening.schedule_id is None:
        return []
    return sorted({*opening.changed_by_hand, *SAID_BY_SCHEDULES.intersection(changed)})


def _confirming(opening: Opening, by: Person | None) -> Person | None:
    """Return who confirms the weight of an opening.

    Raises:
        BadWeight: it has none.
    """
    if opening.weight_lb is None:
        sentence = "there is no weight to confirm; give the weight, or leave the confirmation out"
        raise BadWeight(sentence, faults=[Fault(field="weight_confirmed", value="true", detail=sentence)])
    return by
