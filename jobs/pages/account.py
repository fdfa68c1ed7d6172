"""One's own account: password, tokens, and where one is signed in."""

from __future__ import annotations

from typing import Any

from django.contrib.auth import authenticate, update_session_auth_hash
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs import queries, services
from jobs.answer import Question
from jobs.errors import BadInput
from jobs.forms.account import PasswordForm, RevokeForm, SignOutForm, TokenForm
from jobs.page import Page, done, entered, values_of
from jobs.permissions import ANYONE
from jobs.signed_in import signed_in

ACCOUNT = "account-page"


@Page
def account(request: HttpRequest) -> HttpResponse:
    """What one can change of one's own account."""
    person = signed_in(request)
    return render(
        request,
        "jobs/account.html",
        {
            "person": person,
            "tokens": queries.tokens_of(person),
            "password_form": PasswordForm(entered(request, "set_password")),
            "sign_out_form": SignOutForm(entered(request, "sign_out_everywhere"), auto_id="out_%s"),
            "token_form": TokenForm(entered(request, "make_token")),
            "zone": queries.company().time_zone,
        },
    )


@account.act(by=ANYONE)
def set_password(request: HttpRequest) -> HttpResponse:
    """Set a new password; one stays signed in here, and nowhere else."""
    asked = values_of(PasswordForm(request.POST))
    person = signed_in(request)
    _require_password(request, "old_password", asked)
    services.set_password(person=person, password=asked["new_password"])
    update_session_auth_hash(request, person)
    said = "Your password is changed. You are signed out everywhere but here, and your tokens have ended"
    return done(request, said, ACCOUNT, at="password")


@account.act(by=ANYONE)
def make_token(request: HttpRequest) -> HttpResponse:
    """Make a token, and show its secret this once."""
    asked = values_of(TokenForm(request.POST))
    _require_password(request, "password", asked)
    token, secret = services.make_token(person=signed_in(request), name=asked["name"], days=asked["days"])
    said = f"The token for {token.name} is {secret} – copy it now: it is shown only this once"
    return done(request, said, ACCOUNT, at="tokens")


def what_is_revoked(request: HttpRequest) -> Question | None:
    """Ask about the token."""
    token = services.token_to_revoke(person=signed_in(request), token_id=values_of(RevokeForm(request.POST))["token"])
    return Question(
        asks=f"Revoke the token for {token.name}, which begins with {token.begins_with}?",
        follows="The program that uses it is refused from then on, and this cannot be undone.",
        yes="Revoke it",
        no="Keep it",
    )


@account.act(by=ANYONE, asks=what_is_revoked)
def revoke(request: HttpRequest) -> HttpResponse:
    """End a token of one's own."""
    token = services.revoke_token(person=signed_in(request), token_id=values_of(RevokeForm(request.POST))["token"])
    return done(request, f"The token for {token.name} has ended", ACCOUNT, at="tokens")


@account.act(by=ANYONE)
def sign_out_everywhere(request: HttpRequest) -> HttpResponse:
    """End every other session and every token of one's own."""
    person = signed_in(request)
    _require_password(request, "password", values_of(SignOutForm(request.POST)))
    services.sign_out_everywhere(person=person)
    update_session_auth_hash(request, person)
    said = "You are signed out everywhere but here, and your tokens have ended"
    return done(request, said, ACCOUNT, at="everywhere")


def _require_password(request: HttpRequest, field: str, asked: dict[str, Any]) -> None:
    """Return if the password is that of the one who asks: who only found a screen open has it not.

    Raises:
        BadInput: it is not.
    """
    person = signed_in(request)
    if authenticate(request, username=person.username, password=asked[field]) != person:
        raise BadInput.of(field, "", "this is not your password")
