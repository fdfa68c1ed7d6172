"""Giving openings to a crew for a day, moving them to another, and taking them back."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from itertools import accumulate
from zoneinfo import ZoneInfo

from django.db.models import Q, Sum
from django.utils import timezone

from jobs import transaction
from jobs.about import about, missing_row
from jobs.calc.horizon import COMING
from jobs.calc.say import counted, plural, reasons_once
from jobs.calc.say import day as say_day
from jobs.calc.say import moment as say_moment
from jobs.dates import require_within
from jobs.errors import BadInput, Conflict, Fault, NotFound
from jobs.models import Crew, CrewDay, Job, Person
from jobs.queries import today_at
from jobs.services import change, find_crew_day, lock_crew_day, lock_crew_days, require_worked
from openings.calc.binding import Verb
from openings.calc.figures import brief
from openings.calc.mending import CrewMove
from openings.calc.short_crew import has
from openings.errors import CrewTooSmall
from openings.models import Assignment, BoardAct, Opening
from openings.models.assignment import TO_DO
from openings.queries import LiftNeed, SeenDay, hours_left, lifts_left, readiness, require_seen
from openings.queries.binding import require_free, why_bound
from openings.queries.travel import route_on
from openings.services.day_news import tell_moves
from openings.services.lock import lock_openings


@transaction.atomic
def assign(
    *,
    opening_ids: Sequence[int],
    crew_id: int,
    on: date,
    by: Person | None,
    short_crew_reason: str = "",
    seen: Collection[SeenDay] = (),
) -> list[Assignment]:
    """Give openings to a crew for a day: all of them or none.

    The openings are locked first, then the crew day, always in this order, so of two who assign the same
    opening at once one wins and the other is refused.

    Args:
        short_crew_reason: why units that take more people than the crew has go there all the same; it is kept, with
            `by`, for those openings alone.
        seen: crew days as they were when this was decided.

    Raises:
        NotFound: an opening or the crew does not exist.
        BadInput: no opening was named.
        ChangedMeanwhile: the day is not as it was seen.
        DayIsPast: the day lies before today where the job is.
        DayOutOfReach: it lies beyond the horizon.
        DayOff: the crew does not work that day.
        CrewTooSmall: a unit takes more people than the crew has, and no reason is given.
        Conflict: an opening is void, complete or assigned, is not expected to be ready by that day, or the hours do
            not fit.
    """
    if not opening_ids:
        raise BadInput("name at least one opening")
    openings = lock_openings(set(opening_ids))
    _require_coming(openings, on)
    _require_ready(openings, on)
    day = lock_crew_day(crew_id=crew_id, on=on)
    require_seen(seen, [day])
    asked = {opening.pk: opening for opening in openings}
    act = BoardAct.objects.create(kind=BoardAct.Kind.ASSIGN, by=by)
    given = _give(openings, day, asked=asked, act=act, short_crew_reason=short_crew_reason)
    tell_moves(given=given, by=by)
    return given


@transaction.atomic
def move(
    *,
    crew_id: int,
    on: date,
    by: Person,
    assignment_ids: Collection[int] = (),
    whole_days: Collection[int] = (),
    short_crew_reason: str = "",
    seen: Collection[SeenDay] = (),
) -> list[Assignment]:
    """Give openings that are assigned to a crew for another day, the same crew or another: all of them or none.

    One never begun is planned anew. One that was begun is carried on: with the person-hours of the steps that are not
    recorded, while what is recorded stays. The old assignments stay as history.

    Args:
        whole_days: ids of crew days of which everything goes that is not complete.
        short_crew_reason, seen: as `assign`; of `seen` the days that openings leave count too.

    Raises:
        NotFound: an assignment or the crew does not exist.
        BadInput: nothing was named that can go.
        ChangedMeanwhile: one of the days is not as it was seen.
        DayIsPast, DayOutOfReach, DayOff, CrewTooSmall: as `assign`.
        Conflict: one is withdrawn or given to that day already, an opening is complete or not expected to be ready by
            that day, or the hours do not fit.
    """
    named = _named(assignment_ids, whole_days)
    to = CrewMove(crew_id=crew_id, on=on, assignment_ids=tuple(named))
    return move_all(moves=[to], by=by, short_crew_reason=short_crew_reason, seen=seen)


@transaction.atomic
def move_all(
    *, moves: Sequence[CrewMove], by: Person, short_crew_reason: str = "", seen: Collection[SeenDay] = ()
) -> list[Assignment]:
    """Give openings that are assigned to several crew days in one act, each as `move` does: all of them or none.

    They leave their days before any is given, so that two crews can change places.

    Raises:
        BadInput: nothing was named, or an assignment twice.
        NotFound, ChangedMeanwhile, DayIsPast, DayOutOfReach, DayOff, CrewTooSmall, Conflict: as `move`.
    """
    ids = [pk for to in moves for pk in to.assignment_ids]
    if len(ids) > len(set(ids)):
        raise BadInput("an opening goes to one crew day: name each assignment once")
    asked = _named(ids)
    openings = {opening.pk: opening for opening in lock_openings({one.opening_id for one in asked.values()})}
    of_move = [[openings[asked[pk].opening_id] for pk in to.assignment_ids] for to in moves]
    for to, going in zip(moves, of_move, strict=True):
        _require_coming(going, to.on)
    found = [find_crew_day(crew_id=to.crew_id, on=to.on) for to in moves]
    days = lock_crew_days({*(day.pk for day in found), *(one.crew_day_id for one in asked.values())})
    require_seen(seen, days.values())
    targets = [require_worked(days[day.pk]) for day in found]
    live = Assignment.objects.live().filter(pk__in=asked)
    lives_on = {one.opening_id: days[one.crew_day_id] for one in live}
    by_opening = {one.opening_id: one for one in asked.values()}
    for day, going in zip(targets, of_move, strict=True):
        _require_movable(going, lives_on, day, asked=by_opening)
    act = BoardAct.objects.create(kind=BoardAct.Kind.MOVE, by=by)
    live.update(withdrawn_by=by, withdrawn_at=timezone.now(), taken_in=act)
    all_given = [
        given
        for day, going in zip(targets, of_move, strict=True)
        for given in _give(going, day, asked=by_opening, act=act, short_crew_reason=short_crew_reason)
    ]
    tell_moves(given=all_given, taken=by_opening.values(), by=by)
    return all_given


def would_unassign(assignment_ids: Collection[int]) -> list[Assignment]:
    """Return assignments that can be taken back, with openings and crew days joined. A query, and three for each.

    Raises:
        NotFound, BadInput, Conflict: as `unassign`.
    """
    found = [*_named(assignment_ids).values()]
    _require_withdrawable(found, {one.opening_id: one.opening for one in found})
    return found


def withdraw(*, assignment_id: int, by: Person) -> Assignment:
    """Take one opening back from its crew day, as `unassign`."""
    (taken,) = unassign(assignment_ids=[assignment_id], by=by)
    return taken


@transaction.atomic
def unassign(*, assignment_ids: Collection[int], by: Person, seen: Collection[SeenDay] = ()) -> list[Assignment]:
    """Take openings back from their crew days, all of them or none; the assignments stay as history.

    Raises:
        NotFound: there is no such assignment.
        BadInput: none was named.
        ChangedMeanwhile: a day is not as it was seen.
        Conflict: one is withdrawn already, or its install was begun.
    """
    asked = _named(assignment_ids)
    openings = lock_openings({assignment.opening_id for assignment in asked.values()})
    days = lock_crew_days({assignment.crew_day_id for assignment in asked.values()})
    require_seen(seen, days.values())
    found = [*_named(assignment_ids).values()]
    _require_withdrawable(found, {opening.pk: opening for opening in openings})
    act = BoardAct.objects.create(kind=BoardAct.Kind.UNASSIGN, by=by)
    taken = [change(one, withdrawn_by=by, withdrawn_at=timezone.now(), taken_in=act) for one in found]
    tell_moves(taken=taken, by=by)
    return taken


def _named(assignment_ids: Collection[int], whole_days: Collection[int] = ()) -> dict[int, Assignment]:
    """Return the assignments that were named, by id, and those to do of whole days; openings and days joined.

    Raises:
        NotFound: one does not exist.
        BadInput: there is none.
    """
    joined = Assignment.objects.select_related("opening__job", "crew_day__crew")
    named = Q(pk__in=set(assignment_ids))
    if whole_days:
        named |= TO_DO & Q(crew_day__in=set(whole_days))
    found = {assignment.pk: assignment for assignment in joined.filter(named)}
    if missing := sorted(set(assignment_ids) - found.keys()):
        none = [missing_row(Assignment, pk) for pk in missing]
        raise NotFound(f"there is no assignment {', '.join(map(str, missing))}", about=none)
    if not found:
        raise BadInput(
            "nothing of that day is left to move: it is done, or somebody else moved it"
            if whole_days
            else "name at least one assignment"
        )
    return found


def _require_withdrawable(assignments: Iterable[Assignment], openings: Mapping[int, Opening]) -> None:
    for one in assignments:
        opening = openings[one.opening_id]
        if one.withdrawn_at:
            at = say_moment(one.withdrawn_at.astimezone(ZoneInfo(opening.job.time_zone)))
            raise Conflict(f"{opening} was unassigned {at} already", about=[about(opening), about(one)])
        require_free(opening, Verb.WITHDRAW, kept="stays on its crew day")


def _give(
    openings: Sequence[Opening],
    day: CrewDay,
    *,
    asked: Mapping[int, Opening | Assignment],
    act: BoardAct,
    short_crew_reason: str,
) -> list[Assignment]:
    """Assign locked openings to a locked crew day, each with what is left of its hours.

    Args:
        asked: by opening, the row that was asked to go there.
        act: in which they are given.

    Raises:
        CrewTooSmall, Conflict: as `assign`.
    """
    by = act.by
    in_order = sorted(openings, key=lambda o: (o.job_id, o.position, o.pk))
    left = hours_left(in_order, experience=day.crew.experience)
    require_room(
        day, [left[opening.pk].person_h for opening in in_order], job_ids={opening.job_id for opening in openings}
    )
    short = _short_of_people(openings, day.crew)
    if short and not short_crew_reason:
        raise _too_small(openings, short, day.crew, asked=asked)
    if short and by is None:
        raise BadInput("only a person can decide that a unit goes to a crew that is too small for it")
    why = {opening_id: {"short_crew_reason": short_crew_reason, "short_crew_by": by} for opening_id in short}
    return Assignment.objects.bulk_create(
        [
            Assignment(
                opening=opening,
                crew_day=day,
                person_h=left[opening.pk].person_h,
                assigned_by=by,
                given_in=act,
                **why.get(opening.pk, {}),
            )
            for opening in in_order
        ]
    )


def _require_coming(openings: Collection[Opening], on: date) -> None:
    jobs: set[Job] = {opening.job for opening in openings}
    for job in jobs:
        require_within(COMING, on, today=today_at(job))


def _require_ready(openings: Sequence[Opening], on: date) -> None:
    days = dict.fromkeys((opening.pk for opening in openings), on)
    refuse(never_given(openings, Verb.ASSIGN, on=days), {opening.pk: opening for opening in openings})


def _require_movable(
    openings: Sequence[Opening], live: Mapping[int, CrewDay], day: CrewDay, *, asked: Mapping[int, Assignment]
) -> None:
    """Refuse what is not assigned any more, what never is, and what is on that day already."""
    days = dict.fromkeys((opening.pk for opening in openings), day.on)
    why_not = never_given(openings, Verb.MOVE, on=days)
    for opening in openings:
        if opening.pk not in live:
            why_not.setdefault(opening.pk, f"{opening} is unassigned already; assign it again")
        elif live[opening.pk].pk == day.pk:
            why_not.setdefault(opening.pk, f"{opening} is assigned to {day.crew} on {say_day(day.on)} already")
    refuse(why_not, asked)


def never_given(openings: Collection[Opening], verb: Verb, *, on: Mapping[int, date] | None) -> dict[int, str]:
    """Return by opening why it is not given to a crew as it stands. Eight queries at most.

    Args:
        on: by opening, for which day; None where they are taken back, and it does not matter whether they are ready.
    """
    bound = why_bound(Opening.objects.filter(pk__in=[opening.pk for opening in openings]), verb)
    ready = readiness(openings, together=True) if on is not None else {}
    reasons = {}
    for opening in openings:
        if opening.is_void:
            reasons[opening.pk] = f"{opening} is void"
        elif opening.job.closed_at:
            reasons[opening.pk] = f"{opening.job} is closed; reopen the job to assign {opening}"
        elif opening.pk in bound:
            reasons[opening.pk] = f"{opening} cannot be given to a crew: {bound[opening.pk]}"
        elif on is not None and (why := ready[opening.pk].refusal_on(on[opening.pk])):
            reasons[opening.pk] = f"{opening} {why}"
    return reasons


def refuse(why_not: Mapping[int, str], asked: Mapping[int, Opening | Assignment]) -> None:
    """Raise Conflict if there is a reason why an opening does not go; it names the row that was asked to."""
    if why_not:
        why = {pk: why_not[pk] for pk in sorted(why_not)}
        said = reasons_once((_mark_of(asked[pk]), reason) for pk, reason in why.items())
        raise Conflict(said, about=[about(asked[pk], detail=reason) for pk, reason in why.items()])


def _mark_of(row: Opening | Assignment) -> str:
    return row.mark if isinstance(row, Opening) else row.opening.mark


def require_room(day: CrewDay, hours: Collection[Decimal], *, job_ids: Collection[int]) -> None:
    """Refuse more hours than a locked crew day has free, the drive between its sites counted. Five queries at most.

    Args:
        hours: labor hours of the openings that come, in the order in which they would be set.
        job_ids: their jobs.
    """
    taken = Assignment.objects.live().filter(crew_day=day).aggregate(h=Sum("person_h"))["h"] or 0
    driven = route_on(day.pk, more=job_ids).person_h(day.crew.people_count)
    asked, free = sum(hours, Decimal(0)) + driven, day.capacity_person_h - taken
    if asked > free:
        drive = f", {brief(driven)} of them for the drive between the sites" if driven else ""
        fitting = sum(1 for taken_by_then in accumulate(hours, initial=driven) if taken_by_then <= free) - 1
        fit = f"; the first {fitting} would fit" if fitting > 0 else ""
        raise Conflict(
            f"{day} has {brief(free)} of {brief(day.capacity_person_h)} labor hours free; "
            f"{counted(len(hours), 'opening')} would take {brief(asked)}{drive}{fit}",
            about=[about(day)],
        )


def _short_of_people(openings: Sequence[Opening], crew: Crew) -> dict[int, LiftNeed]:
    """Return by opening whom its unit takes, of those that take more people than the crew has.

    An aid is no hindrance where the crew has the people who guide it. One query.
    """
    return {pk: need for pk, need in lifts_left(openings).items() if need.people > crew.people_count}


def _too_small(
    openings: Sequence[Opening],
    short: dict[int, LiftNeed],
    crew: Crew,
    *,
    asked: Mapping[int, Opening | Assignment],
) -> CrewTooSmall:
    named = {opening.pk: f"{opening.mark} of {opening.job.code}" for opening in openings if opening.pk in short}
    takes = reasons_once((name, short[pk].said_of(name)) for pk, name in named.items())
    them = plural("it", len(named))
    return CrewTooSmall(
        f"{takes}; {has(crew.name, crew.people_count)}. Give {them} to a larger crew, or write why it is safe "
        "anyway: that goes on the pull sheet, with the name of who decided it",
        faults=[
            Fault(
                field="short_crew_reason",
                detail=f"{name} takes {short[pk].people} people, and {has(crew.name, crew.people_count)}: "
                "a larger crew, or the reason why it is safe anyway",
            )
            for pk, name in named.items()
        ],
        about=[about(asked[pk], detail=short[pk].said_of(name)) for pk, name in named.items()],
    )
