"""Openings with their state and their planned hours."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache
from typing import Any

from django.db.models import Count

from jobs.calc.experience import Experience
from jobs.errors import NotFound
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import TWO_PLACES, half_up
from openings.calc.labor import Conditions, labor_of, total_person_h
from openings.calc.labor_rates import LaborRates
from openings.models import Hold, Opening, State
from openings.models.opening import OpeningQuerySet
from openings.queries.rate import labor_rates


def opening_list() -> OpeningQuerySet:
    """Return openings with state, job and detail. One query, and one for the details."""
    return Opening.objects.with_state().select_related("job").prefetch_related("detail")


def opening_of(opening_id: int) -> Opening:
    """Return an opening with its state, its job and who made it void. Two queries.

    Raises:
        NotFound: there is no such opening.
    """
    found = opening_list().select_related("job", "voided_by", "weight_confirmed_by").filter(pk=opening_id).first()
    if found is None:
        raise NotFound(f"there is no opening {opening_id}")
    return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Computable:
    """An opening with the values that its computations start from."""

    opening: Opening
    facts: OpeningFacts
    detail: DetailFacts
    conditions: Conditions


def computable(openings: Iterable[Opening]) -> Iterator[Computable]:
    """Yield the openings with their calc values, each detail made once. No query where details are joined."""
    details: dict[int, DetailFacts] = {}
    for opening in openings:
        if opening.detail_id not in details:
            details[opening.detail_id] = opening.detail.as_facts()
        yield Computable(
            opening=opening,
            facts=opening.as_facts(),
            detail=details[opening.detail_id],
            conditions=opening.as_conditions(),
        )


def alike(items: Iterable[Computable]) -> list[tuple[Computable, int]]:
    """Return one of each kind and how many are alike: same sizes, unit, detail and conditions."""
    kinds: dict[Hashable, list[Any]] = {}
    for item in items:
        kind = kinds.setdefault((item.facts, item.opening.detail_id, item.conditions), [item, 0])
        kind[1] += 1
    return [(item, count) for item, count in kinds.values()]


@lru_cache(maxsize=10_000)
def planned_person_h(opening: OpeningFacts, detail: DetailFacts, rates: LaborRates, conditions: Conditions) -> Decimal:
    """Return the planned person-hours of one opening; the many alike are computed once."""
    return total_person_h(labor_of(opening, detail, rates, conditions))


def person_hours(openings: Iterable[Opening], *, experience: str = Experience.PROFESSIONAL) -> dict[int, Decimal]:
    """Return the planned person-hours by opening id, for a crew of that experience. One query."""
    rates = labor_rates()
    return {
        item.opening.pk: planned_person_h(
            item.facts, item.detail, rates, replace(item.conditions, experience=Experience(experience))
        )
        for item in computable(openings)
    }


def job_labor(job_id: int) -> dict[str, Any]:
    """Return the person-hours of a job by task, void openings left out. Three queries, however many openings."""
    openings = Opening.objects.not_void().filter(job=job_id).prefetch_related("detail")
    rates = labor_rates()
    kinds = alike(computable(openings))
    tasks: dict[str, Decimal] = defaultdict(Decimal)
    total = Decimal(0)
    for item, count in kinds:
        lines = labor_of(item.facts, item.detail, rates, item.conditions)
        total += total_person_h(lines) * count
        for line in lines:
            tasks[line.task] += line.person_h * count
    return {
        "job": job_id,
        "openings_count": sum(count for _, count in kinds),
        "tasks": [{"task": task, "person_h": half_up(person_h, to=TWO_PLACES)} for task, person_h in tasks.items()],
        "total_person_h": total,
    }


def is_held(opening_id: int, kind: str = "") -> bool:
    """Return whether an opening has an open hold, of that kind where one is given. One query."""
    held = Hold.objects.open().filter(opening=opening_id)
    return (held.filter(kind=kind) if kind else held).exists()


def opening_counts(job_id: int | None = None) -> dict[str, int]:
    """Return how many openings stand in each state, on one job or on all. One query."""
    openings = Opening.objects.all() if job_id is None else Opening.objects.filter(job=job_id)
    counts = counts_by_job(openings).values()
    return {state: sum(of_job[state] for of_job in counts) for state in State.ALL}


def counts_by_job(openings: OpeningQuerySet) -> dict[int, dict[str, int]]:
    """Return how many openings of each job stand in each state. One query.

    What lies behind is only counted, which indexes serve: done is what is neither void nor unfinished.
    """
    all_of_them = openings.with_one_state(State.DONE)
    void = openings.void().with_one_state(State.VOID)
    counted, *others = (
        part.order_by().values_list("job", "state").annotate(n=Count("*"))  # type: ignore[misc]  # annotated by a method
        for part in (all_of_them, void, openings.unfinished().with_state())
    )
    counts: dict[int, dict[str, int]] = defaultdict(lambda: dict.fromkeys(State.ALL, 0))
    for job_id, state, count in counted.union(*others, all=True):
        counts[job_id][state] += count
        if state != State.DONE:
            counts[job_id][State.DONE] -= count
    return counts


def opening_id_of(name: str) -> int:
    """Return the id of an opening by that id, or by job code and mark, such as `heron-house/102-03`.

    One query, and one more where there is no such opening.

    Raises:
        NotFound: there is no such opening; the sentence recommends one that there is.
    """
    if name.isdecimal():
        return int(name)
    job, _, mark = name.partition("/")
    openings = Opening.objects.filter(job__code=job)
    found = openings.filter(mark=mark).values_list("pk", flat=True).first()
    if found is None:
        known = openings.select_related("job").first() or Opening.objects.select_related("job").first()
        example = f" such as {known.job.code}/{known.mark}" if known else "; no opening is entered yet"
        raise NotFound(f"there is no opening {name}; give its id, or job and mark{example}")
    return found
