"""The shape that every page shares: who may see it, who may act on it, and where an act leads."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from functools import partial, update_wrapper
from http import HTTPStatus
from typing import Any
from urllib.parse import urlsplit

from django import forms
from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied, ValidationError
from django.http import HttpRequest, HttpResponse, HttpResponseNotAllowed, HttpResponseRedirect, QueryDict
from django.urls import reverse

from jobs.answer import FRAGMENT, Question, ask, leave, outcome, say
from jobs.calc.text import has_control
from jobs.errors import BadInput
from jobs.models import Person
from jobs.permissions import role_refusal

View = Callable[..., HttpResponse]
Asks = Callable[..., Question | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """Something done from a page, the roles that may do it, and what is asked before.

    Args:
        asks: takes what the act takes and returns the question, or None where nothing is lost by it. It raises what
            the act would raise, so that nobody is asked about what cannot be done anyway.
    """

    do: View
    by: Collection[str]
    asks: Asks | None = None


class Page:
    """A view for everybody who signed in: GET shows it, POST does the act that the pressed button names.

    An act raises what is wrong; `show_again` of its outcome then shows the page with it, so that pages need not know
    how an error becomes HTTP. An act that `asks` is done once the question is answered with yes.

        @Page
        def crew_board(request): ...

        def what_is_withdrawn(request): ...  # returns a Question

        @crew_board.act(by=OFFICE, asks=what_is_withdrawn)
        def withdraw(request): ...
    """

    def __init__(self, show: View) -> None:
        self._show = show
        self._acts: dict[str, Act] = {}
        update_wrapper(self, show)

    @property
    def acts(self) -> Mapping[str, Act]:
        """What can be done from it, by name."""
        return self._acts

    def act(self, *, by: Collection[str], asks: Asks | None = None) -> Callable[[View], View]:
        """Decorate an act; its name is the value of the button `act`."""

        def add(do: View) -> View:
            self._acts[do.__name__] = Act(do=do, by=by, asks=asks)
            return do

        return add

    def __call__(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        if not request.user.is_authenticated:
            if request.method == "POST":
                say(request, "You were signed out, and nothing was saved. Sign in and try again.")
            return redirect_to_login(request.get_full_path())
        if request.method in ("GET", "HEAD"):
            return self._show(request, **kwargs)
        if request.method != "POST" or not self._acts:
            return HttpResponseNotAllowed(["GET", "HEAD", "POST"] if self._acts else ["GET", "HEAD"])
        show_again = partial(self._show, request, **kwargs)
        outcome(request).show_again = show_again
        act = self._acts.get(request.POST.get("act", ""))
        if act is None:
            raise BadInput(f"this page knows only: {', '.join(self._acts)}")
        if refusal := role_refusal(request.user, act.by):
            raise PermissionDenied(refusal)
        _refuse_control(request.POST)
        if act.asks and self._is_open(act.asks, request, **kwargs):
            return show_again()
        return act.do(request, **kwargs)

    def _is_open(self, asks: Asks, request: HttpRequest, **kwargs: Any) -> bool:
        """Return whether what an act asks is not answered with yes; then the page says so or asks."""
        sure = request.POST.get("sure", "")
        if sure == "no":
            leave(request)
        elif sure != "yes" and (question := asks(request, **kwargs)):
            ask(request, question)
        else:
            return False
        return True


class FormInvalid(ValidationError):
    """What was entered in a form cannot be used; `labels` says what each of its fields is called on the page."""

    def __init__(self, form: forms.BaseForm) -> None:
        super().__init__(form.errors.as_data())
        self.labels = {name: str(form[name].label) for name in form.fields}


def may(person: Person, roles: Collection[str]) -> bool:
    """Return whether a page offers this person what is for `roles`."""
    return not role_refusal(person, roles)


def entered(request: HttpRequest, act: str) -> QueryDict | None:
    """Return what was entered for an act that was refused, so that its form shows it again."""
    return request.POST if request.method == "POST" and request.POST.get("act") == act else None


def values_of(form: forms.BaseForm) -> dict[str, Any]:
    """Return the values of a form.

    Raises:
        FormInvalid: by field, everything that is wrong.
    """
    if not form.is_valid():
        raise FormInvalid(form)
    return form.cleaned_data


def done(request: HttpRequest, said: str, page: str, *, at: str = "", **kwargs: Any) -> HttpResponse:
    """Say what was done and lead back to a page, as it was filtered.

    Args:
        page: name of its URL, which takes `kwargs`.
        at: places where it is said, with spaces between: the first that the page has, else where the form stood.
    """
    say(request, said, at)
    return to_answer(reverse(page, kwargs=kwargs), asked=urlsplit(request.get_full_path()).query)


def to_answer(address: str, *, asked: str = "") -> HttpResponse:
    """Lead to what a page answers.

    Args:
        asked: the query of the address, empty if it has none.
    """
    query = f"?{asked}" if asked else ""
    return HttpResponseRedirect(f"{address}{query}#{FRAGMENT}", status=HTTPStatus.SEE_OTHER)


def _refuse_control(values: QueryDict) -> None:
    for name, texts in values.lists():
        if any(has_control(text) for text in texts):
            raise BadInput(f"{name} holds a control character; write plain text")
