"""The crew board: who is where, and what waits for a crew."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import timedelta

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.answer import Question
from jobs.calc import say
from jobs.dates import day_beside
from jobs.models import Job
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import ANYONE, FIELD, OFFICE
from jobs.queries import today_on_sites
from jobs.signed_in import signed_in
from materials.calc.caution import Caution, listed
from materials.queries import cautions_given, cautions_on
from openings import queries, services
from openings.calc.figures import brief
from openings.forms import AssignForm, DayForm, HoldOneForm, MoveForm, ReleaseForm, WithdrawForm
from openings.queries import is_held
from openings.serializers import BoardAsked

BOARD = "crew-board-page"


@Page
def crew_board(request: HttpRequest) -> HttpResponse:
    """Days across, crews down; below, the ready openings and the open holds."""
    asked = BoardAsked(data=request.GET)
    asked.is_valid(raise_exception=True)
    days, job_id = asked.validated_data["days"], asked.validated_data["job"]
    first = asked.validated_data.get("first") or today_on_sites()
    by_day = queries.crews_by_day(first=first, days=days)
    cautions = cautions_on({cell.crew_day_id for _, cells in by_day for cell in cells if cell.crew_day_id})
    waiting = queries.waiting(job_id=job_id, page=asked.validated_data["page"])
    stranded = queries.stranded()
    crews = [cell.crew for cell in by_day[0][1]]
    return render(
        request,
        "materials/crew_board.html",
        {
            "days": [(on, [(cell, cautions.get(cell.crew_day_id or 0, ())) for cell in cells]) for on, cells in by_day],
            "first": first,
            "last": first + timedelta(days=days - 1),
            "previous": day_beside(first, -days),
            "next": day_beside(first, days),
            "days_count": days,
            "job_id": job_id,
            "jobs": Job.objects.all(),
            "waiting": waiting,
            "stranded": stranded,
            "is_any_assigned": bool(stranded) or any(cell.assignments for _, cells in by_day for cell in cells),
            "assign_form": AssignForm(entered(request, "assign"), initial={"on": first}, crews=crews),
            "move_form": MoveForm(entered(request, "move"), auto_id="move_%s", crews=crews),
            "day_form": DayForm(entered(request, "set_day"), auto_id="day_%s", initial={"on": first}, crews=crews),
            "hold_form": HoldOneForm(entered(request, "hold"), openings=queries.openings_shown(by_day, waiting)),
            "may_assign": may(signed_in(request), OFFICE),
            "may_release": may(signed_in(request), FIELD | OFFICE),
        },
    )


@crew_board.act(by=OFFICE)
def assign(request: HttpRequest) -> HttpResponse:
    """Give the selected openings to a crew for a day: all of them or none."""
    asked = values_of(AssignForm(request.POST))
    given = services.assign(
        opening_ids=[opening.pk for opening in asked["openings"]],
        crew_id=asked["crew"].pk,
        on=asked["on"],
        by=signed_in(request),
        short_crew_reason=asked["short_crew_reason"],
    )
    said = f"{len(given)} assigned to {asked['crew']} on {say.day(asked['on'], today_on_sites())}"
    return done(request, f"{said}{_warned(cautions_given(given).values())}", BOARD, at="ready")


def _warned(cautions: Iterable[Sequence[Caution]]) -> str:
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


@crew_board.act(by=OFFICE)
def move(request: HttpRequest) -> HttpResponse:
    """Give the selected openings, which are assigned, to a crew for another day: all of them or none."""
    asked = values_of(MoveForm(request.POST))
    crew, on = asked["crew"], asked["on"]
    moved = services.move(
        assignment_ids=[assignment.pk for assignment in asked["assignments"]],
        crew_id=crew.pk,
        on=on,
        by=signed_in(request),
        short_crew_reason=asked["short_crew_reason"],
    )
    carried = "".join(f". {one}" for one in queries.carried_on(moved))
    said = f"{len(moved)} moved to {crew} on {say.day(on, today_on_sites())}{carried}"
    return done(request, f"{said}{_warned(cautions_given(moved).values())}", BOARD, at="moving")


def what_is_stranded(request: HttpRequest) -> Question | None:
    """Ask where setting the day leaves openings without a crew."""
    would = services.would_strand(**values_of(DayForm(request.POST)))
    if not would:
        return None
    return Question(
        asks=f"{would[:1].upper()}{would[1:]}. Change the day anyway?",
        follows="They are listed as stranded until they are moved or unassigned, and an issued pull sheet is revised.",
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
    return done(request, said, BOARD, at="stranded day-set" if marks else "day-set")


def what_is_withdrawn(request: HttpRequest) -> Question:
    """Ask about the opening, its crew and its day."""
    (found,) = services.would_unassign([values_of(WithdrawForm(request.POST))["assignment"]])
    day, opening = found.crew_day, found.opening
    waits = (
        "It stays on hold and can be assigned again once the hold is released."
        if is_held(opening.pk)
        else "It goes back to the ready openings and can be assigned again."
    )
    return Question(
        asks=f"Unassign {opening.mark} of {opening.job.code} from {day.crew}, {say.day(day.on, today_on_sites())}?",
        follows=f"It loses its place on that day, and an issued pull sheet is revised. {waits}",
        yes="Unassign",
        no="Keep it assigned",
    )


@crew_board.act(by=OFFICE, asks=what_is_withdrawn)
def withdraw(request: HttpRequest) -> HttpResponse:
    """Take an opening back from its crew day."""
    asked = values_of(WithdrawForm(request.POST))
    taken = services.withdraw(assignment_id=asked["assignment"], by=signed_in(request))
    waits = " once its hold is released" if is_held(taken.opening_id) else ""
    said = f"{taken.opening} is unassigned and can be assigned again{waits}"
    return done(request, said, BOARD, at=f"crew-{taken.crew_day.crew_id}-{taken.crew_day.on:%Y%m%d} ready")


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
