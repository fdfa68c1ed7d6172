"""Programs elsewhere: adding one, and calling it with what happened."""

from __future__ import annotations

import json
import secrets
from collections.abc import Collection
from datetime import datetime, timedelta
from typing import Any, TypedDict, Unpack

from django.conf import settings
from django.utils import timezone

from jobs import transaction
from jobs.about import about
from jobs.calc.again import PAUSES, pause_after
from jobs.calc.notice import EventKind
from jobs.calc.signature import signature
from jobs.calling import NotCalled, call, refusal_of
from jobs.changed import written
from jobs.errors import BadInput, Conflict, NotFound
from jobs.models import Event, Person, Webhook, WebhookTry
from jobs.services.row import add, change

AT_A_TIME = 20
"""So many calls are made in one go (our choice: each may take ten seconds, a task five minutes)."""

LEASE = timedelta(minutes=10)
"""So long nobody else makes a call that is being made (our choice: longer than a task may take)."""

TAKEN = range(200, 300)
"""The statuses by which a program says that it has taken what was sent (RFC 9110 section 15.3)."""


class WebhookChange(TypedDict, total=False):
    """What of a webhook changes."""

    name: str
    address: str
    kinds: list[str]


@transaction.atomic
def add_webhook(*, name: str, address: str, kinds: Collection[EventKind], by: Person) -> Webhook:
    """Add a program that is called with events of these kinds, of all for none. Its secret is drawn here.

    Raises:
        BadInput: the address is never called.
        ValidationError: another is called like that, or a value is not kept.
    """
    _require_callable(address)
    return add(Webhook(name=name, address=address, kinds=sorted(set(kinds)), added_by=by, secret=_drawn()))


@transaction.atomic
def change_webhook(*, webhook_id: int, **values: Unpack[WebhookChange]) -> Webhook:
    """Change how a program is called, where or with what.

    Raises:
        NotFound: there is no such webhook.
        BadInput, ValidationError: as `add_webhook`.
    """
    webhook = _lock(webhook_id)
    if "address" in values:
        _require_callable(values["address"])
    return change(webhook, **values)


@transaction.atomic
def draw_secret(*, webhook_id: int) -> Webhook:
    """Give a webhook another secret; what is sent from now on is signed with it.

    Raises:
        NotFound: there is no such webhook.
    """
    return change(_lock(webhook_id), secret=_drawn())


@transaction.atomic
def stop_webhook(*, webhook_id: int) -> Webhook:
    """Call a program no more. What it was not called with yet is given up.

    Raises:
        NotFound: there is no such webhook.
        Conflict: it is stopped already.
    """
    webhook, now = _lock(webhook_id), timezone.now()
    if webhook.is_stopped:
        raise Conflict(f"{webhook} is stopped already", about=[about(webhook)])
    webhook.tries.under_way().update(gave_up_at=now, failure="the webhook was stopped")
    return change(webhook, stopped_at=now)


@transaction.atomic
def resume_webhook(*, webhook_id: int) -> Webhook:
    """Call a program again, with what happens from now on.

    Raises:
        NotFound: there is no such webhook.
        Conflict: it is not stopped.
    """
    webhook = _lock(webhook_id)
    if not webhook.is_stopped:
        raise Conflict(f"{webhook} is not stopped", about=[about(webhook)])
    return change(webhook, stopped_at=None)


def call_webhooks(*, now: datetime) -> int:
    """Call the programs with what is due, and return how many calls were taken. Safe to repeat.

    One that does not answer is called no more in this go, so that it keeps nobody else waiting.
    """
    taken, silent = 0, set[int]()
    for one in _take(now):
        if one.webhook_id in silent:
            _put_off(one, now, "it did not answer another call")
        elif _call(one, now):
            taken += 1
        else:
            silent.add(one.webhook_id)
    return taken


@transaction.atomic
def _take(now: datetime) -> list[WebhookTry]:
    """Return calls that are due, kept from others for as long as making them may take."""
    due = WebhookTry.objects.under_way().select_for_update(of=("self",), skip_locked=True).filter(try_at__lte=now)
    tries = list(due.select_related("webhook", "event__job", "event__crew").order_by("try_at", "pk")[:AT_A_TIME])
    for one in tries:
        one.tries, one.try_at = one.tries + 1, now + LEASE
    WebhookTry.objects.bulk_update(tries, ["tries", "try_at"])
    return tries


def _call(one: WebhookTry, now: datetime) -> bool:
    """Make one call, and return whether it was taken."""
    body, at = json.dumps(as_sent(one.event)).encode(), int(timezone.now().timestamp())
    headers = {
        "Content-Type": "application/json",
        "User-Agent": "Weatherlap",
        "Weatherlap-Event": str(one.event_id),
        "Weatherlap-Timestamp": str(at),
        "Weatherlap-Signature": f"sha256={signature(one.webhook.secret, sent_at=at, body=body)}",
    }
    one.tried_at = now
    try:
        one.status = call(
            one.webhook.address, body=body, headers=headers, may_be_private=settings.WEBHOOKS_MAY_BE_PRIVATE
        )
    except NotCalled as error:
        one.status, failure = None, str(error)
    else:
        failure = "" if one.status in TAKEN else f"it answered with status {one.status}"
    if failure:
        _put_off(one, now, failure)
        return False
    one.sent_at, one.failure = now, ""
    one.save(update_fields=["tried_at", "status", "sent_at", "failure"])
    return True


def _put_off(one: WebhookTry, now: datetime, failure: str) -> None:
    one.failure = failure[:300]
    if one.tries > len(PAUSES):
        one.gave_up_at = now
    else:
        one.try_at = now + pause_after(one.tries)
    one.save(update_fields=["tried_at", "status", "failure", "try_at", "gave_up_at"])


def as_sent(event: Event) -> dict[str, Any]:
    """Return an event as programs elsewhere read it. No query where its job and crew are joined."""
    job, crew = event.job, event.crew
    return {
        "id": event.pk,
        "kind": event.kind,
        "told_at": written(event.told_at),
        "said": event.said,
        "job": {"id": job.pk, "code": job.code, "name": job.name} if job else None,
        "crew": {"id": crew.pk, "name": crew.name} if crew else None,
        "on": event.on.isoformat() if event.on else None,
        "about": event.about,
    }


def _drawn() -> str:
    return secrets.token_hex(32)


def _require_callable(address: str) -> None:
    if why := refusal_of(address, may_be_private=settings.WEBHOOKS_MAY_BE_PRIVATE):
        raise BadInput.of("address", address, why)


def _lock(webhook_id: int) -> Webhook:
    webhook = Webhook.objects.select_for_update().filter(pk=webhook_id).first()
    if webhook is None:
        raise NotFound(f"there is no webhook {webhook_id}")
    return webhook
