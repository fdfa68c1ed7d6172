"""The crew board: who is where, what waits for a crew, and what is moved between them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime, timedelta
from typing import Any

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render

from jobs.answer import Question
from jobs.calc import say
from jobs.dates import day_beside
from jobs.errors import BadInput, Conflict
from jobs.models import Job
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import ANYONE, FIELD, OFFICE
from jobs.queries import latest_today_on_sites, today_on_sites
from jobs.signed_in import signed_in
from materials.calc.caution import Caution, listed
from materials.pages.offers import shown_repairs
from materials.queries import cautions_given, cautions_on
from materials.services import Preview, preview
from openings import queries, services
from openings.calc.as_built import say_size
from openings.calc.figures import brief
from openings.calc.tape import format_length
from openings.forms import (
    AssignForm,
    DayForm,
    HoldOneForm,
    MoveForm,
    NextRoomForm,
    ReleaseForm,
    UnassignForm,
    UndoForm,
)
from openings.models import Assignment
from openings.queries import BoardDay, CrewOnDay, is_held
from openings.serializers import BoardAsked, CellsAsked

BOARD = "crew-board-page"


@Page
def crew_board(request: HttpRequest) -> HttpResponse:
    """Crews down, days across; beside it the ready openings, below it the open holds."""
    asked = _asked(request)
    first, days = asked["first"], asked["days"]
    wanted = queries.Wanted(
        job_id=asked["job"], floor=asked["floor"], detail=asked["detail"], size=asked["size"].strip()
    )
    shown = queries.crews_by_day(first=first, days=days)
    waiting = queries.waiting(wanted, page=asked["page"])
    crews = [cell.crew for cell in shown[0].cells]
    may_assign = may(signed_in(request), OFFICE)
    return render(
        request,
        "materials/crew_board.html",
        {
            **_sheet(shown, days=days, unfold=asked["unfold"]),
            "rows": zip(crews, _rows(shown), strict=True),
            "first": first,
            "last": first + timedelta(days=days - 1),
            "previous": day_beside(first, -days),
            "next": day_beside(first, days),
            "days_count": days,
            "views": VIEWS,
            "wanted": wanted,
            "sizes": [(queries.size_of(size), say_size(size, format_length)) for size in waiting.choices.sizes],
            "job_id": wanted.job_id,
            "jobs": Job.objects.all(),
            "waiting": waiting,
            "mending": shown_repairs(),
            "last_acts": queries.last_acts() if may_assign else (),
            "assign_form": AssignForm(_entered_to_assign(request), initial={"on": _next_worked(shown)}, crews=crews),
            "move_form": MoveForm(entered(request, "move"), auto_id="move_%s", crews=crews),
            "day_form": DayForm(entered(request, "set_day"), auto_id="day_%s", initial={"on": first}, crews=crews),
            "hold_form": HoldOneForm(entered(request, "hold"), openings=queries.openings_shown(shown, waiting)),
            "may_assign": may_assign,
            "may_release": may(signed_in(request), FIELD | OFFICE),
        },
    )


@Page
def crew_board_cells(request: HttpRequest) -> HttpResponse:
    """The cells of the board that are asked for, as it would show them now; its script puts them in their places."""
    asked = CellsAsked(data={"of": request.GET.getlist("of"), "days": request.GET.get("days", VIEWS[0][0])})
    asked.is_valid(raise_exception=True)
    names = set(asked.validated_data["of"])
    days = sorted({_day_of(name) for name in names})
    shown = queries.crews_by_day(first=days[0], days=min((days[-1] - days[0]).days, PLAN_DAYS) + 1)
    wanted = [cell for day in shown for cell in day.cells if f"{cell.crew.pk}-{cell.on:%Y%m%d}" in names]
    return render(
        request,
        "materials/board_cells.html",
        {
            "cells": [(cell, of_cell) for cell, of_cell in zip(wanted, _cautions_of(wanted), strict=True)],
            "is_brief": asked.validated_data["days"] > LONGEST_IN_FULL,
            "move_form": MoveForm(),
            "may_assign": may(signed_in(request), OFFICE),
        },
    )


VIEWS = ((7, "Week"), (14, "Two weeks"), (31, "Month"))
LONGEST_IN_FULL = 14
"""Days that the board shows opening by opening; of more it shows counts."""
PLAN_DAYS = 31


def _day_of(name: str) -> date:
    """Return the date in the name of a cell.

    Raises:
        BadInput: there is no such date.
    """
    _crew, _, digits = name.partition("-")
    try:
        return datetime.strptime(digits, "%Y%m%d").date()  # noqa: DTZ007 - a day of the calendar
    except ValueError as error:
        raise BadInput(f"{name} names no day of the calendar") from error


def _asked(request: HttpRequest) -> dict[str, Any]:
    asked = BoardAsked(data=request.GET)
    asked.is_valid(raise_exception=True)
    return {**asked.validated_data, "first": asked.validated_data.get("first") or today_on_sites()}


def _sheet(shown: Sequence[BoardDay], *, days: int, unfold: bool) -> dict[str, Any]:
    """Return what the head of the sheet shows: its days, and which of them are folded."""
    folded = [day.is_idle and not unfold for day in shown]
    return {
        "columns": list(zip((day.on for day in shown), folded, strict=True)),
        "is_any_idle": any(day.is_idle for day in shown),
        "is_brief": days > LONGEST_IN_FULL,
        "unfold": unfold,
        "today": today_on_sites(),
    }


def _rows(shown: Sequence[BoardDay]) -> Iterator[list[tuple[CrewOnDay, Sequence[Caution], bool]]]:
    """Yield the cells of each crew with their cautions, and whether their day is idle."""
    cautions = cautions_on({cell.crew_day_id for day in shown for cell in day.cells if cell.crew_day_id})
    for cells in zip(*(day.cells for day in shown), strict=True):
        yield [
            (cell, cautions.get(cell.crew_day_id or 0, ()), day.is_idle) for cell, day in zip(cells, shown, strict=True)
        ]


def _cautions_of(cells: Sequence[CrewOnDay]) -> list[Sequence[Caution]]:
    cautions = cautions_on({cell.crew_day_id for cell in cells if cell.crew_day_id})
    return [cautions.get(cell.crew_day_id or 0, ()) for cell in cells]


def _next_worked(shown: Sequence[BoardDay]) -> date:
    """Return the first day that is shown on which somebody works, and which is not past."""
    today = today_on_sites()
    return next((day.on for day in shown if day.on >= today and not day.is_idle), shown[0].on)


def _entered_to_assign(request: HttpRequest) -> QueryDict | None:
    return entered(request, "assign") or entered(request, "next_room")


def what_assigning_breaks(request: HttpRequest) -> Question | None:
    """Ask where what is assigned upsets an issued sheet."""
    values = _to_assign(request)
    return _what_breaks(
        preview(lambda: services.assign(**values)), verb="Assign", crew_id=values["crew_id"], on=values["on"]
    )


@crew_board.act(by=OFFICE, asks=what_assigning_breaks)
def assign(request: HttpRequest) -> HttpResponse:
    """Give the selected openings to a crew for a day: all of them or none."""
    return _assigned(request, services.assign(**_to_assign(request)))


def what_room_there_is(request: HttpRequest) -> Question:
    """Find the next day with room for the selected openings, and ask whether they go there."""
    asked = values_of(NextRoomForm(request.POST))
    openings = list(asked["openings"].select_related("job", "detail"))
    crew, first = asked["crew"], max(asked["on"] or date.min, latest_today_on_sites())
    room = queries.next_room(openings, first=first, crew=crew)
    if room is None:
        whose = f"{crew} has no day" if crew else "No crew has a day"
        raise Conflict(
            f"{whose} with room for {say.counted(len(openings), 'opening')} within {queries.DAYS_LOOKED_AT} days; "
            "select fewer, or another crew"
        )
    posted = request.POST.copy()
    posted["crew"], posted["on"] = str(room.crew.pk), room.on.isoformat()
    request.POST = posted  # type: ignore[assignment]  # what is confirmed is exactly the day that was found
    drive = f", {brief(room.driven_person_h)} of them for the drive between the sites" if room.driven_person_h else ""
    return Question(
        asks=f"Assign {say.counted(len(openings), 'opening')} to {room.crew} on {say.day(room.on, today_on_sites())}?",
        follows=f"{brief(room.free_person_h)} of {brief(room.capacity_person_h)} labor hours are free that day; "
        f"{brief(room.asked_person_h)} are needed{drive}.",
        yes="Assign",
        no="Leave them ready",
    )


@crew_board.act(by=OFFICE, asks=what_room_there_is)
def next_room(request: HttpRequest) -> HttpResponse:
    """Give the selected openings to the next crew day that has room, once somebody has seen which that is."""
    return _assigned(request, services.assign(**_to_assign(request)))


def _to_assign(request: HttpRequest) -> dict[str, Any]:
    asked = values_of(AssignForm(request.POST))
    return {
        "opening_ids": [opening.pk for opening in asked["openings"]],
        "crew_id": asked["crew"].pk,
        "on": asked["on"],
        "by": signed_in(request),
        "short_crew_reason": asked["short_crew_reason"],
        "seen": asked["seen"],
    }


def _assigned(request: HttpRequest, given: Sequence[Assignment]) -> HttpResponse:
    day = given[0].crew_day
    said = f"{len(given)} assigned to {day.crew} on {say.day(day.on, today_on_sites())}"
    return done(request, f"{said}{warned(cautions_given(given).values())}", BOARD, at="ready")


def _what_breaks(tried: Preview, *, verb: str, crew_id: int, on: date) -> Question | None:
    """Return what is asked about an act that upsets something, with the cautions that it meets."""
    if not tried.breaks:
        return None
    day = tried.given[0].crew_day
    return Question(
        asks=f"{verb} {say.counted(len(tried.given), 'opening')} to {day.crew} on {say.day(on, today_on_sites())}?",
        follows=what_follows(tried),
        yes=verb,
        no="Leave it as it is",
    )


def what_follows(tried: Preview) -> str:
    """Return in words what an act upsets, with the cautions that it meets."""
    cautions = [caution.text for caution in tried.cautions if caution.key]
    return " ".join(f"{one[:1].upper()}{one[1:]}." for one in [*tried.breaks, *cautions])


def warned(cautions: Iterable[Sequence[Caution]]) -> str:
    """Return what the office is warned of as it assigns, each caution once; of pairs to be tested, that there are."""
    told = list(dict.fromkeys(caution for of_opening in cautions for caution in of_opening))
    texts = [caution.text for caution in told if caution.key]
    untested = dict.fromkeys(opening for caution in told if not caution.key for opening in caution.openings)
    if untested:
        texts.append(f"{listed(untested)}: {_UNTESTED}")
    if not texts:
        return ""
    return f". {say.counted(len(texts), 'caution')}: {' '.join(texts)}"


_UNTESTED = "materials that touch are not known to be compatible; the cautions of that day name them."


def what_moving_breaks(request: HttpRequest) -> Question | None:
    """Ask where what is moved upsets an issued sheet, a loaded truck or work begun."""
    values = _to_move(request)
    return _what_breaks(
        preview(lambda: services.move(**values)), verb="Move", crew_id=values["crew_id"], on=values["on"]
    )


@crew_board.act(by=OFFICE, asks=what_moving_breaks)
def move(request: HttpRequest) -> HttpResponse:
    """Give the selected openings, which are assigned, or whole days to a crew for another day: all or none."""
    moved = services.move(**_to_move(request))
    day = moved[0].crew_day
    carried = "".join(f". {one}" for one in queries.carried_on(moved))
    said = f"{len(moved)} moved to {day.crew} on {say.day(day.on, today_on_sites())}{carried}"
    return done(request, f"{said}{warned(cautions_given(moved).values())}", BOARD, at="moving")


def _to_move(request: HttpRequest) -> dict[str, Any]:
    asked = values_of(MoveForm(request.POST))
    return {
        "assignment_ids": [assignment.pk for assignment in asked["assignments"]],
        "whole_days": [day.pk for day in asked["whole_days"]],
        "crew_id": asked["crew"].pk,
        "on": asked["on"],
        "by": signed_in(request),
        "short_crew_reason": asked["short_crew_reason"],
        "seen": asked["seen"],
    }


@crew_board.act(by=OFFICE)
def undo(request: HttpRequest) -> HttpResponse:
    """Put back what was assigned, moved or unassigned as one."""
    services.undo(act_id=values_of(UndoForm(request.POST))["board_act"], by=signed_in(request))
    return done(request, "Undone: everything is back where it was", BOARD, at="undo")


def what_is_stranded(request: HttpRequest) -> Question | None:
    """Ask where setting the day leaves openings without a crew."""
    would = services.would_strand(**values_of(DayForm(request.POST)))
    if not would:
        return None
    return Question(
        asks=f"{would[:1].upper()}{would[1:]}. Change the day anyway?",
        follows="They stand above the days until they are moved or unassigned, and an issued pull sheet is revised.",
        yes="Change the day",
        no="Keep the day",
    )


@crew_board.act(by=OFFICE, asks=what_is_stranded)
def set_day(request: HttpRequest) -> HttpResponse:
    """Set a crew's day off, or to so many labor hours."""
    is_sure = request.POST.get("sure") == "yes"
    crew_day, stranded = services.set_crew_day(**values_of(DayForm(request.POST)), is_sure=is_sure)
    is_so = (
        f"is off: {crew_day.off_reason}" if crew_day.is_off else f"has {brief(crew_day.capacity_person_h)} labor hours"
    )
    marks = ", ".join(f"{one.assignment.opening.mark} of {one.assignment.opening.job.code}" for one in stranded)
    left = f". Move or unassign: {marks}" if marks else ""
    said = f"{crew_day.crew} on {say.day(crew_day.on, today_on_sites())} {is_so}{left}"
    return done(request, said, BOARD, at="mending day-set" if marks else "day-set")


def what_is_withdrawn(request: HttpRequest) -> Question:
    """Ask about the openings, and about the crew and the day where they have one in common."""
    return what_unassigning_does([one.pk for one in values_of(UnassignForm(request.POST))["assignments"]])


def what_unassigning_does(assignment_ids: Sequence[int]) -> Question:
    """Ask about openings that are to be taken back.

    Raises:
        NotFound, BadInput, Conflict: as `services.unassign`.
    """
    found = services.would_unassign(assignment_ids)
    days = {one.crew_day for one in found}
    whence = ""
    if len(days) == 1:
        (day,) = days
        whence = f" from {day.crew}, {say.day(day.on, today_on_sites())}"
    they, lose = ("It", "loses its") if len(found) == 1 else ("They", "lose their")
    waits = f" can be assigned again{_once_released(found)}"
    return Question(
        asks=f"Unassign {_named(found)}{whence}?",
        follows=f"{they} {lose} place on that day, and an issued pull sheet is revised. {they}{waits}.",
        yes="Unassign",
        no="Keep it assigned" if len(found) == 1 else "Keep them assigned",
    )


@crew_board.act(by=OFFICE, asks=what_is_withdrawn)
def withdraw(request: HttpRequest) -> HttpResponse:
    """Take the selected openings back from their crew days: all of them or none."""
    asked = values_of(UnassignForm(request.POST))
    taken = services.unassign(
        assignment_ids=[one.pk for one in asked["assignments"]], by=signed_in(request), seen=asked["seen"]
    )
    return unassigned(request, taken)


def unassigned(request: HttpRequest, taken: Sequence[Assignment]) -> HttpResponse:
    """Say what was taken back."""
    them = say.plural("is", len(taken))
    said = f"{_named(taken)} {them} unassigned and can be assigned again{_once_released(taken)}"
    return done(request, said, BOARD, at="mending moving ready")


def _named(assignments: Sequence[Assignment]) -> str:
    return ", ".join(f"{one.opening.mark} of {one.opening.job.code}" for one in assignments)


def _once_released(assignments: Sequence[Assignment]) -> str:
    """Return that some of them wait for their holds, in words."""
    held = [one.opening.mark for one in assignments if is_held(one.opening_id)]
    if not held:
        return ""
    return " once its hold is released" if len(assignments) == 1 else f", {', '.join(held)} once on hold no longer"


@crew_board.act(by=ANYONE)
def hold(request: HttpRequest) -> HttpResponse:
    """Place a hold on one opening."""
    asked = values_of(HoldOneForm(request.POST))
    placed = services.place_hold(
        opening_id=asked["opening"], kind=asked["kind"], reason=asked["reason"], by=signed_in(request)
    )
    return done(request, f"{placed.opening} is on hold: {asked['kind']}", BOARD, at="holds")


@crew_board.act(by=FIELD | OFFICE)
def release(request: HttpRequest) -> HttpResponse:
    """Release a hold."""
    asked = values_of(ReleaseForm(request.POST))
    released = services.release_hold(hold_id=asked["hold"], note=asked["note"], by=signed_in(request))
    return done(request, f"{released.opening}: hold released ({released.kind})", BOARD, at="holds")
