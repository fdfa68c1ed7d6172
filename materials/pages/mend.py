"""The crew board: one press takes what is offered to mend a crew day."""

from __future__ import annotations

from functools import partial

from django.http import HttpRequest, HttpResponse

from jobs.answer import Question
from jobs.calc import say
from jobs.page import done, values_of
from jobs.permissions import OFFICE
from jobs.signed_in import signed_in
from materials.pages.board import BOARD, crew_board, unassigned, warned, what_follows, what_unassigning_does
from materials.queries import cautions_given
from materials.services import preview
from openings import queries, services
from openings.calc.mending import Offer
from openings.forms import MendForm
from openings.plans.repair import find_offer


def what_mending_breaks(request: HttpRequest) -> Question | None:
    """Ask where the moves upset an issued sheet, a loaded truck or work begun, and before anything is unassigned."""
    offer = _offer(request)
    if not offer.moves:
        return what_unassigning_does(offer.unassigned)
    tried = preview(partial(services.move_all, moves=offer.moves, by=signed_in(request)))
    if not tried.breaks:
        return None
    return Question(
        asks=f"Move {say.counted(len(tried.given), 'opening')} to {queries.said_days(tried.given)}?",
        follows=what_follows(tried),
        yes="Move",
    )


@crew_board.act(by=OFFICE, asks=what_mending_breaks)
def mend(request: HttpRequest) -> HttpResponse:
    """Do what is offered for a crew day as one act: its moves, or what it takes back."""
    offer, by = _offer(request), signed_in(request)
    if not offer.moves:
        return unassigned(request, services.unassign(assignment_ids=offer.unassigned, by=by))
    moved = services.move_all(moves=offer.moves, by=by)
    carried = "".join(f". {one}" for one in queries.carried_on(moved))
    said = f"{len(moved)} moved to {queries.said_days(moved)}{carried}"
    return done(request, f"{said}{warned(cautions_given(moved).values())}", BOARD, at="mending moving")


def _offer(request: HttpRequest) -> Offer:
    asked = values_of(MendForm(request.POST))
    return find_offer(crew_day_id=asked["crew_day"], name=asked["offer"])
