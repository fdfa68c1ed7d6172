"""The units of a job's openings, and the deliveries that bring them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date

from django.core.paginator import Page

from jobs.about import about
from jobs.calc.say import reasons_once
from jobs.errors import Conflict, NotFound
from jobs.models import Job
from jobs.paging import LongPaginator
from jobs.queries import job_of, today_at
from openings.models import Delivery, Hold, Opening, ReadyRules, TradeBefore, Unit
from openings.queries.job import OPENINGS_A_PAGE

RECEIVED_SHOWN = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitLine:
    """An opening with its current unit, where one is ordered."""

    opening: Opening
    unit: Unit | None
    is_late: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitSheet:
    """A page of the units of a job."""

    job: Job
    page: Page[Opening]
    lines: tuple[UnitLine, ...]


def unit_sheet(job_id: int, *, page: int) -> UnitSheet:
    """Return the openings of a job that are not finished, each with its unit. Four queries, however many openings.

    Raises:
        NotFound: there is no such job.
    """
    job = job_of(job_id)
    today = today_at(job)
    openings = Opening.objects.unfinished().filter(job=job).order_by("position", "pk")
    shown = LongPaginator(openings, OPENINGS_A_PAGE).get_page(page)
    on_page = list(shown)
    current = Unit.objects.current().with_due().filter(opening__in=on_page).select_related("delivery")
    units = {unit.opening_id: unit for unit in current}
    return UnitSheet(
        job=job,
        page=shown,
        lines=tuple(
            UnitLine(opening=one, unit=units.get(one.pk), is_late=_is_late(units.get(one.pk), today)) for one in on_page
        ),
    )


def current_units(openings: Collection[Opening]) -> list[Unit]:
    """Return the current unit of every one of the openings. One query.

    Raises:
        Conflict: one has none.
    """
    units = list(Unit.objects.current().filter(opening__in=openings).select_related("opening"))
    has_one = {unit.opening_id for unit in units}
    none = {one: f"no unit is ordered for {one}" for one in openings if one.pk not in has_one}
    if none:
        rows = [about(one, detail=why) for one, why in none.items()]
        raise Conflict(reasons_once((one.mark, why) for one, why in none.items()), about=rows)
    return units


@dataclass(frozen=True, slots=True, kw_only=True)
class DeliveryLine:
    """A delivery with the units that it brings or brought."""

    delivery: Delivery
    units: tuple[Unit, ...]
    is_late: bool


def deliveries(*, job_id: int | None = None) -> tuple[list[DeliveryLine], list[DeliveryLine]]:
    """Return the deliveries that are awaited, the first first, and the last that came. Four queries."""
    found = Delivery.objects.select_related("job")
    if job_id is not None:
        found = found.filter(job=job_id)
    awaited = list(found.awaited())
    came = list(found.received().order_by("-received_at")[:RECEIVED_SHOWN])
    return _lines(awaited), _lines(came)


def delivery_of(delivery_id: int) -> DeliveryLine:
    """Return a delivery with the units that it is to bring. Two queries.

    Raises:
        NotFound: there is no such delivery.
    """
    found = _lines(Delivery.objects.select_related("job").filter(pk=delivery_id))
    if not found:
        raise NotFound(f"there is no delivery {delivery_id}")
    return found[0]


def floors_of(job_id: int) -> list[str]:
    """Return the floors of a job as its openings name them, in the order of the job. One query."""
    named = Opening.objects.not_void().filter(job=job_id).exclude(floor="").order_by("position", "pk")
    return list(dict.fromkeys(named.values_list("floor", flat=True)))


def _lines(deliveries: Iterable[Delivery]) -> list[DeliveryLine]:
    found = list(deliveries)
    brought: dict[int | None, list[Unit]] = defaultdict(list)
    current = Unit.objects.current().filter(delivery__in=found).select_related("opening")
    for unit in current.order_by("opening__position", "pk"):
        brought[unit.delivery_id].append(unit)
    return [DeliveryLine(delivery=one, units=tuple(brought[one.pk]), is_late=_is_overdue(one)) for one in found]


def _is_overdue(delivery: Delivery) -> bool:
    due = delivery.expected_on
    return bool(not delivery.received_at and due and due < today_at(delivery.job))


def _is_late(unit: Unit | None, today: date) -> bool:
    return bool(unit and not unit.is_received and unit.due_on and unit.due_on < today)


def trades_of(job_id: int) -> list[TradeBefore]:
    """Return what must be done before the openings of a job, what is not done first. One query."""
    return sorted(TradeBefore.objects.filter(job=job_id), key=lambda one: one.done_on is not None)


def ready_rules_of(job_id: int) -> ReadyRules:
    """Return the rules of a job, none of them where it goes by none. One query."""
    return ReadyRules.objects.filter(job=job_id).first() or ReadyRules(job_id=job_id)


def open_holds(openings: Collection[Opening], *, kind: str) -> list[Hold]:
    """Return the open holds of a kind of openings. One query."""
    return list(Hold.objects.open().filter(opening__in=openings, kind=kind).order_by("pk"))
