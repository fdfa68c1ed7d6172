"""Openings with their state and their planned hours."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Any

from django.db.models import Case, Count, Exists, OuterRef, QuerySet, Value, When

from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import TWO_PLACES, half_up
from openings.calc.labor import labor_of, total_person_h
from openings.models import Assignment, Hold, Opening


class State:
    """Where an opening stands, worked out from its records; never stored."""

    VOID, DONE, STARTED, HELD, ASSIGNED, READY = "void", "done", "started", "on hold", "assigned", "ready"
    ALL = (READY, HELD, ASSIGNED, STARTED, DONE, VOID)


def with_state(openings: QuerySet[Opening], *, path: str = "") -> QuerySet[Opening]:
    """Annotate `state`, one of `State`. No query of its own.

    Args:
        path: where the opening stands seen from the query's model, such as `opening__`.
    """
    me = OuterRef(f"{path}pk")
    held = Exists(Hold.objects.filter(opening=me, released_at__isnull=True))
    assigned = Exists(Assignment.objects.filter(opening=me, withdrawn_at__isnull=True))
    return openings.annotate(
        state=Case(
            When(**{f"{path}is_void": True}, then=Value(State.VOID)),
            When(**{f"{path}install_record__done_at__isnull": False}, then=Value(State.DONE)),
            When(held, then=Value(State.HELD)),
            When(**{f"{path}install_record__isnull": False}, then=Value(State.STARTED)),
            When(assigned, then=Value(State.ASSIGNED)),
            default=Value(State.READY),
        )
    )


def opening_list() -> QuerySet[Opening]:
    """Return openings with state, job and detail. One query, and one for the details."""
    return with_state(Opening.objects.select_related("job").prefetch_related("detail"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Computable:
    """An opening with the values that its computations start from."""

    opening: Opening
    facts: OpeningFacts
    detail: DetailFacts


def computable(openings: Iterable[Opening]) -> Iterator[Computable]:
    """Yield the openings with their calc values, each detail made once. No query where details are joined."""
    details: dict[int, DetailFacts] = {}
    for opening in openings:
        if opening.detail_id not in details:
            details[opening.detail_id] = opening.detail.as_facts()
        yield Computable(opening=opening, facts=opening.as_facts(), detail=details[opening.detail_id])


@lru_cache(maxsize=10_000)
def planned_person_h(opening: OpeningFacts, detail: DetailFacts) -> Decimal:
    """Return the planned person-hours of one opening; the many alike are computed once."""
    return total_person_h(labor_of(opening, detail))


def person_hours(openings: Iterable[Opening]) -> dict[int, Decimal]:
    """Return the planned person-hours by opening id."""
    return {c.opening.pk: planned_person_h(c.facts, c.detail) for c in computable(openings)}


def job_labor(job_id: int) -> dict[str, Any]:
    """Return the person-hours of a job by task, void openings left out. Two queries, however many openings."""
    openings = Opening.objects.filter(job=job_id, is_void=False).prefetch_related("detail")
    alike = Counter((c.facts, c.detail) for c in computable(openings))
    tasks: Counter[str] = Counter()
    for (facts, detail), count in alike.items():
        for line in labor_of(facts, detail):
            tasks[line.task] += line.person_h * count
    return {
        "job": job_id,
        "openings_count": alike.total(),
        "tasks": [{"task": task, "person_h": half_up(person_h, to=TWO_PLACES)} for task, person_h in tasks.items()],
        "total_person_h": sum((planned_person_h(*pair) * count for pair, count in alike.items()), Decimal(0)),
    }


def opening_counts(job_id: int | None = None) -> dict[str, int]:
    """Return how many openings stand in each state, on one job or on all. One query."""
    openings = Opening.objects.all() if job_id is None else Opening.objects.filter(job=job_id)
    counted = with_state(openings.order_by()).values_list("state").annotate(count=Count("pk"))
    return dict.fromkeys(State.ALL, 0) | dict(counted)
