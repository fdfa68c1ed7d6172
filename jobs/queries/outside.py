"""Named reads of what leaves the office: links of calendars, webhooks and their calls."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Count, Q

from jobs.calc.notice import SAID, EventKind
from jobs.errors import NotFound
from jobs.models import CalendarLink, Webhook, WebhookTry

LAST = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class WebhookState:
    """A webhook, and how its calls went.

    Args:
        kinds: what it is called with, in words.
        last: its last calls, the newest first.
    """

    webhook: Webhook
    kinds: str
    taken_count: int
    waiting_count: int
    given_up_count: int
    last: list[WebhookTry]


def calendar_links() -> list[CalendarLink]:
    """Return the links that lead somewhere, the newest first. One query."""
    return list(CalendarLink.objects.followed().select_related("crew", "job", "made_by").order_by("-pk"))


def calendar_link_of(link_id: int) -> CalendarLink:
    """Return a link that leads somewhere. One query.

    Raises:
        NotFound: there is none.
    """
    link = CalendarLink.objects.followed().select_related("crew", "job").filter(pk=link_id).first()
    if link is None:
        raise NotFound("this link is revoked already, or there never was one")
    return link


def webhook_of(webhook_id: int) -> Webhook:
    """Return a webhook. One query.

    Raises:
        NotFound: there is none.
    """
    webhook = Webhook.objects.filter(pk=webhook_id).first()
    if webhook is None:
        raise NotFound(f"there is no webhook {webhook_id}")
    return webhook


def webhook_states() -> list[WebhookState]:
    """Return every webhook with how its calls went. A query, and two for each webhook."""
    return [_state(webhook) for webhook in Webhook.objects.select_related("added_by").order_by("name")]


def _state(webhook: Webhook) -> WebhookState:
    counts = webhook.tries.aggregate(
        taken=Count("pk", filter=Q(sent_at__isnull=False)), given_up=Count("pk", filter=Q(gave_up_at__isnull=False)),
        all=Count("pk"),
    )  # fmt: skip
    return WebhookState(
        webhook=webhook,
        kinds=", ".join(SAID[EventKind(kind)] for kind in webhook.kinds) or "everything",
        taken_count=counts["taken"],
        waiting_count=counts["all"] - counts["taken"] - counts["given_up"],
        given_up_count=counts["given_up"],
        last=list(webhook.tries.select_related("event").order_by("-pk")[:LAST]),
    )
