"""Who signed in and who tried to, for owners."""

from __future__ import annotations

from django.core.exceptions import PermissionDenied
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs import queries, services
from jobs.forms.account import UnlockForm
from jobs.page import Page, done, values_of
from jobs.permissions import OWNER, role_refusal
from jobs.signed_in import signed_in

SIGN_INS = "sign-ins-page"
ON_A_PAGE = 50


@Page
def sign_ins(request: HttpRequest) -> HttpResponse:
    """Every try to sign in, the newest first."""
    if refusal := role_refusal(signed_in(request), OWNER):
        raise PermissionDenied(refusal)
    named = request.GET.get("name", "")
    return render(
        request,
        "jobs/sign_ins.html",
        {
            "page": Paginator(queries.sign_ins(named), ON_A_PAGE).get_page(request.GET.get("page")),
            "name": named,
            "zone": queries.company().time_zone,
        },
    )


@sign_ins.act(by=OWNER)
def unlock(request: HttpRequest) -> HttpResponse:
    """Let a name and an address begin anew."""
    unlocked = services.unlock_sign_in(sign_in_id=values_of(UnlockForm(request.POST))["sign_in"])
    return done(request, f"{unlocked.name} can try to sign in again at once", SIGN_INS, at="unlocked")
