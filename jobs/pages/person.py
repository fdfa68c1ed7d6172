"""Who signs in: everybody, one person, and the page on which somebody invited sets a password."""

from __future__ import annotations

from django.contrib.auth import login
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters

from jobs import queries, services
from jobs.answer import Question
from jobs.calc import say
from jobs.forms.person import PersonForm, WelcomeForm, values_now
from jobs.models import Invitation, Person
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import OFFICE
from jobs.signed_in import signed_in

PERSON = "person-page"


@Page
def people(request: HttpRequest) -> HttpResponse:
    """Everybody who signs in, and the form that invites one more."""
    by = signed_in(request)
    return render(
        request,
        "jobs/people.html",
        {
            "people": queries.people(),
            "form": PersonForm(entered(request, "invite"), by=by),
            "is_office": may(by, OFFICE),
        },
    )


@people.act(by=OFFICE)
def invite(request: HttpRequest) -> HttpResponse:
    """Add somebody, and lead to the link by which they set their password."""
    by = signed_in(request)
    person = services.invite_person(by=by, **values_of(PersonForm(request.POST, by=by)))
    return _said_of_link(request, f"{person} is invited", person.invitations.open().get())


@Page
def person(request: HttpRequest, person_id: int) -> HttpResponse:
    """One person, with the link by which they set a password as long as it can be used."""
    by, shown = signed_in(request), queries.person_of(person_id)
    may_change = may(by, OFFICE) and shown.may_be_changed_by(by)
    invitation = shown.usable_invitation
    return render(
        request,
        "jobs/person.html",
        {
            "person": shown,
            "form": PersonForm(entered(request, "change"), by=by, initial=values_now(shown)),
            "may_change": may_change,
            "is_self": shown.pk == by.pk,
            "until": say.day(invitation.expires_at.date()) if invitation else "",
            "link": _link(request, invitation) if invitation and may_change else "",
        },
    )


@person.act(by=OFFICE)
def change(request: HttpRequest, person_id: int) -> HttpResponse:
    """Change names, address, role and crew."""
    by = signed_in(request)
    changed = services.change_person(person_id=person_id, by=by, **values_of(PersonForm(request.POST, by=by)))
    return done(request, f"{changed} is saved", PERSON, at="change", person_id=person_id)


@person.act(by=OFFICE)
def send_link(request: HttpRequest, person_id: int) -> HttpResponse:
    """Make a new link by which this person sets a password."""
    invitation = services.renew_invitation(person_id=person_id, by=signed_in(request))
    return _said_of_link(request, "There is a new link", invitation)


@person.act(by=OFFICE)
def take_back(request: HttpRequest, person_id: int) -> HttpResponse:
    """End the link."""
    if invitation := queries.person_of(person_id).usable_invitation:
        services.take_back_invitation(invitation_id=invitation.pk, by=signed_in(request))
    return done(request, "The link can be used no more", PERSON, at="link", person_id=person_id)


def what_ends(request: HttpRequest, person_id: int) -> Question:
    """Ask about everything that somebody is signed in with."""
    somebody = services.deactivating(person_id=person_id, by=signed_in(request))
    return Question(
        asks=f"Deactivate {somebody}?",
        follows=f"{somebody} is signed out everywhere at once, and tokens and links end for good. What {somebody} "
        "recorded stays. The account can be reactivated.",
        yes="Deactivate",
        no="Keep it active",
    )


@person.act(by=OFFICE, asks=what_ends)
def deactivate(request: HttpRequest, person_id: int) -> HttpResponse:
    """Let somebody sign in no more."""
    ended = services.deactivate_person(person_id=person_id, by=signed_in(request))
    return done(request, f"{ended} is deactivated and signed out everywhere", PERSON, at="active", person_id=person_id)


@person.act(by=OFFICE)
def reactivate(request: HttpRequest, person_id: int) -> HttpResponse:
    """Let somebody sign in again."""
    back = services.reactivate_person(person_id=person_id, by=signed_in(request))
    return done(request, f"{back} can sign in again", PERSON, at="active", person_id=person_id)


@never_cache
@sensitive_post_parameters("password", "again")
def welcome(request: HttpRequest, token: str) -> HttpResponse:
    """Let whoever was invited set a password, and sign them in with it."""
    invited: Person = queries.invitation_by(token).person
    form = WelcomeForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            somebody = services.accept_invitation(token=token, password=form.cleaned_data["password"])
        except ValidationError as error:
            form.add_error("password", error)
        else:
            login(request, somebody)
            return redirect("home")
    return render(request, "jobs/welcome.html", {"form": form, "person": invited}, status=400 if form.errors else 200)


def _link(request: HttpRequest, invitation: Invitation) -> str:
    return request.build_absolute_uri(reverse("welcome-page", args=[invitation.token]))


def _said_of_link(request: HttpRequest, said: str, invitation: Invitation) -> HttpResponse:
    somebody = invitation.person
    is_mailed = services.mail_invitation(invitation_id=invitation.pk, link=_link(request, invitation))
    where = f"the link is mailed to {somebody.email} and shown below" if is_mailed else "send them the link below"
    return done(request, f"{said}; {where}", PERSON, at="link", person_id=somebody.pk)
