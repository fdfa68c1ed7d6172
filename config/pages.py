"""Where each role starts, the first steps, the index of the office, and a page shown again with what was wrong."""

from __future__ import annotations

from collections.abc import Callable
from http import HTTPStatus
from typing import Any

from django.contrib.auth.decorators import login_required
from django.contrib.auth.views import LoginView
from django.core.exceptions import PermissionDenied
from django.db import DatabaseError, InterfaceError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from config.errors import describe, page_of, wait_of
from config.first_steps import first_steps, is_empty
from config.office import INDEX
from jobs.answer import outcome
from jobs.errors import NotFound
from jobs.models import Person
from jobs.page import Page, may
from jobs.permissions import OFFICE
from jobs.queries import owners_who_sign_in
from jobs.signed_in import signed_in

START = {
    Person.Role.SCHEDULER: "crew-board-page",
    Person.Role.WAREHOUSE: "staging-page",
    Person.Role.CREW_LEAD: "crew-day-page",
    Person.Role.OWNER: "progress-page",
}


@login_required
def home(request: HttpRequest) -> HttpResponse:
    """Go where this person's day starts; the office of an empty service begins with its first steps."""
    person = signed_in(request)
    if may(person, OFFICE) and is_empty():
        return redirect("first-steps-page")
    return redirect(START[Person.Role(person.role)])


@Page
def steps(request: HttpRequest) -> HttpResponse:
    """What a firm that starts enters, with what is done and what is next."""
    found = first_steps()
    to_do = [step for step in found if not step.is_done]
    shown = {"steps": found, "done": len(found) - len(to_do), "next": to_do[0] if to_do else None}
    return render(request, "first_steps.html", shown)


@Page
def office(request: HttpRequest) -> HttpResponse:
    """The index of everything that the office keeps."""
    return render(request, "office.html", {"index": INDEX})


class SignIn(LoginView):
    """The page to sign in at. Where nothing is looked at for a while, it says so and keeps the name."""

    template_name = "login.html"

    def get_context_data(self, **more: Any) -> dict[str, Any]:
        """Say besides whether nobody owns the service yet. One query."""
        return super().get_context_data(has_no_owner=_has_no_owner(), **more)

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        outcome(request).show_again = self._with_its_name
        return super().post(request, *args, **kwargs)

    def _with_its_name(self) -> HttpResponse:
        form = self.get_form_class()(self.request, initial={"username": self.request.POST.get("username", "")})
        return self.render_to_response(self.get_context_data(form=form))


def _has_no_owner() -> bool:
    try:
        return not owners_who_sign_in().exists()
    except (DatabaseError, InterfaceError):  # it is away: the form is shown all the same
        return False


NEVER_KEPT = ("csrfmiddlewaretoken", "password", "secret")
"""What a form is not sent again with; names that hold one of these words."""


def expired_form(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Answer a form whose token does not fit any more, as after signing in again: it can be sent again as it was.

    That is offered only where the browser says that the form came from a page of ours: else another site could have
    somebody send what they never saw.
    """
    origin = f"{request.scheme}://{request.get_host()}"
    is_ours = request.method == "POST" and request.headers.get("Origin") == origin
    kept = [
        (name, text)
        for name, texts in (request.POST.lists() if is_ours else ())
        for text in texts
        if not any(word in name for word in NEVER_KEPT)
    ]
    left_out = bool(is_ours and (request.FILES or any("password" in name for name in request.POST)))
    shown = {"is_ours": is_ours, "kept": kept, "left_out": left_out, "with_files": bool(is_ours and request.FILES)}
    return render(request, "expired.html", shown, status=HTTPStatus.FORBIDDEN)


class Refusals:
    """Shows what a page refused: at the form that was sent, as it was filled in, or on a page of its own.

    The status stays that of the error, as over the API.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self._get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self._get_response(request)

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        outcome(request).problem = problem = describe(error)
        if problem is None or request.path.startswith("/api/"):
            return None
        for fault in problem["errors"]:
            fault["label"] = getattr(error, "labels", {}).get(fault["field"], "")
            fault["said_by_itself"] = bool(fault["label"]) and fault["detail"].lower().startswith(
                fault["label"].lower()
            )
        try:
            response = self._shown_again(request) or render(request, "problem.html", {"problem": problem})
        except (DatabaseError, InterfaceError):  # it is away, or the page waits for the same as the act
            return page_of(describe(error) or problem)
        response.status_code = problem["status"]
        for name, value in wait_of(problem).items():
            response.headers[name] = value
        return response

    def _shown_again(self, request: HttpRequest) -> HttpResponse | None:
        """Return the page with its form, or None where there is none, or it is gone or not for the one who asks."""
        show_again = outcome(request).show_again
        try:
            return show_again() if show_again else None
        except (NotFound, PermissionDenied):
            return None
