"""What leaves the office to calendars and programs elsewhere."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from jobs import queries, services
from jobs.answer import Question
from jobs.calc.say import counted
from jobs.errors import BadInput
from jobs.forms import CalendarLinkForm, WebhookForm
from jobs.models import CalendarLink, Webhook
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import OFFICE, role_refusal
from jobs.public import public_address
from jobs.signed_in import signed_in

INTEGRATIONS = "integrations-page"


@Page
def integrations(request: HttpRequest) -> HttpResponse:
    """Links of calendars and webhooks, with how the calls went. For the office alone: an address can be a secret."""
    if not may(signed_in(request), OFFICE):
        why = role_refusal(signed_in(request), OFFICE)
        return render(request, "jobs/integrations.html", {"refused": why})
    return render(
        request,
        "jobs/integrations.html",
        {
            "links": queries.calendar_links(),
            "link_form": CalendarLinkForm(entered(request, "make_link")),
            "webhooks": queries.webhook_states(),
            "webhook_form": WebhookForm(entered(request, "add_webhook")),
            "zone": queries.office_zone(),
        },
    )


@integrations.act(by=OFFICE)
def make_link(request: HttpRequest) -> HttpResponse:
    """Make a link, and show it this once."""
    made = services.make_calendar_link(**values_of(CalendarLinkForm(request.POST)), by=signed_in(request))
    address = public_address(request, reverse("calendar-feed", args=[made.token]))
    said = f"Copy the link to {made.link} now; it is shown this once: {address}"
    return done(request, said, INTEGRATIONS, at="links")


def what_is_revoked(request: HttpRequest) -> Question:
    """Ask whether a link is to lead nowhere."""
    link = _link(request)
    return Question(
        asks=f"Revoke the calendar link to {link}?",
        follows="Calendars that read it are told nothing new from then on. The link does not come back.",
        yes="Revoke it",
    )


@integrations.act(by=OFFICE, asks=what_is_revoked)
def revoke_link(request: HttpRequest) -> HttpResponse:
    """Let a link lead nowhere."""
    link = services.revoke_calendar_link(link_id=_link(request).pk)
    return done(request, f"The calendar link to {link} is revoked", INTEGRATIONS, at="links")


@integrations.act(by=OFFICE)
def add_webhook(request: HttpRequest) -> HttpResponse:
    """Add a program that is called, and show its secret this once."""
    webhook = services.add_webhook(**values_of(WebhookForm(request.POST)), by=signed_in(request))
    return done(request, _secret_said(webhook), INTEGRATIONS, at="webhooks")


def what_is_signed_anew(request: HttpRequest) -> Question:
    """Ask whether the secret of a webhook is to be another."""
    webhook = _webhook(request)
    return Question(
        asks=f"Give {webhook} another secret?",
        follows="What is sent from then on is signed with it; until it is entered there too, calls may be refused.",
        yes="Draw another secret",
    )


@integrations.act(by=OFFICE, asks=what_is_signed_anew)
def draw_secret(request: HttpRequest) -> HttpResponse:
    """Give a webhook another secret, and show it this once."""
    webhook = services.draw_secret(webhook_id=_webhook(request).pk)
    return done(request, _secret_said(webhook), INTEGRATIONS, at="webhooks")


def what_is_stopped(request: HttpRequest) -> Question | None:
    """Ask where calls wait that would be given up."""
    webhook = _webhook(request)
    waiting = webhook.tries.under_way().count()
    if not waiting:
        return None
    return Question(
        asks=f"Stop calling {webhook}?",
        follows=f"{counted(waiting, 'call').capitalize()} that it has not taken yet will never be made.",
        yes="Stop it",
    )


@integrations.act(by=OFFICE, asks=what_is_stopped)
def stop_webhook(request: HttpRequest) -> HttpResponse:
    """Call a program no more."""
    webhook = services.stop_webhook(webhook_id=_webhook(request).pk)
    return done(request, f"{webhook} is called no more", INTEGRATIONS, at="webhooks")


@integrations.act(by=OFFICE)
def resume_webhook(request: HttpRequest) -> HttpResponse:
    """Call a program again."""
    webhook = services.resume_webhook(webhook_id=_webhook(request).pk)
    return done(request, f"{webhook} is called again, with what happens from now on", INTEGRATIONS, at="webhooks")


def _secret_said(webhook: Webhook) -> str:
    return f"Copy the secret of {webhook} now; it is shown this once: {webhook.secret}"


def _link(request: HttpRequest) -> CalendarLink:
    return queries.calendar_link_of(_id_in(request, "link"))


def _webhook(request: HttpRequest) -> Webhook:
    return queries.webhook_of(_id_in(request, "webhook"))


def _id_in(request: HttpRequest, name: str) -> int:
    sent = request.POST.get(name, "")
    if not (sent.isascii() and sent.isdecimal() and len(sent) < 19):
        raise BadInput.of(name, sent, f"choose the {name} on the page")
    return int(sent)
