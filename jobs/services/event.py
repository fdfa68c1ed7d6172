"""Telling what happened, in the transaction that made it so."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import asdict
from datetime import date

from jobs import transaction
from jobs.calc.notice import EventKind
from jobs.errors import About
from jobs.models import Crew, Event, EventKey, Job, Person


@transaction.atomic
def tell_event(
    *,
    kind: EventKind,
    said: str,
    job: Job | None = None,
    crew: Crew | None = None,
    on: date | None = None,
    about: Iterable[About] = (),
    by: Person | None = None,
    once: Collection[str] = (),
) -> Event | None:
    """Keep what happened, for the people and programs that want to know; call it in the transaction of the verb.

    Nothing is sent here: the minute makes notices and calls of it (`spread_events`).

    Args:
        said: what happened, in whole sentences.
        crew: the crew that it is about; their lead is told.
        on: the day that it is about.
        about: the rows that it is about, as `jobs.about.about` names them.
        by: who did it, and so is not told.
        once: names of what is told, such as `no sheet 12`, for what the clock finds again every minute.

    Returns:
        The event, or None where all of `once` was told before.
    """
    new = untold(once)
    if once and not new:
        return None
    event = Event.objects.create(
        kind=kind, said=said, job=job, crew=crew, on=on, about=[asdict(one) for one in about], by=by
    )
    EventKey.objects.bulk_create(EventKey(event=event, key=key) for key in sorted(new))
    return event


def untold(keys: Collection[str]) -> set[str]:
    """Return those of the names for which no event was told yet. One query."""
    return set(keys) - set(EventKey.objects.filter(key__in=keys).values_list("key", flat=True)) if keys else set()
