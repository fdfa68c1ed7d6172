"""Adding an opening by hand, and changing what one is."""

from __future__ import annotations

from typing import Unpack

from jobs import transaction
from jobs.errors import Fault
from jobs.models import Person
from jobs.services import add, change
from openings.calc.binding import revising, say_columns
from openings.calc.units import US, Units
from openings.calc.weight_doubt import require_weight
from openings.errors import BadWeight
from openings.models import InstallationDetail, Opening
from openings.models.opening import WEIGHED_BY
from openings.models.values import OpeningChanges, OpeningValues
from openings.queries.binding import require_free
from openings.services.follow import follow_rules
from openings.services.leak import require_shedding
from openings.services.lock import lock_detail, lock_opening

HOW = "send weight_confirmed as true"
"""How the weight of one opening is confirmed."""


@transaction.atomic
def add_opening(
    *,
    detail: InstallationDetail,
    by: Person | None = None,
    weight_confirmed: bool = False,
    units: Units = US,
    **values: Unpack[OpeningValues],
) -> Opening:
    """Add one opening, with a detail that it can take.

    Args:
        weight_confirmed: whether `by` says that the weight is right, whatever glass and frame weigh.
        units: in which measures a refusal is said.

    Raises:
        ValidationError: a value or a constraint is not kept, or the detail does not fit the opening.
        DetailLeaks: the detail lets water in, and nobody has accepted that.
        BadWeight: the weight cannot be that of the unit and is not confirmed, or is to be confirmed and not given.
    """
    detail = lock_detail(detail.pk)
    require_shedding(detail)
    added = add(Opening(detail=detail, **values))
    if weight_confirmed:
        change(added, weight_confirmed_by=_confirming(added, by))
    else:
        require_weight(added.as_facts(), how=HOW, units=units)
    follow_rules([added.pk])
    return added


@transaction.atomic
def revise_opening(
    *,
    opening_id: int,
    by: Person | None = None,
    weight_confirmed: bool | None = None,
    units: Units = US,
    **values: Unpack[OpeningChanges],
) -> Opening:
    """Change the named columns of an opening.

    A confirmed weight is confirmed no more once it, the unit's size, its glass or its frame changes.

    Args:
        weight_confirmed: whether `by` says that the weight is right, whatever glass and frame weigh; False takes back
            what somebody said, None leaves it.
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
    change(opening, **values | {"detail": detail}, **confirmed_by)
    if weight_confirmed:
        change(opening, weight_confirmed_by=_confirming(opening, by))
    elif is_confirmed_no_more:
        require_weight(opening.as_facts(), how=HOW, units=units)
    if "floor" in changed:
        follow_rules([opening.pk])
    return opening


def _confirming(opening: Opening, by: Person | None) -> Person | None:
    """Return who confirms the weight of an opening.

    Raises:
        BadWeight: it has none.
    """
    if opening.weight_lb is None:
        sentence = "there is no weight to confirm; give the weight, or leave the confirmation out"
        raise BadWeight(sentence, faults=[Fault(field="weight_confirmed", value="true", detail=sentence)])
    return by
