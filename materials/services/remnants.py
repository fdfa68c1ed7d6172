"""Remnants: entered, reserved and scrapped."""

from __future__ import annotations

from collections.abc import Collection
from decimal import Decimal
from typing import TypedDict, Unpack

from django.db.models import Q
from django.utils import timezone

from jobs import transaction
from jobs.about import about
from jobs.errors import Conflict, NotFound
from jobs.models import CrewDay, Person
from jobs.services import add, change
from materials.models import Lot, Place, PlannedRoll, Product, Remnant


def enter_remnant(
    *,
    product: Product,
    length_in: Decimal,
    place: Place,
    by: Person | None,
    lot: Lot | None = None,
    left_of: PlannedRoll | None = None,
) -> Remnant:
    """Enter a remnant that somebody found or brought.

    Raises:
        ValidationError: the product has no lengths, a package of it is shorter, no stock is kept at the place, or
            the lot is one of another product.
    """
    return add(Remnant(product=product, length_in=length_in, place=place, entered_by=by, lot=lot, left_of=left_of))


@transaction.atomic
def reserve_remnants(*, crew_day_id: int, remnant_ids: Collection[int]) -> None:
    """Reserve exactly these remnants for a crew day; others that it had are released.

    Raises:
        NotFound: there is no such crew day or remnant.
        Conflict: one is gone, reserved for another crew day, or neither in a warehouse nor on the crew's truck.
    """
    crew_day = lock_day(crew_day_id)
    wanted = set(remnant_ids)
    remnants = lock_remnants(Q(pk__in=wanted) | Q(reserved_for=crew_day))
    _require_all(wanted, remnants)
    for remnant in remnants:
        if remnant.pk in wanted:
            _require_free(remnant, crew_day)
    reserved = Remnant.objects.filter(reserved_for=crew_day)
    reserved.exclude(pk__in=wanted).update(reserved_for=None)
    Remnant.objects.filter(pk__in=wanted, reserved_for=None).update(reserved_for=crew_day)


def remnant_to_scrap(remnant_id: int) -> Remnant:
    """Return a remnant that can be scrapped, with the crew day that counts on it. One query.

    Raises:
        NotFound, Conflict: as `scrap_remnant`.
    """
    remnants = list(_JOINED.filter(pk=remnant_id))
    _require_all({remnant_id}, remnants)
    _require_not_cut_up(remnants[0])
    return remnants[0]


@transaction.atomic
def scrap_remnant(*, remnant_id: int, by: Person | None) -> Remnant:
    """Enter that a remnant is gone; who counted on it counts on it no more.

    Raises:
        NotFound: there is no such remnant.
        Conflict: it is cut up already.
    """
    remnants = lock_remnants(Q(pk=remnant_id))
    _require_all({remnant_id}, remnants)
    (remnant,) = remnants
    _require_not_cut_up(remnant)
    end_remnant(remnant, Remnant.Fate.SCRAPPED, by)
    return remnant


def end_remnant(remnant: Remnant, fate: Remnant.Fate, by: Person | None) -> None:
    """Enter how a remnant ended; one that is gone stays as it went.

    It is not validated anew: one that is longer than the packages of today can end too.
    """
    if not remnant.fate:
        remnant.fate, remnant.gone_at, remnant.gone_by, remnant.reserved_for = fate, timezone.now(), by, None
        remnant.save(update_fields=["fate", "gone_at", "gone_by", "reserved_for"])


class _Put(TypedDict, total=False):
    length_in: Decimal
    reserved_for: CrewDay | None


def put_remnant(remnant: Remnant, *, place: Place, **values: Unpack[_Put]) -> Remnant:
    """Let a remnant lie at a place, one that was gone by mistake too, and change the named columns with it.

    Raises:
        ValidationError: no stock is kept at the place, or a package is shorter than the remnant.
    """
    return change(remnant, place=place, fate="", gone_at=None, gone_by=None, **values)


def _require_not_cut_up(remnant: Remnant) -> None:
    if remnant.fate == Remnant.Fate.CUT_UP:
        raise Conflict(f"{remnant} is already cut up; there is nothing left of it to scrap", about=[about(remnant)])


def _require_all(wanted: Collection[int], remnants: Collection[Remnant]) -> None:
    if missing := sorted(set(wanted) - {remnant.pk for remnant in remnants}):
        raise NotFound(f"there is no remnant {', '.join(Remnant(pk=pk).code for pk in missing)}")


def _require_free(remnant: Remnant, crew_day: CrewDay) -> None:
    place = remnant.place
    if remnant.fate:
        why = f"is {remnant.fate}"
    elif remnant.reserved_for_id not in (None, crew_day.pk):
        why = f"is reserved for {remnant.reserved_for}"
    elif place.kind != Place.Kind.WAREHOUSE and place.crew_id != crew_day.crew_id:
        why = f"is at {place}"
    else:
        return
    sentence = f"{remnant} cannot be reserved for {crew_day}: it {why}"
    raise Conflict(sentence, about=[about(remnant), about(crew_day)])


def lock_day(crew_day_id: int) -> CrewDay:
    """Return a crew day that nobody plans, loads or settles until the transaction ends."""
    crew_days = CrewDay.objects.select_for_update(of=("self",), no_key=True).select_related("crew")
    found = crew_days.filter(pk=crew_day_id).first()
    if found is None:
        raise NotFound(f"there is no crew day {crew_day_id}")
    return found


_JOINED = Remnant.objects.select_related("product", "place", "lot", "reserved_for__crew")


def lock_remnants(which: Q) -> list[Remnant]:
    """Return remnants in order of id, locked until the transaction ends.

    What is joined is read once the lock is held: a locked row is current, one joined to it while waiting is not.
    """
    locked = list(Remnant.objects.select_for_update().filter(which).order_by("pk").values_list("pk", flat=True))
    return list(_JOINED.filter(pk__in=locked).order_by("pk"))
