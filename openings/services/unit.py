"""Ordering, receiving and replacing the units of openings, and the deliveries that bring them."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from datetime import date
from typing import Any, TypedDict, Unpack

from django.utils import timezone

from jobs import transaction
from jobs.about import about, missing_row
from jobs.calc.say import plural, reasons_once
from jobs.errors import BadInput, Conflict, Fault, NotFound
from jobs.models import Job, Person
from jobs.services import add, change
from openings.calc.readiness import Condition, Flaw
from openings.models import Delivery, Opening, Unit
from openings.services.follow import follow_rules
from openings.services.lock import lock_openings


class OrderValues(TypedDict, total=False):
    """What is said of an order: its day, its number, and when and by what the units come."""

    ordered_on: date
    order_ref: str
    expected_on: date | None
    delivery: Delivery | None


class UnitValues(OrderValues, total=False):
    """Columns of a unit that a person changes."""

    condition: str
    stands_at: str
    note: str


class DeliveryValues(TypedDict, total=False):
    """Columns of a delivery that a person gives."""

    supplier: str
    reference: str
    expected_on: date | None
    note: str


@transaction.atomic
def order_units(*, opening_ids: Collection[int], **values: Unpack[OrderValues]) -> list[Unit]:
    """Enter that the units of openings are ordered: all of them or none.

    Raises:
        NotFound: an opening does not exist.
        BadInput: none is named, or the delivery is of another job.
        Conflict: a unit is ordered for one already, or one is finished.
        ValidationError: a value or a constraint is not kept.
    """
    if not opening_ids:
        raise BadInput("select at least one opening")
    openings = lock_openings(set(opening_ids))
    _require_delivery_of(openings, values.get("delivery"))
    has_one = set(Unit.objects.current().filter(opening__in=openings).values_list("opening", flat=True))
    why_not = {one: _why_not_ordered(one, has_one) for one in openings}
    _refuse({one: said for one, said in why_not.items() if said})
    units = [Unit(opening=opening, **values) for opening in openings]
    for unit in units[:1]:  # they differ by their openings alone
        unit.full_clean()
    Unit.objects.bulk_create(units)
    follow_rules([opening.pk for opening in openings])
    return units


@transaction.atomic
def reorder_unit(*, unit_id: int, **values: Unpack[OrderValues]) -> Unit:
    """Enter that a unit is ordered again; the one before stays as history.

    Raises:
        NotFound, Conflict, ValidationError: as `reorder_units`.
    """
    (ordered,) = reorder_units(unit_ids=[unit_id], **values)
    return ordered


@transaction.atomic
def reorder_units(*, unit_ids: Collection[int], **values: Unpack[OrderValues]) -> list[Unit]:
    """Enter that units are ordered again, all of them or none; those before stay as history.

    Raises:
        NotFound: one of them does not exist.
        Conflict: one is whole, or was ordered again already, or the delivery is of another job.
        ValidationError: a value or a constraint is not kept.
    """
    units = _lock_units(unit_ids)
    _refuse({unit: said for unit in units if (said := _why_not_reordered(unit))})
    openings = [unit.opening for unit in units]
    _require_delivery_of(openings, values.get("delivery"))
    Unit.objects.filter(pk__in=[unit.pk for unit in units]).update(replaced_at=timezone.now())
    ordered = [Unit(opening=opening, **values) for opening in openings]
    for unit in ordered[:1]:  # they differ by their openings alone
        unit.full_clean()
    Unit.objects.bulk_create(ordered)
    follow_rules([opening.pk for opening in openings])
    return ordered


@transaction.atomic
def revise_unit(*, unit_id: int, by: Person, **values: Unpack[UnitValues]) -> Unit:
    """Change the named columns of a unit; a condition given for one that has not come says that it has.

    Raises:
        NotFound: there is no such unit.
        BadInput: the delivery is of another job.
        Conflict: another one replaces it.
        ValidationError: a value or a constraint is not kept.
    """
    (unit,) = _lock_units([unit_id])
    _require_current([unit])
    _require_delivery_of([unit.opening], values.get("delivery"))
    if values.get("delivery"):
        values.setdefault("expected_on", None)
    comes = not unit.is_received and values.get("condition")
    change(unit, **values, **(_received(by) if comes else {}))
    follow_rules([unit.opening_id])
    return unit


@transaction.atomic
def receive_units(
    *, unit_ids: Collection[int], by: Person, stands_at: str = "", flaws: Mapping[int, Flaw] | None = None
) -> list[Unit]:
    """Enter that units have come, whole but for those named in `flaws`: all of them or none.

    Raises:
        NotFound: a unit does not exist.
        BadInput: none is named, or a flaw is of a unit that is not among them.
        Conflict: one has come already, or another one replaces it.
        ValidationError: a value or a constraint is not kept.
    """
    if not unit_ids:
        raise BadInput("select at least one unit")
    units = _lock_units(unit_ids)
    return _receive(units, by=by, stands_at=stands_at, flaws=flaws or {})


@transaction.atomic
def receive_delivery(
    *,
    delivery_id: int,
    by: Person,
    stands_at: str = "",
    flaws: Mapping[int, Flaw] | None = None,
    missing: Collection[int] = (),
) -> Delivery:
    """Enter that a delivery has come with all its units, whole but for those named in `flaws` and `missing`.

    Raises:
        NotFound: there is no such delivery.
        BadInput: a flaw or a missing unit is none of those that the delivery was to bring.
        Conflict: it has come already.
        ValidationError: a value or a constraint is not kept.
    """
    awaited = Unit.objects.awaited().filter(delivery=delivery_id)
    units = _lock_units(awaited.values_list("pk", flat=True))
    delivery = lock_delivery(delivery_id)
    if delivery.received_at:
        raise Conflict(f"the delivery {delivery} was received already", about=[about(delivery)])
    _require_among(missing, units, field="missing")
    change(delivery, **_received(by))
    _receive([unit for unit in units if unit.pk not in missing], by=by, stands_at=stands_at, flaws=flaws or {})
    follow_rules([unit.opening_id for unit in units])
    return delivery


@transaction.atomic
def add_delivery(*, job: Job, unit_ids: Collection[int] = (), **values: Unpack[DeliveryValues]) -> Delivery:
    """Add a delivery, and put units on it that have not come.

    Raises:
        NotFound: a unit does not exist.
        Conflict: one has come already, or is of another job.
        ValidationError: a value or a constraint is not kept.
    """
    units = _lock_units(unit_ids)
    delivery = add(Delivery(job=job, **values))
    _require_delivery_of([unit.opening for unit in units], delivery)
    _require_awaited(units)
    Unit.objects.filter(pk__in=[unit.pk for unit in units]).update(delivery=delivery, expected_on=None)
    follow_rules([unit.opening_id for unit in units])
    return delivery


@transaction.atomic
def revise_delivery(*, delivery_id: int, **values: Unpack[DeliveryValues]) -> Delivery:
    """Change the named columns of a delivery; the openings that wait for its units follow.

    Raises:
        NotFound: there is no such delivery.
        ValidationError: a value or a constraint is not kept.
    """
    openings = lock_openings_of_delivery(delivery_id)
    delivery = change(lock_delivery(delivery_id), **values)
    follow_rules([opening.pk for opening in openings])
    return delivery


def lock_openings_of_delivery(delivery_id: int) -> list[Opening]:
    """Return the openings that wait for what a delivery brings, locked until the transaction ends."""
    waiting = Unit.objects.awaited().filter(delivery=delivery_id).values_list("opening", flat=True)
    return lock_openings(set(waiting))


def lock_delivery(delivery_id: int) -> Delivery:
    """Return a delivery, locked until the transaction ends.

    Raises:
        NotFound: there is no such delivery.
    """
    locked = Delivery.objects.select_for_update(of=("self",), no_key=True).select_related("job")
    delivery = locked.filter(pk=delivery_id).first()
    if delivery is None:
        raise NotFound(f"there is no delivery {delivery_id}")
    return delivery


def _receive(units: Collection[Unit], *, by: Person, stands_at: str, flaws: Mapping[int, Flaw]) -> list[Unit]:
    _require_among(flaws, units, field="flaws")
    _require_awaited(units)
    for unit in units:
        flaw = flaws.get(unit.pk)
        condition, note = (flaw.condition, flaw.note) if flaw else (Condition.WHOLE, unit.note)
        unit.condition, unit.note, unit.stands_at = condition.value, note, stands_at or unit.stands_at
        unit.received_at, unit.received_by = timezone.now(), by
        unit.clean_fields(exclude=["ordered_on", "expected_on"])
        unit.clean()
        unit.validate_constraints(exclude=["opening"])
    Unit.objects.bulk_update(units, ["condition", "note", "stands_at", "received_at", "received_by"])
    follow_rules([unit.opening_id for unit in units])
    return list(units)


def _received(by: Person) -> dict[str, Any]:
    return {"received_at": timezone.now(), "received_by": by}


def _lock_units(unit_ids: Iterable[int]) -> list[Unit]:
    """Return units, locked after their openings, in the order of their ids.

    Raises:
        NotFound: one of them does not exist.
    """
    asked = set(unit_ids)
    found = Unit.objects.filter(pk__in=asked)
    lock_openings(set(found.values_list("opening", flat=True)))
    locked = found.select_for_update(of=("self",), no_key=True).select_related("opening__job", "delivery")
    units = list(locked.order_by("pk"))
    if none := sorted(asked - {unit.pk for unit in units}):
        missing = [missing_row(Unit, pk) for pk in none]
        raise NotFound(f"there is no unit {', '.join(map(str, none))}", about=missing)
    return units


def _why_not_ordered(opening: Opening, has_one: Collection[int]) -> str:
    if opening.is_finished:
        return f"{opening} is finished and takes no unit"
    if opening.pk in has_one:
        return f"a unit is ordered for {opening} already; change it, or order it again"
    return ""


def _why_not_reordered(unit: Unit) -> str:
    if unit.replaced_at:
        return f"the {unit} was ordered again already"
    if unit.condition == Condition.WHOLE:
        return f"the {unit} is there and whole; say first what is damaged or wrong"
    return ""


def _require_current(units: Iterable[Unit]) -> None:
    _refuse({unit: f"the {unit} was ordered again; enter it for the new one" for unit in units if unit.replaced_at})


def _require_awaited(units: Iterable[Unit]) -> None:
    _require_current(units)
    _refuse({unit: f"the {unit} was received already" for unit in units if unit.is_received})


def _require_delivery_of(openings: Iterable[Opening], delivery: Delivery | None) -> None:
    if delivery is None:
        return
    others = {one: f"{one} is of another job than the delivery" for one in openings if one.job_id != delivery.job_id}
    _refuse(others)


def _require_among(ids: Iterable[int], units: Iterable[Unit], *, field: str) -> None:
    if strange := sorted(set(ids) - {unit.pk for unit in units}):
        named = ", ".join(map(str, strange))
        sentence = f"{plural('unit', len(strange))} {named} {plural('is', len(strange))} not among those that come"
        raise BadInput(sentence, faults=[Fault(field=field, value=named, detail=sentence)])


def _refuse(why_not: Mapping[Opening, str] | Mapping[Unit, str]) -> None:
    if why_not:
        rows = [about(row, detail=said) for row, said in why_not.items()]
        raise Conflict(reasons_once((_mark_of(row), said) for row, said in why_not.items()), about=rows)


def _mark_of(row: Opening | Unit) -> str:
    return row.mark if isinstance(row, Opening) else row.opening.mark
