"""The day on which a job will end, from its plan and the work that is done."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from jobs.calc.calendar import days_after, days_before
from jobs.calc.horizon import PLAN
from jobs.calc.say import counted, day, plural

PACE_DAYS = 10
"""So many working days give the pace (our choice: two weeks of five even out weather and deliveries)."""

LONGEST_LOOK_BACK = 366
"""Calendar days among which they are looked for."""

MOST_DAYS = 3650
"""A pace that needs longer than this is none."""

Works = Callable[[date], bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ending:
    """The day on which the last opening should be done, or None where none is known; `reason` says why."""

    on: date | None
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """Openings done on whole working days that are over, the first of them `since`."""

    done: int
    days: int
    since: date

    @property
    def a_day(self) -> Fraction:
        return Fraction(self.done, self.days)


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """The openings that are left: those with a coming day, by that day, and how many have none.

    Args:
        past, far: how many of the latter still stand on a day that is past, or beyond the horizon.
    """

    assigned: Mapping[date, int]
    unassigned: int
    past: int
    far: int

    @property
    def last(self) -> date | None:
        return max(self.assigned, default=None)


def ending_of(
    *,
    openings: int,
    left: int,
    void: int,
    done_by_day: Mapping[date, int],
    today: date,
    assigned_by_day: Mapping[date, int],
    works: Works,
) -> Ending:
    """Return when the openings that are left will be done.

    What is assigned is done on its day. The rest, which has no coming day, is done at the pace of the job: each
    working day from today on takes as many as the pace leaves room for beside what is assigned to that day, today
    beside what is done today too. The ending is the later of the last assigned day and the day that takes the last
    of the rest.

    So the ending stays while work goes at its pace, at any hour: what is done today leaves less and takes the room
    of today. It moves when a working day is over that went otherwise, and never over a day off.

    Without a pace the rest follows after the last assigned day, as many a working day as are assigned to a day on
    average.

    Args:
        openings: all that there are but the void ones, `void` in number.
        left: those not done.
        done_by_day: openings done by local date.
        assigned_by_day: openings assigned and not done, by date. Those of a past day, and of one beyond the
            horizon, are left and have no day.
        works: whether some crew of the job works on a date.

    Source:
        Our choice: the plan knows the hours of the crews, the pace knows the site.
    """
    if openings == 0:
        return Ending(on=None, reason="Every opening is void." if void else "No openings yet.")
    if left == 0:
        return Ending(on=max(done_by_day, default=None), reason="Every opening is done.")
    what = _left(left, assigned_by_day, today)
    last, unassigned, said = what.last, what.unassigned, _say_left(left, what, today)
    if last and unassigned <= 0:
        return Ending(on=last, reason=f"{said}.")

    pace = pace_of(done_by_day, today=today, works=works)
    if pace is None:
        return _as_assigned(what, said=f"{said}. {_no_pace(done_by_day, today)}", today=today, works=works)
    taken = {**what.assigned, today: what.assigned.get(today, 0) + done_by_day.get(today, 0)}
    on = _filled_on(
        unassigned,
        days=(on for on in (today, *days_after(today, at_most=MOST_DAYS)) if works(on)),
        room=lambda on: pace.a_day - taken.get(on, 0),
    )
    said += (
        f". {counted(pace.done, 'opening')} done on {counted(pace.days, 'working day')} since {day(pace.since, today)}"
    )
    if on is None:
        return Ending(on=None, reason=f"{said}: at that pace no finish is in sight.")
    rest = "the last of them" if last is None else f"the {_others(unassigned)}"
    by = day(on, today)
    if last and last > on:
        return Ending(on=last, reason=f"{said}: at that pace {rest} will be done before that, by {by}.")
    return Ending(on=on, reason=f"{said}: at that pace {rest} will be done by {by}.")


def pace_of(done_by_day: Mapping[date, int], *, today: date, works: Works) -> Pace | None:
    """Return the pace of the last 10 working days before today, or None where nothing was done on them.

    Where the first opening was done within them, they count from that day. Today is no whole day until it is over,
    so it counts for nothing here. A day with an opening done is a working day.
    """
    begun = min(done_by_day, default=today)
    days: list[date] = []
    for on in days_before(today, at_most=LONGEST_LOOK_BACK):
        if on < begun or len(days) == PACE_DAYS:
            break
        if works(on) or on in done_by_day:
            days.append(on)
    done = sum(done_by_day.get(on, 0) for on in days)
    return Pace(done=done, days=len(days), since=days[-1]) if done else None


def _left(left: int, assigned_by_day: Mapping[date, int], today: date) -> Left:
    last = PLAN.last(today)
    assigned = {on: count for on, count in assigned_by_day.items() if today <= on <= last}
    return Left(
        assigned=assigned,
        unassigned=left - sum(assigned.values()),
        past=sum(count for on, count in assigned_by_day.items() if on < today),
        far=sum(count for on, count in assigned_by_day.items() if on > last),
    )


def _as_assigned(what: Left, *, said: str, today: date, works: Works) -> Ending:
    """Return the ending where nothing gives a pace but what is assigned."""
    last = what.last
    if last is None:
        return Ending(on=None, reason=f"{said}.")
    count, days = sum(what.assigned.values()), len(what.assigned)
    on = _filled_on(
        what.unassigned,
        days=(on for on in days_after(last, at_most=MOST_DAYS) if works(on)),
        room=lambda _on: Fraction(count, days),
    )
    said += (
        f", so the {_others(what.unassigned)} follow at the pace of those assigned, {count} on {counted(days, 'day')}"
    )
    if on is None:
        return Ending(on=None, reason=f"{said}: no finish is in sight.")
    return Ending(on=on, reason=f"{said}: they will be done by {day(on, today)}.")


def _filled_on(count: int, *, days: Iterable[date], room: Callable[[date], Fraction]) -> date | None:
    """Return the first of `days` by which `count` openings found room."""
    found = Fraction(0)
    for on in days:
        found += max(room(on), Fraction(0))
        if found >= count:
            return on
    return None


def _say_left(left: int, what: Left, today: date) -> str:
    assigned = sum(what.assigned.values())
    said = f"{counted(left, 'opening')} left"
    if what.last is None:
        said += ", not assigned" if left == 1 else ", none assigned"
    elif assigned < left:
        said += f", {assigned} assigned, the last to {day(what.last, today)}"
    elif left == 1:
        said += f", assigned to {day(what.last, today)}"
    else:
        said += f", all assigned, the last to {day(what.last, today)}"
    if what.past:
        said += f"; {what.past} {plural('is', what.past)} still assigned to a past day"
    if what.far:
        said += f"; {what.far} {plural('is', what.far)} assigned too far ahead to plan"
    return said


def _no_pace(done_by_day: Mapping[date, int], today: date) -> str:
    if not done_by_day:
        return "No opening is done yet"
    if min(done_by_day) >= today:
        return "The first was done today; a pace takes a full working day"
    return f"No opening was done in the last {PACE_DAYS} working days"


def _others(count: int) -> str:
    return f"other {count}" if count > 1 else "other one"
