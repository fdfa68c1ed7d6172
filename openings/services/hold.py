"""Placing and releasing holds."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date
from typing import TypedDict, Unpack
from zoneinfo import ZoneInfo

from django.utils import timezone

from jobs import transaction
from jobs.about import about, missing_row
from jobs.calc import say
from jobs.errors import BadInput, Conflict, NotFound
from jobs.models import Person
from jobs.services import add, change
from openings.models import Hold, InstallRecord, Opening
from openings.services.follow import follow_rules
from openings.services.lock import lock_opening, lock_openings


@transaction.atomic
def place_hold(*, opening_id: int, kind: str, reason: str, by: Person | None, expected_on: date | None = None) -> Hold:
    """Place a hold. `by` is None where a computation found the opening not ready.

    Args:
        expected_on: the day on which it is expected to be gone; the opening can be planned from the next one on.

    Raises:
        NotFound: there is no such opening.
        Conflict: the opening is complete.
        ValidationError: no reason, or an open hold of this kind stands already.
    """
    opening = lock_opening(opening_id)
    _require_incomplete([opening])
    return add(Hold(opening=opening, kind=kind, reason=reason, expected_on=expected_on, placed_by=by))


@transaction.atomic
def place_holds(
    *, opening_ids: Collection[int], kind: str, reason: str, by: Person, expected_on: date | None = None
) -> list[Hold]:
    """Place a hold on every one of the openings, or on none; one that has an open hold of this kind keeps that.

    Returns:
        The holds that were placed, in the order of the openings' ids.

    Raises:
        NotFound: one of them does not exist.
        BadInput: none is named, or there is no reason.
        Conflict: one is complete.
        ValidationError: the reason is too long, or the day out of reach.
    """
    if not opening_ids:
        raise BadInput("select at least one opening")
    openings = lock_openings(set(opening_ids))
    _require_incomplete(openings)
    held = set(Hold.objects.open().filter(opening__in=openings, kind=kind).values_list("opening", flat=True))
    holds = [
        Hold(opening=opening, kind=kind, reason=reason, expected_on=expected_on, placed_by=by)
        for opening in openings
        if opening.pk not in held
    ]
    for hold in holds[:1]:
        hold.clean_fields()
    return Hold.objects.bulk_create(holds)


class HoldChanges(TypedDict, total=False):
    """What changes of an open hold."""

    reason: str
    expected_on: date | None


@transaction.atomic
def revise_hold(*, hold_id: int, **values: Unpack[HoldChanges]) -> Hold:
    """Change the reason of an open hold, or the day on which it is expected to be gone.

    Raises:
        NotFound: there is no such hold.
        Conflict: it is released, or a rule keeps it.
        ValidationError: no reason is left.
    """
    (hold,) = _lock_open([hold_id])
    return change(hold, **values)


def hold_all(reasons: Mapping[int, str]) -> None:
    """Place a hold on every opening of `reasons`, which their caller has locked, because the schedule changed.

    One that has such a hold keeps it: somebody has to look all the same. One query.
    """
    holds = [
        Hold(opening_id=opening_id, kind=Hold.Kind.SCHEDULE_CHANGED, reason=reason)
        for opening_id, reason in reasons.items()
    ]
    Hold.objects.bulk_create(holds, ignore_conflicts=True)


@transaction.atomic
def release_hold(*, hold_id: int, by: Person, note: str = "") -> Hold:
    """Release a hold and keep who did it. Where a rule finds the same, it places its own.

    Raises:
        NotFound: there is no such hold.
        Conflict: it is released already, or a rule keeps it.
    """
    (released,) = release_holds(hold_ids=[hold_id], by=by, note=note)
    return released


@transaction.atomic
def release_holds(*, hold_ids: Collection[int], by: Person, note: str = "") -> list[Hold]:
    """Release several holds, all of them or none.

    Raises:
        NotFound: one of them does not exist.
        BadInput: none is named.
        Conflict: one is released already, or a rule keeps it.
    """
    if not hold_ids:
        raise BadInput("select at least one hold")
    holds = _lock_open(hold_ids)
    released = Hold.objects.filter(pk__in=[hold.pk for hold in holds])
    released.update(released_by=by, released_at=timezone.now(), release_note=note)
    follow_rules({hold.opening_id for hold in holds})
    return list(released.select_related("opening__job").order_by("pk"))


def _lock_open(hold_ids: Collection[int]) -> list[Hold]:
    """Return open holds that no rule keeps, locked after their openings, in the order of their ids."""
    asked = set(hold_ids)
    found = Hold.objects.filter(pk__in=asked)
    lock_openings(set(found.values_list("opening", flat=True)))
    holds = list(found.select_for_update(of=("self",)).select_related("opening__job").order_by("pk"))
    if missing := sorted(asked - {hold.pk for hold in holds}):
        none = [missing_row(Hold, pk) for pk in missing]
        raise NotFound(f"there is no hold {', '.join(map(str, missing))}", about=none)
    why_not = {hold: said for hold in holds if (said := _why_kept(hold))}
    if why_not:
        said_once = dict.fromkeys(why_not.values())
        raise Conflict("; ".join(said_once), about=[about(hold, detail=said) for hold, said in why_not.items()])
    return holds


def _why_kept(hold: Hold) -> str:
    if hold.released_at:
        at = hold.released_at.astimezone(ZoneInfo(hold.opening.job.time_zone))
        return f"this hold was already released {say.moment(at)}"
    if hold.rule:
        return f"{hold.opening} is on hold: {hold.kind} ({hold.reason}). This hold goes by itself once that is entered"
    return ""


def _require_incomplete(openings: Collection[Opening]) -> None:
    """Refuse what is complete or void: there is nothing left to hold."""
    done = InstallRecord.objects.done().filter(opening__in=openings).select_related("opening").order_by("opening")
    if records := list(done):
        names = ", ".join(str(record.opening) for record in records)
        sentence = f"{names} {say.plural('is', len(records))} complete; report what is wrong with it as a callback"
        raise Conflict(sentence, about=[one for record in records for one in (about(record.opening), about(record))])
