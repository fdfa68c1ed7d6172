"""Openings that wait: for a crew, or for a hold to be released."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.core.paginator import Page
from django.db.models import Exists, OuterRef, Q

from jobs.paging import LongPaginator
from jobs.queries import today_on_sites
from openings.calc.as_built import Size
from openings.calc.figures import plain
from openings.calc.readiness import Readiness
from openings.models import Assignment, Hold, InstallRecord, Opening
from openings.models.opening import OpeningQuerySet
from openings.queries.computed import people_to_set
from openings.queries.opening import Computable, computable, opening_list, person_hours
from openings.queries.readiness import readiness
from openings.queries.span import BoardDay

READY_A_PAGE = 60
HOLDS_SHOWN = 40
CHOICES_SHOWN = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Ready:
    """An opening that can be assigned, with the person-hours it will take and the people that its unit takes.

    Args:
        readiness: from which day it can be, and why not today.
    """

    opening: Opening
    person_h: Decimal
    people: int
    readiness: Readiness


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """Which of the openings that wait are looked at; what is empty does not matter.

    Args:
        floor: as the openings have it; detail: the name of one.
        size: of the rough opening as drawn, as `size_of` writes it.
    """

    job_id: int | None = None
    floor: str = ""
    detail: str = ""
    size: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """What the ready openings of a job can be picked by."""

    floors: tuple[str, ...] = ()
    details: tuple[str, ...] = ()
    sizes: tuple[Size, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiting:
    """A page of openings that can be assigned, and the newest open holds out of all of them."""

    page: Page[Opening]
    ready: tuple[Ready, ...]
    choices: Choices
    holds: tuple[Hold, ...]
    holds_count: int


def openings_shown(days: Iterable[BoardDay], waiting: Waiting) -> list[Opening]:
    """Return every opening that a board of crew days and waiting openings shows. No query."""
    assigned = [one.opening for day in days for cell in day.cells for one in cell.assignments]
    return [*assigned, *(ready.opening for ready in waiting.ready)]


def waiting(wanted: Wanted, *, page: int = 1) -> Waiting:
    """Return what waits on one job, or on all. Fourteen queries at most, however many openings; three less of all jobs.

    What is on hold can be assigned where each of its holds is expected to be gone on a day, for the days after that.
    """
    ready, holds = _assignable(), Hold.objects.open()
    choices = Choices()
    if wanted.job_id is not None:
        ready, holds = ready.filter(job=wanted.job_id), holds.filter(opening__job=wanted.job_id)
        choices = _choices(ready)
    shown = LongPaginator(_picked(ready, wanted), READY_A_PAGE).get_page(page)
    openings = list(shown)
    hours, waits = person_hours(openings), readiness(openings)
    return Waiting(
        page=shown,
        ready=tuple(
            Ready(
                opening=item.opening,
                person_h=hours[item.opening.pk],
                people=_people(item),
                readiness=waits[item.opening.pk],
            )
            for item in computable(openings)
        ),
        choices=choices,
        holds=tuple(holds.select_related("opening__job", "placed_by")[:HOLDS_SHOWN]),
        holds_count=holds.count(),
    )


def size_of(size_in: Size) -> str:
    """Return how a size is asked for.

    >>> size_of((Decimal("36.00000"), Decimal("54.50000")))
    '36x54.5'
    """
    return "x".join(map(plain, size_in))


def _assignable() -> OpeningQuerySet:
    me = OuterRef("pk")
    days_not_known = Hold.objects.open().filter(Q(expected_on=None) | Q(expected_on__lt=today_on_sites()), opening=me)
    return (
        opening_list()
        .unfinished()
        .filter(
            ~Exists(days_not_known),
            ~Exists(InstallRecord.objects.filter(opening=me)),
            ~Exists(Assignment.objects.live().filter(opening=me)),
            job__closed_at=None,
        )
    )


def _picked(ready: OpeningQuerySet, wanted: Wanted) -> OpeningQuerySet:
    if wanted.floor:
        ready = ready.filter(floor=wanted.floor)
    if wanted.detail:
        ready = ready.filter(detail__name=wanted.detail)
    if wanted.size:
        width_in, height_in = (Decimal(side) for side in wanted.size.split("x"))
        ready = ready.filter(ro_width_in=width_in, ro_height_in=height_in)
    return ready


def _choices(ready: OpeningQuerySet) -> Choices:
    def values(*names: str) -> Iterator[Any]:
        """Yield what occurs, in order, as far as a list of it can be read."""
        yield from ready.order_by(*names).values_list(*names).distinct()[:CHOICES_SHOWN]

    return Choices(
        floors=tuple(floor for (floor,) in values("floor") if floor),
        details=tuple(name for (name,) in values("detail__name")),
        sizes=tuple(values("ro_width_in", "ro_height_in")),
    )


def _people(item: Computable) -> int:
    people, _needs_aid = people_to_set(item.facts, mounting=item.detail.mounting)
    return people
