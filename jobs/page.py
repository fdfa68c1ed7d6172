"""The shape that every page shares: who may see it, who may act on it, and where an act leads."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from functools import partial, update_wrapper
from http import HTTPStatus
from typing import Any
from urllib.parse import urlsplit

from django import forms
from django.contrib import messages
from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied, ValidationError
from django.http import HttpRequest, HttpResponse, HttpResponseNotAllowed, HttpResponseRedirect, QueryDict
from django.urls import reverse

from jobs.calc.text import has_control
from jobs.errors import BadInput
from jobs.models import Person
from jobs.permissions import role_refusal

View = Callable[..., HttpResponse]


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """Something done from a page, and the roles that may do it."""

    do: View
    by: Collection[str]


class Page:
    """A view for everybody who signed in: GET shows it, POST does the act that the pressed button names.

    An act raises what is wrong; `request.show_again` then shows the page with it, so that pages need not know
    how an error becomes HTTP.

        @Page
        def crew_board(request): ...

        @crew_board.act(by=OFFICE)
        def withdraw(request): ...
    """

    def __init__(self, show: View) -> None:
        self._show = show
        self._acts: dict[str, Act] = {}
        update_wrapper(self, show)

    def act(self, *, by: Collection[str]) -> Callable[[View], View]:
        """Decorate an act; its name is the value of the button `act`."""

        def add(do: View) -> View:
            self._acts[do.__name__] = Act(do=do, by=by)
            return do

        return add

    def __call__(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        if not request.user.is_authenticated:
            return redirect_to_login(request.get_full_path())
        if request.method in ("GET", "HEAD"):
            return self._show(request, **kwargs)
        if request.method != "POST" or not self._acts:
            return HttpResponseNotAllowed(["GET", "HEAD", "POST"] if self._acts else ["GET", "HEAD"])
        act = self._acts.get(request.POST.get("act", ""))
        if act is None:
            raise BadInput(f"this page knows only: {', '.join(self._acts)}")
        if refusal := role_refusal(request.user, act.by):
            raise PermissionDenied(refusal)
        request.show_again = partial(self._show, request, **kwargs)
        _refuse_control(request.POST)
        return act.do(request, **kwargs)


def may(person: Person, roles: Collection[str]) -> bool:
    """Return whether a page offers this person what is for `roles`."""
    return not role_refusal(person, roles)


def entered(request: HttpRequest, act: str) -> QueryDict | None:
    """Return what was entered for an act that was refused, so that its form shows it again."""
    return request.POST if request.method == "POST" and request.POST.get("act") == act else None


def values_of(form: forms.BaseForm) -> dict[str, Any]:
    """Return the values of a form.

    Raises:
        ValidationError: by field, everything that is wrong.
    """
    if not form.is_valid():
        raise ValidationError(form.errors.as_data())
    return form.cleaned_data


def done(request: HttpRequest, said: str, page: str, *, at: str = "", **kwargs: Any) -> HttpResponse:
    """Say what was done and lead back to a page, as it was filtered.

    Args:
        page: name of its URL, which takes `kwargs`.
        at: id of the element to go to.
    """
    messages.success(request, said)
    asked = urlsplit(request.get_full_path()).query
    address = reverse(page, kwargs=kwargs) + (f"?{asked}" if asked else "") + (f"#{at}" if at else "")
    return HttpResponseRedirect(address, status=HTTPStatus.SEE_OTHER)


def _refuse_control(values: QueryDict) -> None:
    for name, texts in values.lists():
        if any(has_control(text) for text in texts):
            raise BadInput(f"{name} holds a control character; write plain text")
