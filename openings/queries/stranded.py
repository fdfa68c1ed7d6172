"""Openings that are stranded: assigned to a day on which nobody will set them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum
from functools import reduce
from itertools import groupby
from operator import or_
from typing import TYPE_CHECKING, TypedDict, cast
from zoneinfo import ZoneInfo

from django.contrib.postgres.expressions import ArraySubquery
from django.db.models import Count, F, OuterRef, Q, QuerySet, Subquery, Sum

from jobs.calc.say import counted, day
from jobs.models import CrewDay
from jobs.queries import todays
from openings.calc.figures import brief
from openings.calc.labor_rates import LaborRates
from openings.calc.lay_order import steps_for
from openings.models import Assignment, InstallRecord, StepRecord
from openings.queries.left import left_of_item
from openings.queries.opening import computable
from openings.queries.rate import labor_rates
from openings.queries.travel import routes_on


class Why(StrEnum):
    """What strands an opening."""

    DAY_IS_PAST = "day is past"
    DAY_IS_OFF = "day is off"
    DAY_IS_OVERFULL = "day is overfull"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stranded:
    """An opening that somebody must decide about: it is not done, and its crew day cannot do it.

    `left_person_h` are the person-hours that it would still take from the same crew.
    """

    assignment: Assignment
    why: Why
    reason: str
    steps_recorded: int
    steps_count: int
    left_person_h: Decimal

    @property
    def is_begun(self) -> bool:
        """Whether it is carried on; one never begun is moved or withdrawn."""
        return record_of(self.assignment) is not None


def stranded(
    *, crew_id: int | None = None, crew_day_id: int | None = None, job_id: int | None = None
) -> list[Stranded]:
    """Return the stranded openings of every crew, or of one, or of one of its days; the oldest day first.

    An opening is stranded while it is assigned and not done, and its day lies before today where its job is, or its
    crew is off that day, or more is assigned to the day than the crew has hours, the drive between its sites counted.
    Of an overfull day those are stranded that do not fit: what is done or begun comes first, then the order of the
    day. Seven queries at most.
    """
    today_in = todays()
    if not today_in:
        return []
    live = Assignment.objects.live().filter(opening__is_void=False)
    if crew_id is not None:
        live = live.filter(crew_day__crew=crew_id)
    if crew_day_id is not None:
        live = live.filter(crew_day=crew_day_id)
    pasts = (Q(opening__job__time_zone=zone, crew_day__on__lt=today) for zone, today in today_in.items())
    given_up = live.to_do().filter(reduce(or_, pasts) | ~Q(crew_day__off_reason=""))
    overfull = live.filter(crew_day__in=_maybe_overfull_days(since=min(today_in.values())))
    concerned = live.filter(pk__in=given_up.order_by().values("pk").union(overfull.order_by().values("pk")))
    steps = StepRecord.objects.filter(record__opening=OuterRef("opening")).order_by().values("step")
    assignments = (
        concerned.with_state()
        .annotate(steps_recorded=ArraySubquery(steps))
        .select_related("opening__job", "opening__detail", "opening__install_record", "crew_day__crew")
        .order_by("crew_day__on", "crew_day__crew__name", "crew_day", "opening__job__code", "opening__position", "pk")
    )
    recorded = cast("QuerySet[_Assignment]", assignments)  # the stubs forget what a QuerySet of ours annotates
    days = [list(of_day) for _, of_day in groupby(recorded, key=lambda assignment: assignment.crew_day_id)]
    driven = _driven_person_h(days)
    found = [
        (assignment, why)
        for of_day in days
        for assignment, why in _of_day(of_day, today_in, driven_person_h=driven.get(of_day[0].crew_day_id, Decimal(0)))
        if job_id is None or assignment.opening.job_id == job_id
    ]
    rates = labor_rates() if any(record_of(assignment) for assignment, _ in found) else None
    return list(_described(found, rates))


def record_of(assignment: Assignment) -> InstallRecord | None:
    """Return the install record of an assigned opening, where one is joined."""
    return getattr(assignment.opening, "install_record", None)


if TYPE_CHECKING:
    from django_stubs_ext import WithAnnotations

    class _Recorded(TypedDict):
        steps_recorded: list[str]

    _Assignment = WithAnnotations[Assignment, _Recorded]


def _maybe_overfull_days(*, since: date) -> QuerySet[CrewDay, int]:
    """Return the days whose openings alone take more hours than the crew has, and those on which it drives besides."""
    given = Assignment.objects.live().filter(crew_day=OuterRef("pk")).order_by().values("crew_day")
    days = CrewDay.objects.filter(on__gte=since).annotate(
        taken_person_h=Subquery(given.annotate(taken_person_h=Sum("person_h")).values("taken_person_h")),
        jobs_count=Subquery(given.annotate(count=Count("opening__job", distinct=True)).values("count")),
    )
    maybe = days.filter(Q(taken_person_h__gt=F("capacity_person_h")) | Q(jobs_count__gt=1))
    return maybe.order_by().values_list("pk", flat=True)


def _driven_person_h(days: Iterable[list[_Assignment]]) -> dict[int, Decimal]:
    """Return by crew day the labor hours on the road, of days that serve several sites. Four queries, or none."""
    people = {
        of_day[0].crew_day_id: of_day[0].crew_day.crew.people_count
        for of_day in days
        if len({one.opening.job_id for one in of_day}) > 1
    }
    routes = routes_on(people) if people else {}
    return {day_id: route.person_h(people[day_id]) for day_id, route in routes.items()}


def _of_day(
    assignments: list[_Assignment], today_in: Mapping[str, date], *, driven_person_h: Decimal
) -> Iterator[tuple[_Assignment, Why]]:
    """Yield the stranded openings of one crew day in its order, with what strands each."""
    crew_day = assignments[0].crew_day
    taken_person_h = driven_person_h
    does_not_fit = set()
    for assignment in sorted(assignments, key=_is_yet_to_begin):
        taken_person_h += assignment.person_h
        if taken_person_h > crew_day.capacity_person_h:
            does_not_fit.add(assignment.pk)
    for assignment in assignments:
        record = record_of(assignment)
        if record and record.done_at:
            continue
        if crew_day.on < today_in[assignment.opening.job.time_zone]:
            yield assignment, Why.DAY_IS_PAST
        elif crew_day.is_off:
            yield assignment, Why.DAY_IS_OFF
        elif assignment.pk in does_not_fit:
            yield assignment, Why.DAY_IS_OVERFULL


def _is_yet_to_begin(assignment: Assignment) -> int:
    """Return 0 for what is done, 1 for what is begun and 2 for what is neither."""
    record = record_of(assignment)
    return 2 if record is None else int(record.done_at is None)


def _described(found: Iterable[tuple[_Assignment, Why]], rates: LaborRates | None) -> Iterator[Stranded]:
    found = list(found)
    items = computable(assignment.opening for assignment, _ in found)
    for (assignment, why), item in zip(found, items, strict=True):
        codes = {step.code for step in steps_for(item.detail)}
        recorded = codes.intersection(assignment.steps_recorded)
        left_person_h = assignment.person_h
        if rates and record_of(assignment):
            experience = assignment.crew_day.crew.experience
            left_person_h = left_of_item(item, rates, experience=experience, recorded=recorded).person_h
        yield Stranded(
            assignment=assignment,
            why=why,
            reason=f"{_begun(assignment, len(recorded), len(codes))}; {_because(assignment, why)}",
            steps_recorded=len(recorded),
            steps_count=len(codes),
            left_person_h=left_person_h,
        )


def _begun(assignment: Assignment, recorded_count: int, steps_count: int) -> str:
    record = record_of(assignment)
    if record is None:
        return "not started"
    on = record.started_at.astimezone(ZoneInfo(assignment.opening.job.time_zone)).date()
    return f"started {day(on)}, {recorded_count} of {counted(steps_count, 'step')} recorded"


def _because(assignment: Assignment, why: Why) -> str:
    crew_day = assignment.crew_day
    if why is Why.DAY_IS_PAST:
        return f"its day, {day(crew_day.on)}, is past"
    if why is Why.DAY_IS_OFF:
        return f"{crew_day.crew} is off on {day(crew_day.on)}: {crew_day.off_reason}"
    return (
        f"{crew_day.crew} has {brief(crew_day.capacity_person_h)} labor hours on {day(crew_day.on)}, and more than "
        "that is assigned: it does not fit"
    )
