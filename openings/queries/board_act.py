"""What was done to the crews' days, and what follows of it."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from jobs.calc.say import counted, plural
from jobs.calc.say import day as say_day
from jobs.calc.say import moment as say_moment
from jobs.queries import company
from openings.models import Assignment, BoardAct, OnSheet

ACTS_SHOWN = 8
_VERBS = {
    BoardAct.Kind.ASSIGN: "assigned",
    BoardAct.Kind.MOVE: "moved",
    BoardAct.Kind.UNASSIGN: "unassigned",
    BoardAct.Kind.UNDO: "put back",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """Something done to the crews' days, in words, which can be undone as one."""

    act_id: int
    said: str


def last_acts() -> list[Done]:
    """Return what was done last by people and is not undone, the newest first, at the company’s time. Four queries."""
    acts = BoardAct.objects.filter(by__isnull=False, undone_by__isnull=True).exclude(kind=BoardAct.Kind.UNDO)
    joined = ("opening__job", "crew_day__crew")
    rows = acts.select_related("by").order_by("-pk")[:ACTS_SHOWN]
    by_act: dict[int, tuple[list[Assignment], list[Assignment]]] = {act.pk: ([], []) for act in rows}
    for one in Assignment.objects.filter(given_in__in=by_act).select_related(*joined):
        by_act[one.given_in_id or 0][0].append(one)
    for one in Assignment.objects.filter(taken_in__in=by_act).select_related(*joined):
        by_act[one.taken_in_id or 0][1].append(one)
    zone = ZoneInfo(company().time_zone)
    return [Done(act_id=act.pk, said=_said(act, *by_act[act.pk], zone=zone)) for act in rows if any(by_act[act.pk])]


def what_follows(given: Collection[Assignment]) -> list[str]:
    """Return in words what giving openings to a crew day upsets: issued sheets, loaded trucks, work begun.

    Three queries at most.

    Args:
        given: of one act, openings with details and crew days joined.
    """
    ids = {one.opening_id for one in given}
    days = {one.crew_day_id for one in given}
    on_sheets = OnSheet.objects.filter(opening__in=ids) | OnSheet.objects.filter(crew_day__in=days)
    rows = on_sheets.select_related("crew_day__crew", "opening").order_by("crew_day__on", "crew_day", "opening")
    sheets: dict[str, OnSheet] = {}
    loaded: dict[str, list[str]] = {}
    for row in rows:
        sheets.setdefault(row.sheet, row)
        if row.on_truck_since and row.opening_id in ids and row.crew_day_id not in days:
            truck = f"the truck of {row.crew_day.crew}"
            loaded.setdefault(truck, []).append(row.opening.mark)
    said = [
        f"pull sheet {sheet} of {row.crew_day.crew} for {say_day(row.crew_day.on)} is issued and will be revised"
        for sheet, row in sheets.items()
    ]
    said += [f"material for {', '.join(marks)} is on {truck}: bring it back" for truck, marks in loaded.items()]
    return said


def _said(act: BoardAct, given: Iterable[Assignment], taken: Iterable[Assignment], *, zone: ZoneInfo) -> str:
    given, taken = list(given), list(taken)
    listed = given or taken
    parts = [str(act.by), _VERBS[BoardAct.Kind(act.kind)], _named(listed)]
    parts += [f"from {said_days(taken)}"] if taken else []
    parts += [f"to {said_days(given)}"] if given else []
    return f"{say_moment(act.at.astimezone(zone))}: {' '.join(parts)}"


def _named(assignments: Collection[Assignment]) -> str:
    marks = [one.opening.mark for one in assignments]
    return ", ".join(marks) if len(marks) <= _NAMED else counted(len(marks), "opening")


_NAMED = 3


def said_days(assignments: Iterable[Assignment]) -> str:
    """Return the first crew day of some assignments by name, and how many others. Crew days are joined."""
    days = dict.fromkeys(f"{one.crew_day.crew}, {say_day(one.crew_day.on)}" for one in assignments)
    first, *others = days
    return f"{first} and {len(others)} other {plural('day', len(others))}" if others else first
