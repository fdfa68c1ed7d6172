"""Named reads of who is told what."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Count, QuerySet

from jobs.calc.notice import EventKind, How, starting_choice
from jobs.models import Company, Event, Job, Notice, NoticeChoice, Person

UNIVERSAL = "UTC"


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """How a person is told of one kind of event; `is_own` where they chose it."""

    kind: EventKind
    how: How
    is_own: bool


def choices_of(person: Person) -> list[Choice]:
    """Return how a person is told of every kind of event. One query."""
    own = _chosen([person.pk])
    return [
        Choice(
            kind=kind,
            how=own.get((person.pk, kind), starting_choice(kind, person.role)),
            is_own=(person.pk, kind) in own,
        )
        for kind in EventKind
    ]


def told_of(people: Iterable[Person]) -> dict[tuple[int, EventKind], How]:
    """Return by person and kind how they are told. One query."""
    listed = list(people)
    own = _chosen([person.pk for person in listed])
    return {
        (person.pk, kind): own.get((person.pk, kind), starting_choice(kind, person.role))
        for person in listed
        for kind in EventKind
    }


def concerns(event: Event, person: Person) -> bool:
    """Return whether an event is any news to a person: not what they did, and to a crew lead only their crew's.

    No query.
    """
    if event.by_id == person.pk:
        return False
    return person.role != Person.Role.CREW_LEAD or event.crew_id == person.crew_id


def notices_of(person: Person) -> QuerySet[Notice]:
    """Return what a person was told, the newest first. One query."""
    return Notice.objects.filter(person=person).select_related("event", "letter").order_by("-pk")


def office_zone() -> str:
    """Return the time zone of the office: the company's, or else that of the most jobs. Two queries at most."""
    if own := Company.objects.first():
        return own.time_zone
    zones = Job.objects.order_by().values("time_zone").annotate(count=Count("pk"))
    first = zones.order_by("-count", "time_zone").first()
    return str(first["time_zone"]) if first else UNIVERSAL


def _chosen(people: list[int]) -> dict[tuple[int, EventKind], How]:
    own = NoticeChoice.objects.filter(person__in=people).values_list("person", "kind", "how")
    return {(person, EventKind(kind)): How(how) for person, kind, how in own}
