"""Undoing as one what was assigned, moved or unassigned as one."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from django.utils import timezone

from jobs import transaction
from jobs.about import about
from jobs.calc.say import day as say_day
from jobs.errors import Conflict, NotFound
from jobs.models import CrewDay, Person
from jobs.services import lock_crew_days
from openings.calc.binding import Verb
from openings.models import Assignment, BoardAct, InstallRecord, Opening, StepRecord
from openings.services.assign import never_given, refuse, require_room
from openings.services.day_news import tell_moves
from openings.services.lock import lock_openings


@transaction.atomic
def undo(*, act_id: int, by: Person) -> BoardAct:
    """Put back what an act assigned, moved or unassigned, all of it or nothing, where nothing changed since.

    Every opening has again what it had before: its crew, its day, even one that is past, and its planned hours. An
    undo is an act too, and is undone like any other.

    Raises:
        NotFound: there is no such act.
        Conflict: it was undone already; an opening was moved, begun, held or given again since; a day was changed
            since, or its hours are taken.
    """
    act = BoardAct.objects.filter(pk=act_id).first()
    if act is None:
        raise NotFound(f"there is no change {act_id} of the board")
    concerned = {*act.given.values_list("opening", flat=True), *act.taken.values_list("opening", flat=True)}
    openings = {opening.pk: opening for opening in lock_openings(concerned)}
    given, taken = list(act.given.all()), list(act.taken.all())
    days = lock_crew_days({one.crew_day_id for one in (*given, *taken)})
    if BoardAct.objects.filter(undoes=act).exists():
        raise Conflict("it was undone already")
    _require_untouched(act, openings, given, taken)
    back = {one.opening_id: days[one.crew_day_id].on for one in taken}
    never = never_given([openings[pk] for pk in back], Verb.MOVE, on=back)
    only_given = [opening for pk, opening in openings.items() if pk not in back]
    never |= never_given(only_given, Verb.WITHDRAW, on=None)
    refuse(never, openings)
    undoing = BoardAct.objects.create(kind=BoardAct.Kind.UNDO, by=by, undoes=act)
    act.given.update(withdrawn_by=by, withdrawn_at=timezone.now(), taken_in=undoing)
    _require_days_as_before(act, days, taken, openings)
    again = Assignment.objects.bulk_create([_again(one, undoing) for one in taken])
    for one in (*again, *given):
        one.opening, one.crew_day = openings[one.opening_id], days[one.crew_day_id]
    tell_moves(given=again, taken=given, by=by)
    return undoing


def _require_untouched(
    act: BoardAct, openings: Mapping[int, Opening], given: Collection[Assignment], taken: Collection[Assignment]
) -> None:
    """Refuse where an opening is not as the act left it. Three queries."""
    began = InstallRecord.objects.filter(opening__in=openings, started_at__gt=act.at).values_list("opening", flat=True)
    laid = StepRecord.objects.filter(record__opening__in=openings, recorded_at__gt=act.at)
    worked_on = {*began, *laid.values_list("record__opening", flat=True)}
    live = dict(Assignment.objects.live().filter(opening__in=openings).values_list("opening", "pk"))
    left = dict.fromkeys((one.opening_id for one in taken), None) | {one.opening_id: one.pk for one in given}
    why = {}
    for pk, opening in openings.items():
        if pk in worked_on:
            why[pk] = f"work on {opening} was recorded since"
        elif live.get(pk) != left[pk]:
            why[pk] = f"{opening} was assigned, moved or unassigned again since"
    refuse(why, openings)


def _require_days_as_before(
    act: BoardAct, days: Mapping[int, CrewDay], taken: Iterable[Assignment], openings: Mapping[int, Opening]
) -> None:
    """Refuse where a day that gets openings back was set otherwise since, or gave their hours to others.

    A day that was off or overfull before the act may be so again: that is what undoing means. Two queries a day.
    """
    by_day: dict[int, list[Assignment]] = {}
    for one in taken:
        by_day.setdefault(one.crew_day_id, []).append(one)
    for pk, of_day in by_day.items():
        day = days[pk]
        if day.updated_at > act.at:
            raise Conflict(f"{day.crew}’s day, {say_day(day.on)}, was changed since", about=[about(day)])
        if Assignment.objects.live().filter(crew_day=day, assigned_at__gt=act.at).exists():
            require_room(
                day, [one.person_h for one in of_day], job_ids={openings[one.opening_id].job_id for one in of_day}
            )


def _again(one: Assignment, undoing: BoardAct) -> Assignment:
    """Return what was taken back, given again as it was."""
    return Assignment(
        opening_id=one.opening_id,
        crew_day_id=one.crew_day_id,
        person_h=one.person_h,
        assigned_by=undoing.by,
        short_crew_reason=one.short_crew_reason,
        short_crew_by_id=one.short_crew_by_id,
        given_in=undoing,
    )
