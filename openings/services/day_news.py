"""Telling what became of crews' days, and which openings and deliveries wait for somebody to decide."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable
from datetime import datetime

from jobs import transaction
from jobs.about import about
from jobs.calc.notice import EventKind
from jobs.calc.say import counted
from jobs.calc.say import day as say_day
from jobs.models import CrewDay, Person
from jobs.queries import todays
from jobs.services import tell_event, untold
from openings.calc.figures import brief
from openings.models import Assignment, Delivery, Opening
from openings.queries import Stranded, stranded

MOST_MARKS = 12
"""So many marks are named in one sentence (our choice); the others are counted."""


def tell_moves(*, given: Iterable[Assignment] = (), taken: Iterable[Assignment] = (), by: Person | None) -> None:
    """Tell by crew day which openings it was given and which were taken from it; openings and days are joined.

    One query a day.
    """
    by_day: dict[CrewDay, tuple[list[Opening], list[Opening]]] = defaultdict(lambda: ([], []))
    for one in given:
        by_day[one.crew_day][0].append(one.opening)
    for one in taken:
        by_day[one.crew_day][1].append(one.opening)
    for day, (added, removed) in sorted(by_day.items(), key=lambda item: item[0].pk):
        what = [f"{_marks(openings)} {verb}" for openings, verb in ((added, "added"), (removed, "removed")) if openings]
        _tell_day(day, "; ".join(what), openings=[*added, *removed], by=by)


def tell_day_set(day: CrewDay, *, by: Person | None = None) -> None:
    """Tell that a crew is off on a day, or how many hours it works. One query."""
    what = f"off, {day.off_reason}" if day.is_off else f"{brief(day.capacity_person_h)} labor hours"
    _tell_day(day, what, openings=[], by=by)


def _tell_day(day: CrewDay, what: str, *, openings: Collection[Opening], by: Person | None) -> None:
    jobs = {opening.job for opening in openings}
    tell_event(
        kind=EventKind.DAY_CHANGED,
        said=f"{day.crew} on {say_day(day.on)}: {what}.",
        job=jobs.pop() if len(jobs) == 1 else None,
        crew=day.crew,
        on=day.on,
        about=[about(day), *map(about, openings)],
        by=by,
    )


@transaction.atomic
def tell_stranded() -> int:
    """Tell by crew day of openings that are stranded and were not told of, each once; return how many days are told.

    Safe to repeat.
    """
    found = {f"stranded {one.assignment.pk} {one.why}": one for one in stranded()}
    by_day: dict[int, dict[str, Stranded]] = defaultdict(dict)
    for key in untold(found):
        by_day[found[key].assignment.crew_day_id][key] = found[key]
    for keyed in by_day.values():
        _tell_stranded(keyed)
    return len(by_day)


def _tell_stranded(keyed: dict[str, Stranded]) -> None:
    those = sorted(keyed.values(), key=lambda one: one.assignment.pk)
    day = those[0].assignment.crew_day
    openings = [one.assignment.opening for one in those]
    why = ", ".join(sorted({one.why for one in those}))
    verb = "is" if len(those) == 1 else "are"
    tell_event(
        kind=EventKind.STRANDED,
        said=f"{day.crew} on {say_day(day.on)}: {_marks(openings)} {verb} stranded, since the {why}. "
        "Move or unassign on the board.",
        crew=day.crew,
        on=day.on,
        about=[about(day), *map(about, openings)],
        once=list(keyed),
    )


@transaction.atomic
def tell_late_deliveries(*, now: datetime) -> int:
    """Tell of each delivery that was due before today where its job is and has not come, once for each day it was
    promised for; return how many are told. Safe to repeat.
    """
    today_in = todays()
    late = Delivery.objects.late(max(today_in.values(), default=now.date())).select_related("job")
    told = 0
    for delivery in late.order_by("expected_on", "pk"):
        if delivery.expected_on and delivery.expected_on < today_in[delivery.job.time_zone]:
            told += bool(_tell_late(delivery))
    return told


def _tell_late(delivery: Delivery) -> bool:
    if delivery.expected_on is None:
        return False
    event = tell_event(
        kind=EventKind.DELIVERY_LATE,
        said=f"{delivery} for {delivery.job} was due {say_day(delivery.expected_on)} and has not come.",
        job=delivery.job,
        on=delivery.expected_on,
        about=[about(delivery)],
        once=[f"late delivery {delivery.pk} {delivery.expected_on}"],
    )
    return event is not None


def _marks(openings: Collection[Opening]) -> str:
    """Return the marks of openings, by job: `2 openings of weir (W1, W2)`."""
    by_job: dict[str, list[str]] = defaultdict(list)
    for opening in openings:
        by_job[opening.job.code].append(opening.mark)
    return " and ".join(
        f"{counted(len(marks), 'opening')} of {code} ({_some(marks)})" for code, marks in by_job.items()
    )


def _some(marks: list[str]) -> str:
    more = len(marks) - MOST_MARKS
    return ", ".join(marks[:MOST_MARKS]) + (f" and {more} more" if more > 0 else "")
