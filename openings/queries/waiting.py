"""Openings that wait: for a crew, or for a hold to be released."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.core.paginator import Page

from jobs.paging import LongPaginator
from openings.models import Hold, Opening
from openings.queries.opening import opening_list, person_hours
from openings.queries.span import CrewOnDay

READY_A_PAGE = 60
HOLDS_SHOWN = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Ready:
    """An opening that can be assigned, with the person-hours it will take."""

    opening: Opening
    person_h: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiting:
    """A page of ready openings, and the newest open holds out of all of them."""

    page: Page[Opening]
    ready: tuple[Ready, ...]
    holds: tuple[Hold, ...]
    holds_count: int


def openings_shown(days: Iterable[tuple[date, list[CrewOnDay]]], waiting: Waiting) -> list[Opening]:
    """Return every opening that a board of crew days and waiting openings shows. No query."""
    assigned = [assignment.opening for _, cells in days for cell in cells for assignment in cell.assignments]
    return [*assigned, *(ready.opening for ready in waiting.ready)]


def waiting(*, job_id: int | None, page: int) -> Waiting:
    """Return what waits on one job, or on all. Six queries, however many openings."""
    ready, holds = opening_list().ready(), Hold.objects.open()
    if job_id is not None:
        ready, holds = ready.filter(job=job_id), holds.filter(opening__job=job_id)
    shown = LongPaginator(ready, READY_A_PAGE).get_page(page)
    openings = list(shown)
    hours = person_hours(openings)
    return Waiting(
        page=shown,
        ready=tuple(Ready(opening=opening, person_h=hours[opening.pk]) for opening in openings),
        holds=tuple(holds.select_related("opening__job", "placed_by")[:HOLDS_SHOWN]),
        holds_count=holds.count(),
    )
