"""What binds openings, and since when: the one read that every verb decides by."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

from django.db.models import QuerySet

from jobs.about import about
from jobs.calc.say import day, moment
from openings.calc.binding import Bond, Bound, Decision, Verb, decide
from openings.errors import OpeningBound
from openings.models import Assignment, InstallRecord, OnSheet, Opening


def bounds_of(openings: QuerySet[Opening]) -> dict[int, tuple[Bound, ...]]:
    """Return by opening what binds it, the looser first; openings that nothing binds are left out.

    An issued sheet binds while the opening is assigned to its day; material on a truck binds until it is brought back,
    wherever the opening is assigned. Three queries, however many openings.
    """
    found: dict[int, list[Bound]] = defaultdict(list)
    days: dict[int, int] = {}
    for opening_id, crew_day_id, bound in _assigned(openings):
        days[opening_id] = crew_day_id
        found[opening_id].append(bound)
    for opening_id, crew_day_id, bound in _supplied(openings):
        if bound.bond is Bond.ON_A_TRUCK or days.get(opening_id) == crew_day_id:
            found[opening_id].append(bound)
    for opening_id, bound in _begun(openings):
        found[opening_id].append(bound)
    return {pk: tuple(sorted(bounds, key=lambda one: one.bond.strength)) for pk, bounds in found.items()}


def bounds_of_opening(opening_id: int) -> tuple[Bound, ...]:
    """Return what binds one opening, the looser first. Three queries."""
    return bounds_of(Opening.objects.filter(pk=opening_id)).get(opening_id, ())


def why_bound(openings: QuerySet[Opening], verb: Verb) -> dict[int, str]:
    """Return by opening why what binds it forbids a verb; those that it does not are left out. Three queries."""
    reasons = {pk: decide(verb, bounds).why_refused for pk, bounds in bounds_of(openings).items()}
    return {pk: why for pk, why in reasons.items() if why}


def require_free(opening: Opening, verb: Verb, *, kept: str) -> Decision:
    """Return what becomes of a verb, if nothing that binds an opening forbids it. Three queries.

    Args:
        kept: what the refusal says of the opening, such as "stays in the job".

    Raises:
        OpeningBound: something does; the sentence says what, since when, and what to do first.
    """
    decision = decide(verb, bounds_of_opening(opening.pk))
    if decision.why_refused:
        raise OpeningBound(f"{opening} {kept}: {decision.why_refused}", about=[about(opening)])
    return decision


def _assigned(openings: QuerySet[Opening]) -> Iterator[tuple[int, int, Bound]]:
    live = Assignment.objects.live().filter(opening__in=_ids(openings)).order_by()
    rows = live.values_list("opening", "crew_day", "crew_day__crew__name", "crew_day__on", "assigned_at")
    for opening_id, crew_day_id, crew, on, since in rows:
        said = f"it is assigned to {crew} on {day(on)}"
        yield opening_id, crew_day_id, Bound(bond=Bond.ASSIGNED, since=since, said=said)


def _supplied(openings: QuerySet[Opening]) -> Iterator[tuple[int, int, Bound]]:
    rows = OnSheet.objects.filter(opening__in=_ids(openings)).order_by("on_truck_since", "pk")
    for row in rows.values_list(
        "opening", "crew_day", "crew_day__crew__name", "crew_day__on", "sheet", "issued_at", "on_truck_since",
        "opening__job__time_zone",
    ):  # fmt: skip
        opening_id, crew_day_id, crew, on, sheet, issued_at, loaded_at, zone = row
        said = f"pull sheet {sheet} of {crew} for {day(on)} is issued since {_moment(issued_at, zone)}"
        yield opening_id, crew_day_id, Bound(bond=Bond.SHEET_ISSUED, since=issued_at, said=said)
        if loaded_at:
            since = _moment(loaded_at, zone)
            said = f"its material is on the truck of {crew} for {day(on)} since {since} (pull sheet {sheet})"
            yield opening_id, crew_day_id, Bound(bond=Bond.ON_A_TRUCK, since=loaded_at, said=said)


def _begun(openings: QuerySet[Opening]) -> Iterator[tuple[int, Bound]]:
    records = InstallRecord.objects.filter(opening__in=_ids(openings)).order_by()
    for opening_id, started_at, done_at, zone in records.values_list(
        "opening", "started_at", "done_at", "opening__job__time_zone"
    ):
        said = f"its install was started {_moment(started_at, zone)}"
        yield opening_id, Bound(bond=Bond.STARTED, since=started_at, said=said)
        if done_at:
            said = f"its install has been complete since {_moment(done_at, zone)}"
            yield opening_id, Bound(bond=Bond.DONE, since=done_at, said=said)


def _ids(openings: QuerySet[Opening]) -> QuerySet[Opening, int]:
    return openings.order_by().values_list("pk", flat=True)


def _moment(at: datetime, zone: str) -> str:
    return moment(at.astimezone(ZoneInfo(zone)))
